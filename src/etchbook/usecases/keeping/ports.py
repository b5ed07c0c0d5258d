"""What the book's verbs need from outside; a store fills it, and one suite of tests holds every store to it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from etchbook.trials.records import Book, Record


@dataclass(frozen=True, kw_only=True, slots=True)
class Hand:
    """Who does something, and when: ISO 8601 with the offset of the place."""

    by: str
    at: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Write:
    """One record to be kept as the next edition of its code.

    Parameters
    ----------
    record : what is kept
    expects : the edition that the writer looked at, 0 for a record that is new; another one there means a refusal
    binned : the day on which it goes into the bin, "" where it stays in the book
    by, at : who made this edition and when, where that is not the hand of the change (taken in from another book)
    """

    record: Record
    expects: int
    binned: str = ""
    by: str = ""
    at: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Original:
    """The bytes of a photograph, to be kept as they are."""

    data: bytes
    suffix: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """Everything that is written together or not at all.

    Parameters
    ----------
    words : what was done, for the history
    undoes : the number of the change that this one takes back, 0 where it takes none back
    documents : texts kept whole beside the records, by their SHA-256
    originals : photographs, by their SHA-256
    """

    hand: Hand
    words: str
    writes: Sequence[Write]
    undoes: int = 0
    documents: Mapping[str, bytes] = field(default_factory=dict)
    originals: Mapping[str, Original] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One edition of one record as the book holds it; `change` is the number of the change that wrote it."""

    kind: str
    code: str
    edition: int
    record: Record
    by: str
    at: str
    change: int
    binned: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class ChangeEntry:
    """One line of the history; `touched` are the codes that it wrote."""

    number: int
    by: str
    at: str
    words: str
    undoes: int
    touched: tuple[tuple[str, int], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Range:
    """A setting or dimension whose best estimate lies from `least` to `most` [unit of the term]; None is open."""

    name: str
    least: float | None = None
    most: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Query:
    """What is looked for.

    Parameters
    ----------
    words : each must begin a word of the entry
    ranges : all must hold for the bead that the entry belongs to
    kind : only entries of that kind, "" for any
    under : only entries below that code
    """

    words: tuple[str, ...] = ()
    ranges: tuple[Range, ...] = ()
    kind: str = ""
    under: str = ""
    limit: int = 100
    after: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Trouble:
    """Something that `verify` found: what it is and what would do."""

    what: str
    where: str
    remedy: str = ""


class BookStore(Protocol):
    """Where a book is kept. Nothing in it is ever overwritten: every write adds an edition."""

    @property
    def book(self) -> Book:
        """The book's name and mark."""
        ...

    def keep(self, change: Change) -> int:
        """Write all of a change or nothing; its number."""
        ...

    def entry(self, code: str, edition: int = 0) -> Entry | None:
        """The newest edition of a code, or the one asked for; None where there is none."""
        ...

    def editions(self, code: str) -> tuple[Entry, ...]:
        """All editions of a code, oldest first."""
        ...

    def below(self, code: str, kind: str = "") -> tuple[Entry, ...]:
        """Newest editions of everything directly below a code, by code; what is in the bin is left out."""
        ...

    def tree(self, code: str, *, binned: bool = False) -> tuple[Entry, ...]:
        """Newest editions of a code and everything below it, by code; with what is in the bin where asked."""
        ...

    def every(self, kind: str, *, limit: int = 100, after: str = "") -> tuple[Entry, ...]:
        """Newest editions of one kind by code, a page at a time; what is in the bin is left out."""
        ...

    def taken(self, parent: str) -> tuple[str, ...]:
        """Every code directly below a parent ("" for trials and certificates) that was ever used, binned or not."""
        ...

    def find(self, query: Query) -> tuple[Entry, ...]:
        """Entries that answer a query, by code; what is in the bin is left out."""
        ...

    def binned(self) -> tuple[Entry, ...]:
        """What is in the bin, newest first."""
        ...

    def changes(self, code: str = "", *, limit: int = 20, before: int = 0) -> tuple[ChangeEntry, ...]:
        """The history, newest first; of a code and what is below it where one is given."""
        ...

    def change(self, number: int) -> ChangeEntry | None:
        """One change."""
        ...

    def pictures_of(self, sha256: str) -> tuple[str, ...]:
        """Codes of the picture entries that hold these bytes or a copy made of them."""
        ...

    def document(self, sha256: str) -> bytes:
        """A document that was kept beside a record."""
        ...

    def original(self, sha256: str) -> bytes:
        """The bytes of a photograph as they came in."""
        ...

    def verify(self) -> Iterator[Trouble]:
        """Everything that is not as it was written; nothing where all is well."""
        ...

    def counts(self) -> Mapping[str, int]:
        """How many entries of each kind there are, and how many lie in the bin."""
        ...

    def close(self) -> None:
        """Let go of the book."""
        ...
