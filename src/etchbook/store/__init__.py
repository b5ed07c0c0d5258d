"""Outbuilding: where a book is kept, in one folder with its database and its original pictures."""

from etchbook.store.backups import backup, restore
from etchbook.store.folder import is_book, new_book, open_book, place_of, renew
from etchbook.store.memory import MemoryStore
from etchbook.store.sql import SqlStore

__all__ = ["MemoryStore", "SqlStore", "backup", "is_book", "new_book", "open_book", "place_of", "renew", "restore"]
