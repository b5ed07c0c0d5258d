"""A book that lives only as long as the program: for tests and for trying things out."""

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping

from etchbook.store.rows import kind_of
from etchbook.trials import family_of_codes, parent_code
from etchbook.trials.codes import bead_code
from etchbook.trials.records import Book, PictureEntry, ReadingEdition
from etchbook.usecases.keeping.errors import BookError, ChangedMeanwhileError
from etchbook.usecases.keeping.index import folded, numbers_of, words_of
from etchbook.usecases.keeping.ports import Change, ChangeEntry, Entry, Original, Query, Range, Trouble, Write


class MemoryStore:
    """A book in memory; see `etchbook.usecases.keeping.ports.BookStore` for what each verb does."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._editions: dict[str, list[Entry]] = {}
        self._changes: list[ChangeEntry] = []
        self._documents: dict[str, bytes] = {}
        self._originals: dict[str, Original] = {}

    @property
    def book(self) -> Book:
        """The book's name and mark."""
        return self._book

    def keep(self, change: Change) -> int:
        """Write all of a change or nothing; its number."""
        number = len(self._changes) + 1
        made: dict[str, list[Entry]] = {}
        for write in change.writes:
            code = write.record.code
            rows = made.setdefault(code, list(self._editions.get(code, [])))
            if len(rows) != write.expects:
                raise ChangedMeanwhileError(f"{code} was changed by somebody else meanwhile; look again and repeat")
            rows.append(_entry(write, change, number))
        self._editions |= made
        self._documents |= change.documents
        self._originals |= {key: held for key, held in change.originals.items() if key not in self._originals}
        touched = tuple(sorted((write.record.code, write.expects + 1) for write in change.writes))
        hand = change.hand
        self._changes.append(
            ChangeEntry(
                number=number, by=hand.by, at=hand.at, words=change.words, undoes=change.undoes, touched=touched
            )
        )
        return number

    def entry(self, code: str, edition: int = 0) -> Entry | None:
        """The newest edition of a code, or the one asked for; None where there is none."""
        rows = self._editions.get(code, [])
        if not edition:
            return rows[-1] if rows else None
        return rows[edition - 1] if 0 < edition <= len(rows) else None

    def editions(self, code: str) -> tuple[Entry, ...]:
        """All editions of a code, oldest first."""
        return tuple(self._editions.get(code, ()))

    def _heads(self, *, binned: bool = False) -> list[Entry]:
        heads = (rows[-1] for _, rows in sorted(self._editions.items()))
        return [head for head in heads if binned or not head.binned]

    def below(self, code: str, kind: str = "") -> tuple[Entry, ...]:
        """Newest editions of everything directly below a code."""
        return tuple(h for h in self._heads() if parent_code(h.code) == code and kind in ("", h.kind))

    def tree(self, code: str, *, binned: bool = False) -> tuple[Entry, ...]:
        """Newest editions of a code and everything below it."""
        return tuple(head for head in self._heads(binned=binned) if _inside(head.code, code))

    def every(self, kind: str, *, limit: int = 100, after: str = "") -> tuple[Entry, ...]:
        """Newest editions of one kind, a page at a time."""
        return tuple(head for head in self._heads() if head.kind == kind and head.code > after)[:limit]

    def taken(self, parent: str) -> tuple[str, ...]:
        """Every code directly below a parent that was ever used."""
        return tuple(code for code in self._editions if parent_code(code) == parent)

    def find(self, query: Query) -> tuple[Entry, ...]:
        """Entries that answer a query."""
        beads = [self._beads_in(one) for one in query.ranges]
        found = [head for head in self._heads() if head.code > query.after and query.kind in ("", head.kind)]
        found = [head for head in found if not query.under or _inside(head.code, query.under)]
        found = [head for head in found if all(bead_code(head.code) in group for group in beads)]
        return tuple(head for head in found if _has_words(head, query))[: query.limit]

    def _beads_in(self, one: Range) -> set[str]:
        least, most = (-1e300 if one.least is None else one.least), (1e300 if one.most is None else one.most)
        return {
            bead_code(head.code)
            for head in self._heads()
            if any(number.name == one.name and least <= number.value <= most for number in numbers_of(head.record))
        }

    def binned(self) -> tuple[Entry, ...]:
        """What is in the bin, newest first."""
        found = [head for head in self._heads(binned=True) if head.binned]
        return tuple(sorted(found, key=lambda head: (-head.change, head.code)))

    def changes(self, code: str = "", *, limit: int = 20, before: int = 0) -> tuple[ChangeEntry, ...]:
        """The history, newest first."""
        found = [change for change in reversed(self._changes) if not before or change.number < before]
        touching = [change for change in found if not code or any(_inside(one, code) for one, _ in change.touched)]
        return tuple(touching[:limit])

    def change(self, number: int) -> ChangeEntry | None:
        """One change."""
        return self._changes[number - 1] if 0 < number <= len(self._changes) else None

    def pictures_of(self, sha256: str) -> tuple[str, ...]:
        """Codes of the picture entries that hold these bytes or a copy made of them."""
        pictures = [head.record for head in self._heads() if isinstance(head.record, PictureEntry)]
        return tuple(one.code for one in pictures if sha256 in (one.sha256, one.copied_from))

    def document(self, sha256: str) -> bytes:
        """A document that was kept beside a record."""
        if sha256 not in self._documents:
            raise BookError(f"the document {sha256[:12]} is not in the book; restore a backup")
        return self._documents[sha256]

    def original(self, sha256: str) -> bytes:
        """The bytes of a photograph as they came in."""
        if sha256 not in self._originals:
            raise BookError(f"the original {sha256[:12]} is not in the book; restore a backup")
        return self._originals[sha256].data

    def verify(self) -> Iterator[Trouble]:
        """Everything that is not as it was written."""
        for sha256, original in self._originals.items():
            if hashlib.sha256(original.data).hexdigest() != sha256:
                yield Trouble(what="the picture's file is damaged", where=sha256)
        for rows in self._editions.values():
            for entry in rows:
                record = entry.record
                where = f"{entry.code} edition {entry.edition}"
                if isinstance(record, PictureEntry) and record.sha256 not in self._originals:
                    yield Trouble(what="the book holds no original for it", where=where)
                if isinstance(record, ReadingEdition) and record.document not in self._documents:
                    yield Trouble(what="the book holds no document for it", where=where)

    def counts(self) -> Mapping[str, int]:
        """How many entries of each kind there are, and how many lie in the bin."""
        return Counter("in the bin" if head.binned else head.kind for head in self._heads(binned=True))

    def close(self) -> None:
        """Nothing is held open."""


def _entry(write: Write, change: Change, number: int) -> Entry:
    return Entry(
        kind=kind_of(write.record),
        code=write.record.code,
        edition=write.expects + 1,
        record=write.record,
        by=write.by or change.hand.by,
        at=write.at or change.hand.at,
        change=number,
        binned=write.binned,
    )


def _inside(code: str, top: str) -> bool:
    first, last = family_of_codes(top)
    return code == top or first <= code < last


def _has_words(head: Entry, query: Query) -> bool:
    words = words_of(head.record)
    wanted = [word for text in query.words for word in folded(text)]
    return all(any(word.startswith(start) for word in words) for start in wanted)
