"""What is not as it was written: damaged pages, rows, documents and pictures, each named."""

import hashlib
import zlib
from collections.abc import Iterator, Sequence
from typing import Any

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from etchbook.store import tables as t
from etchbook.store.engines import reading
from etchbook.store.rows import digest_of, entry_of, number_rows, picture_rows, word_rows
from etchbook.store.vault import Vault
from etchbook.usecases.keeping.errors import BookError
from etchbook.usecases.keeping.ports import Trouble

RESTORE = "restore a backup"
MEND = "run `etchbook book open` on its folder: it makes good and sweeps up"
WORD_ROW = ("word", "code")
NUMBER_ROW = ("code", "name", "origin", "bead", "value", "u")
PICTURE_ROW = ("code", "sha256", "copied_from")


def troubles(engine: sa.Engine, vault: Vault) -> Iterator[Trouble]:
    """Everything that is not as it was written; a part that cannot be read at all does not hide the others."""
    for look in (_pages, _references, _editions, _heads, _documents, _reckoned, _references_of_records):
        try:
            yield from look(engine)
        except BookError as error:
            part = look.__name__.strip("_").replace("_", " ")
            yield Trouble(what=f"the {part} cannot be read: {error}", where="database", remedy=RESTORE)
    try:
        yield from _originals(engine, vault)
    except BookError as error:
        yield Trouble(what=f"the list of originals cannot be read: {error}", where="database", remedy=RESTORE)


def _pages(engine: sa.Engine) -> Iterator[Trouble]:
    if engine.dialect.name != "sqlite":
        return
    with reading(engine) as db:
        try:
            rows = [str(row[0]) for row in db.exec_driver_sql("PRAGMA integrity_check(20)")]
        except DBAPIError as error:
            rows = [str(error.orig)]
    for row in rows:
        if row != "ok":
            yield Trouble(what=f"a page of the database is damaged: {' '.join(row.split())}", where="database",
                          remedy=RESTORE)  # fmt: skip


def _references(engine: sa.Engine) -> Iterator[Trouble]:
    lost = sa.select(t.editions.c.code, t.editions.c.edition).where(
        ~sa.exists().where(t.changes.c.number == t.editions.c.change)
    )
    with reading(engine) as db:
        for row in db.execute(lost):
            yield Trouble(what="the change that wrote it is missing", where=f"{row.code} edition {row.edition}")


def _editions(engine: sa.Engine) -> Iterator[Trouble]:
    rows = t.editions
    before: tuple[str, int] = ("", 0)
    with reading(engine) as db:
        for row in db.execute(sa.select(rows).order_by(rows.c.code, rows.c.edition)).yield_per(1000):
            where = f"{row.code} edition {row.edition}"
            if digest_of(row.code, row.edition, row.binned, row.body) != row.digest:
                yield Trouble(what="the record was changed behind the book's back", where=where, remedy=RESTORE)
            if row.edition != (before[1] + 1 if row.code == before[0] else 1):
                yield Trouble(what="an edition before it is missing", where=where, remedy=RESTORE)
            before = (row.code, row.edition)


def _heads(engine: sa.Engine) -> Iterator[Trouble]:
    rows, heads = t.editions, t.heads
    newest = sa.select(rows.c.code, sa.func.max(rows.c.edition).label("edition")).group_by(rows.c.code).subquery()
    astray = sa.select(newest.c.code).outerjoin(heads, heads.c.code == newest.c.code)
    astray = astray.where(sa.or_(heads.c.code.is_(None), heads.c.edition != newest.c.edition))
    lone = sa.select(heads.c.code).where(~sa.exists().where(rows.c.code == heads.c.code))
    with reading(engine) as db:
        for code in db.scalars(astray):
            yield Trouble(what="the book does not point at its newest edition", where=code, remedy=RESTORE)
        for code in db.scalars(lone):
            yield Trouble(what="the book points at it, but it has no edition", where=code, remedy=RESTORE)


def _documents(engine: sa.Engine) -> Iterator[Trouble]:
    with reading(engine) as db:
        for row in db.execute(sa.select(t.documents)).yield_per(50):
            try:
                whole = hashlib.sha256(zlib.decompress(row.pressed)).hexdigest() == row.sha256
            except zlib.error:
                whole = False
            if not whole:
                yield Trouble(what="a reading's document is damaged", where=row.sha256, remedy=RESTORE)


def _reckoned(engine: sa.Engine) -> Iterator[Trouble]:
    """Whether what is found by words and numbers is what the newest editions say."""
    same = sa.and_(t.editions.c.code == t.heads.c.code, t.editions.c.edition == t.heads.c.edition)
    wish = sa.select(t.editions).join(t.heads, same).order_by(t.heads.c.code)
    with reading(engine) as db:
        for rows in db.execute(wish).yield_per(500).partitions():
            yield from _reckoned_part(db, rows)
        for table in t.RECKONED:
            lone = sa.select(sa.func.count()).where(~sa.exists().where(t.heads.c.code == table.c.code))
            if count := db.scalar(lone.select_from(table)):
                yield Trouble(what=f"{count} rows belong to nothing in the book", where=table.name, remedy=MEND)


def _reckoned_part(db: sa.Connection, rows: Sequence[Any]) -> Iterator[Trouble]:
    wanted: dict[str, set[tuple[Any, ...]]] = {}
    for row in rows:
        try:
            record = entry_of(row).record
        except ValueError as error:
            yield Trouble(what=str(error), where=f"{row.code} edition {row.edition}", remedy=RESTORE)
            continue
        made = [*word_rows(record), *number_rows(record), *picture_rows(record)]
        wanted[row.code] = {tuple(one.values()) for one in made}
    have: dict[str, set[tuple[Any, ...]]] = {code: set() for code in wanted}
    for table, maker in ((t.words, WORD_ROW), (t.numbers, NUMBER_ROW), (t.pictures, PICTURE_ROW)):
        wish = sa.select(*(table.c[name] for name in maker)).where(table.c.code.in_(list(wanted)))
        for found in db.execute(wish):
            have[found.code].add(tuple(found))
    for code in wanted:
        if wanted[code] != have[code]:
            yield Trouble(what="it would not be found by all its words and values", where=code, remedy=MEND)


def _references_of_records(engine: sa.Engine) -> Iterator[Trouble]:
    """Whether every picture has its original and every reading its document, in all editions."""
    with reading(engine) as db:
        originals = set(db.scalars(sa.select(t.originals.c.sha256)))
        documents = set(db.scalars(sa.select(t.documents.c.sha256)))
        kinds = t.editions.c.kind.in_(("picture", "reading"))
        for row in db.execute(sa.select(t.editions).where(kinds)).yield_per(1000):
            try:
                record: Any = entry_of(row).record
            except ValueError:
                continue  # told where the records are looked at
            where = f"{row.code} edition {row.edition}"
            if row.kind == "picture" and record.sha256 not in originals:
                yield Trouble(what="the book holds no original for it", where=where, remedy=RESTORE)
            if row.kind == "reading" and record.document not in documents:
                yield Trouble(what="the book holds no document for it", where=where, remedy=RESTORE)


def _originals(engine: sa.Engine, vault: Vault) -> Iterator[Trouble]:
    with reading(engine) as db:
        rows = db.execute(sa.select(t.originals).order_by(t.originals.c.sha256)).all()
        codes: dict[str, list[str]] = {}
        for row in db.execute(sa.select(t.pictures.c.sha256, t.pictures.c.code)):
            codes.setdefault(row.sha256, []).append(row.code)
    for row in rows:
        whose = ", ".join(codes.get(row.sha256, ())) or row.sha256[:12]
        path = vault.path(row.sha256, row.suffix)
        try:
            data = path.read_bytes()
        except FileNotFoundError:
            yield Trouble(what="the picture's file is missing", where=f"{whose} ({path.name})", remedy=RESTORE)
            continue
        except OSError as error:
            yield Trouble(what=f"the picture's file cannot be read ({error.strerror})", where=f"{whose} ({path.name})")
            continue
        if len(data) != row.size or hashlib.sha256(data).hexdigest() != row.sha256:
            yield Trouble(what="the picture's file is damaged", where=f"{whose} ({path.name})", remedy=RESTORE)
    known = {row.sha256 for row in rows}
    for sha256, path in vault.lying():
        if sha256 not in known:
            where = f"originals/{path.parent.name}/{path.name}"
            yield Trouble(what="a file that no picture in the book owns", where=where, remedy=MEND)
