"""A book as a folder: ``etchbook.toml`` that says what it is, the database, the originals."""

import os
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa

from etchbook.store import schema
from etchbook.store.engines import postgres_engine, sqlite_engine, writing
from etchbook.store.sql import SqlStore
from etchbook.store.tables import book as book_table
from etchbook.store.vault import Vault
from etchbook.trials.records import Book
from etchbook.usecases.keeping.errors import BookError

MARKER = "etchbook.toml"
FORMAT = "etchbook book 1"
DATABASE = "book.sqlite"


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where a book lies: its folder and its database, a file name in it or a PostgreSQL URL without password."""

    folder: Path
    database: str
    name: str

    @property
    def on_disk(self) -> bool:
        """Whether the database is a file in the folder."""
        return "://" not in self.database

    @property
    def may_write(self) -> bool:
        """Whether the folder may be written to."""
        effective = os.access in os.supports_effective_ids
        return os.access(self.folder, os.W_OK | os.X_OK, effective_ids=effective)

    def engine(self) -> sa.Engine:
        """An engine for its database."""
        if not self.on_disk:
            return postgres_engine(self.database)
        path = self.folder / self.database
        if not path.exists():
            raise BookError(f"{self.folder} has lost its database {self.database}; restore a backup")
        return sqlite_engine(path, read_only=not self.may_write)


def is_book(folder: Path) -> bool:
    """Whether a folder is a book."""
    return (folder / MARKER).is_file()


def place_of(folder: Path) -> Place:
    """What a book's folder says of itself."""
    if not folder.is_dir():
        raise BookError(f"there is no folder {folder}; make a book with `etchbook book new {folder}`")
    if not is_book(folder):
        raise BookError(f"{folder} is no book: it has no {MARKER}; make one with `etchbook book new`")
    try:
        held = tomllib.loads((folder / MARKER).read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BookError(f"{folder / MARKER} is damaged ({error}); restore a backup") from None
    if held.get("format") != FORMAT:
        raise BookError(f"{folder} is a book of another make: its format is not {FORMAT}; update etchbook")
    return Place(folder=folder, database=str(held.get("database", DATABASE)), name=str(held.get("name", folder.name)))


def new_book(folder: Path, book: Book, database: str = "") -> SqlStore:
    """Make a book in a folder that is empty or not there yet.

    Parameters
    ----------
    database : URL of an empty PostgreSQL database; "" for a file in the folder
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        what = "is a book already" if is_book(folder) else "is not an empty folder"
        raise BookError(f"{folder} {what}; choose another place for the new book")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        place = Place(folder=folder, database=_without_password(database) or DATABASE, name=book.name)
        Vault(folder).make()
        engine = postgres_engine(database) if database else sqlite_engine(folder / DATABASE)
        with let_go(engine):
            _fill(engine, book, database)
            _mark(place)
            return SqlStore(engine, Vault(folder))
    except OSError as error:
        why = (error.strerror or "the disk refused").lower()
        raise BookError(f"no book could be made in {folder} ({why})") from None


@contextmanager
def let_go(engine: sa.Engine) -> Iterator[None]:
    """Close the engine's connections when the book cannot be opened after all."""
    try:
        yield
    except BaseException:
        engine.dispose()
        raise


def _fill(engine: sa.Engine, book: Book, database: str) -> None:
    if database and schema.state(engine):
        raise BookError("that database holds a book already; make an empty one for the new book")
    schema.upgrade(engine)
    with writing(engine) as db:
        db.execute(sa.insert(book_table).values(id=book.id, name=book.name))


def _without_password(url: str) -> str:
    if not url:
        return ""
    try:
        made = sa.make_url(url)
    except sa.exc.ArgumentError:
        raise BookError(f'"{url}" is no database address; it looks like postgresql://user@host/name') from None
    if not made.drivername.startswith("postgres"):
        raise BookError("a book of several users is kept in PostgreSQL: postgresql://user@host/name")
    if made.password is not None:
        raise BookError("leave the password out of the address; put it into PGPASSWORD or ~/.pgpass")
    return made.render_as_string()


def _mark(place: Place) -> None:
    """Write the file that makes the folder a book; it comes last, so a half-made one is none."""
    from etchbook.store.plain import toml_text

    text = toml_text({"format": FORMAT, "name": place.name, "database": place.database})
    part = place.folder / f"{MARKER}.part"
    part.write_text(text, encoding="utf-8")
    part.replace(place.folder / MARKER)


def open_book(folder: Path) -> SqlStore:
    """The book in a folder; one of an older program is refused with the command that brings it up to date."""
    place = place_of(folder)
    engine = place.engine()
    with let_go(engine):
        schema.check(engine, name=place.name)
        return SqlStore(engine, Vault(folder))


def renew(folder: Path, day: str) -> tuple[str, ...]:
    """Bring a book up to date, sweep up after stopped programs; what was done, in words.

    Parameters
    ----------
    day : goes into the name of the copy that is kept of an older book's database
    """
    place = place_of(folder)
    engine = place.engine()
    try:
        return _renewed(place, engine, day)
    finally:
        engine.dispose()


def _renewed(place: Place, engine: sa.Engine, day: str) -> tuple[str, ...]:
    done: list[str] = []
    found = schema.state(engine)
    if not place.may_write:
        schema.check(engine, name=place.name)
        return ("the folder may only be read here",)
    if found and found < schema.NEWEST:
        done.append(_upgraded(place, engine, found, day))
    schema.check(engine, name=place.name)
    schema.reckon_again(engine)
    swept = SqlStore(engine, Vault(place.folder)).sweep()
    return (*done, f"swept up {swept} left-over files") if swept else tuple(done)


def _upgraded(place: Place, engine: sa.Engine, found: str, day: str) -> str:
    copy = ""
    if place.on_disk:
        before = place.folder / f"book-before-{schema.NEWEST}-{day}.sqlite"
        if not before.exists():
            snapshot(engine, before)
        copy = f"; the old database is kept as {before.name}"
    schema.upgrade(engine)
    schema.reckon_again(engine)
    return f"brought the book from edition {found} of its tables to {schema.NEWEST}{copy}"


def snapshot(engine: sa.Engine, target: Path) -> None:
    """A SQLite database as it is at one moment, as a file of its own; writers go on meanwhile."""
    from etchbook.store.engines import told

    with told(engine):
        held = engine.raw_connection()
        try:
            cursor = held.cursor()
            cursor.execute("VACUUM INTO ?", (str(target),))
        except BaseException as error:
            target.unlink(missing_ok=True)
            if type(error).__module__ == "sqlite3":
                raise BookError(f"the copy of the database could not be written ({error})") from error
            raise
        finally:
            held.close()
