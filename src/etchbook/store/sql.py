"""A book in a database, SQLite or PostgreSQL alike, with its originals in a folder."""

import zlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import sqlalchemy as sa

from etchbook.store import tables as t
from etchbook.store.engines import reading, writing
from etchbook.store.looking import find_codes, how_common, picture_codes, touched_by, wanted_words, within
from etchbook.store.rows import digest_of, entry_of, head_row, kind_of, number_rows, picture_rows, text_of, word_rows
from etchbook.store.vault import Staged, Vault
from etchbook.store.verifying import troubles
from etchbook.trials.records import Book
from etchbook.usecases.keeping.errors import BookError, ChangedMeanwhileError
from etchbook.usecases.keeping.ports import Change, ChangeEntry, Entry, Query, Trouble, Write

MANY = 500


class SqlStore:
    """A book in a database; see `etchbook.usecases.keeping.ports.BookStore` for what each verb does."""

    def __init__(self, engine: sa.Engine, vault: Vault) -> None:
        self.engine = engine
        self.vault = vault
        with reading(engine) as db:
            row = db.execute(sa.select(t.book)).first()
        if row is None:
            raise BookError("the book's database holds no book; restore a backup")
        self._book = Book(id=row.id, name=row.name)

    @property
    def book(self) -> Book:
        """The book's name and mark."""
        return self._book

    def keep(self, change: Change) -> int:
        """Write all of a change or nothing; its number."""
        staged = self._staged(change)
        try:
            with writing(self.engine) as db:
                number = self._written(db, change)
                _keep_documents(db, change.documents)
                self._place(db, staged)
            return number
        finally:
            for one in staged:
                self.vault.discard(one)

    def _staged(self, change: Change) -> list[Staged]:
        staged: list[Staged] = []
        try:
            for sha256, original in change.originals.items():
                staged.append(self.vault.stage(sha256, original.data, original.suffix))
        except OSError as error:
            for one in staged:
                self.vault.discard(one)
            why = (error.strerror or "the disk refused").lower()
            raise BookError(f"the picture could not be put into the book ({why}); nothing was written") from error
        return staged

    def _written(self, db: sa.Connection, change: Change) -> int:
        head = {"by": change.hand.by, "at": change.hand.at, "words": change.words, "undoes": change.undoes}
        number = int(db.execute(sa.insert(t.changes).values(head).returning(t.changes.c.number)).scalar_one())
        db.execute(sa.insert(t.editions), [_edition_row(write, change, number) for write in change.writes])
        last = {write.record.code: write for write in change.writes}
        first: dict[str, Write] = {}
        for write in change.writes:
            first.setdefault(write.record.code, write)
        _move_heads(db, first, last)
        _index(db, list(last.values()))
        return number

    def _place(self, db: sa.Connection, staged: Sequence[Staged]) -> None:
        for one in staged:
            known = db.execute(sa.select(t.originals.c.sha256).where(t.originals.c.sha256 == one.sha256)).first()
            if known is None:
                row = {"sha256": one.sha256, "suffix": one.suffix, "size": one.size}
                db.execute(sa.insert(t.originals).values(row))
            self.vault.place(one)

    def entry(self, code: str, edition: int = 0) -> Entry | None:
        """The newest edition of a code, or the one asked for; None where there is none."""
        rows = t.editions
        wish = sa.select(rows).where(rows.c.code == code)
        wish = wish.where(rows.c.edition == edition) if edition else wish.order_by(rows.c.edition.desc()).limit(1)
        with reading(self.engine) as db:
            row = db.execute(wish).first()
        return None if row is None else entry_of(row)

    def editions(self, code: str) -> tuple[Entry, ...]:
        """All editions of a code, oldest first."""
        wish = sa.select(t.editions).where(t.editions.c.code == code).order_by(t.editions.c.edition)
        with reading(self.engine) as db:
            return tuple(entry_of(row) for row in db.execute(wish))

    def below(self, code: str, kind: str = "") -> tuple[Entry, ...]:
        """Newest editions of everything directly below a code."""
        wish = _newest().where(t.heads.c.parent == code, t.heads.c.binned == "")
        return self._entries(wish.where(t.heads.c.kind == kind) if kind else wish)

    def tree(self, code: str, *, binned: bool = False) -> tuple[Entry, ...]:
        """Newest editions of a code and everything below it."""
        wish = _newest().where(within(t.heads.c.code, code))
        return self._entries(wish if binned else wish.where(t.heads.c.binned == ""))

    def every(self, kind: str, *, limit: int = 100, after: str = "") -> tuple[Entry, ...]:
        """Newest editions of one kind, a page at a time."""
        wish = _newest().where(t.heads.c.kind == kind, t.heads.c.binned == "", t.heads.c.code > after)
        return self._entries(wish.limit(limit))

    def taken(self, parent: str) -> tuple[str, ...]:
        """Every code directly below a parent that was ever used."""
        with reading(self.engine) as db:
            return tuple(db.scalars(sa.select(t.heads.c.code).where(t.heads.c.parent == parent)))

    def find(self, query: Query) -> tuple[Entry, ...]:
        """Entries that answer a query."""
        with reading(self.engine) as db:
            counts = {word: db.scalar(how_common(word)) or 0 for word in wanted_words(query)}
            codes = list(db.scalars(find_codes(query, sorted(counts, key=counts.__getitem__))))
            found = [row for part in _parts(codes) for row in db.execute(_newest().where(t.heads.c.code.in_(part)))]
        return tuple(entry_of(row) for row in found)

    def binned(self) -> tuple[Entry, ...]:
        """What is in the bin, newest first."""
        wish = _newest().where(sa.text("heads.binned <> ''")).order_by(None)
        return self._entries(wish.order_by(t.editions.c.change.desc(), t.heads.c.code))

    def changes(self, code: str = "", *, limit: int = 20, before: int = 0) -> tuple[ChangeEntry, ...]:
        """The history, newest first."""
        wish = sa.select(t.changes).order_by(t.changes.c.number.desc()).limit(limit)
        wish = wish.where(t.changes.c.number < before) if before else wish
        wish = wish.where(t.changes.c.number.in_(touched_by(code))) if code else wish
        with reading(self.engine) as db:
            return tuple(_change_entry(db, row) for row in db.execute(wish).all())

    def change(self, number: int) -> ChangeEntry | None:
        """One change."""
        with reading(self.engine) as db:
            row = db.execute(sa.select(t.changes).where(t.changes.c.number == number)).first()
            return None if row is None else _change_entry(db, row)

    def pictures_of(self, sha256: str) -> tuple[str, ...]:
        """Codes of the picture entries that hold these bytes or a copy made of them."""
        with reading(self.engine) as db:
            return tuple(db.scalars(picture_codes(sha256)))

    def document(self, sha256: str) -> bytes:
        """A document that was kept beside a record."""
        with reading(self.engine) as db:
            held = db.scalar(sa.select(t.documents.c.pressed).where(t.documents.c.sha256 == sha256))
        if held is None:
            raise BookError(f"the document {sha256[:12]} is not in the book; restore a backup")
        try:
            return zlib.decompress(held)
        except zlib.error:
            raise BookError(f"the document {sha256[:12]} is damaged; run `etchbook book verify`") from None

    def original(self, sha256: str) -> bytes:
        """The bytes of a photograph as they came in."""
        with reading(self.engine) as db:
            suffix = db.scalar(sa.select(t.originals.c.suffix).where(t.originals.c.sha256 == sha256))
        if suffix is None:
            raise BookError(f"the original {sha256[:12]} is not in the book; restore a backup")
        return self.vault.read(sha256, suffix)

    def verify(self) -> Iterator[Trouble]:
        """Everything that is not as it was written."""
        return troubles(self.engine, self.vault)

    def sweep(self) -> int:
        """Remove what a stopped program left behind; how many files that were."""
        with writing(self.engine, alone=True) as db:
            return self.vault.sweep(frozenset(db.scalars(sa.select(t.originals.c.sha256))))

    def counts(self) -> Mapping[str, int]:
        """How many entries of each kind there are, and how many lie in the bin."""
        kind = sa.case((t.heads.c.binned == "", t.heads.c.kind), else_="in the bin").label("kind")
        with reading(self.engine) as db:
            rows = db.execute(sa.select(kind, sa.func.count()).group_by(kind))
            return Counter({row[0]: row[1] for row in rows})

    def close(self) -> None:
        """Let go of the book."""
        self.engine.dispose()

    def _entries(self, wish: sa.Select[Any]) -> tuple[Entry, ...]:
        with reading(self.engine) as db:
            return tuple(entry_of(row) for row in db.execute(wish))


def _newest() -> sa.Select[Any]:
    """Newest editions by code."""
    same = sa.and_(t.editions.c.code == t.heads.c.code, t.editions.c.edition == t.heads.c.edition)
    return sa.select(t.editions).join(t.heads, same).order_by(t.heads.c.code)


def _edition_row(write: Write, change: Change, number: int) -> dict[str, Any]:
    text = text_of(write.record)
    edition = write.expects + 1
    return {
        "code": write.record.code,
        "edition": edition,
        "kind": kind_of(write.record),
        "change": number,
        "by": write.by or change.hand.by,
        "at": write.at or change.hand.at,
        "binned": write.binned,
        "body": text,
        "digest": digest_of(write.record.code, edition, write.binned, text),
    }


def _move_heads(db: sa.Connection, first: Mapping[str, Write], last: Mapping[str, Write]) -> None:
    """Point each code at its newest edition, unless somebody else was quicker."""
    new = [head_row(one.record, one.expects + 1, one.binned) for code, one in last.items() if first[code].expects == 0]
    if new:
        db.execute(sa.insert(t.heads), new)
    for code, write in last.items():
        expects = first[code].expects
        if expects == 0:
            continue
        same = sa.and_(t.heads.c.code == code, t.heads.c.edition == expects)
        row = {"edition": write.expects + 1, "binned": write.binned}
        if db.execute(sa.update(t.heads).where(same).values(row)).rowcount != 1:
            raise ChangedMeanwhileError(f"{code} was changed by somebody else meanwhile; look at it again and repeat")


def _index(db: sa.Connection, writes: Sequence[Write]) -> None:
    records = [write.record for write in writes]
    old = [write.record.code for write in writes if write.expects > 0]
    for table, rows_of in ((t.words, word_rows), (t.numbers, number_rows), (t.pictures, picture_rows)):
        for part in _parts(old):
            db.execute(sa.delete(table).where(table.c.code.in_(part)))
        rows = [row for record in records for row in rows_of(record)]
        if rows:
            db.execute(sa.insert(table), rows)


def _keep_documents(db: sa.Connection, documents: Mapping[str, bytes]) -> None:
    for sha256, data in documents.items():
        if db.execute(sa.select(t.documents.c.sha256).where(t.documents.c.sha256 == sha256)).first() is None:
            db.execute(sa.insert(t.documents).values(sha256=sha256, pressed=zlib.compress(data, 6)))


def _change_entry(db: sa.Connection, row: Any) -> ChangeEntry:
    rows = t.editions
    wish = sa.select(rows.c.code, rows.c.edition).where(rows.c.change == row.number).order_by(rows.c.code)
    touched = tuple((one.code, one.edition) for one in db.execute(wish))
    return ChangeEntry(number=row.number, by=row.by, at=row.at, words=row.words, undoes=row.undoes, touched=touched)


def _parts(codes: Sequence[str]) -> Iterator[Sequence[str]]:
    for start in range(0, len(codes), MANY):
        yield codes[start : start + MANY]
