"""How a database is spoken to: what a transaction is, how long to wait for another writer, what its errors mean."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError, IntegrityError

from etchbook.usecases.keeping.errors import BookError, ChangedMeanwhileError

WAIT_MS = 30_000
WRITER_LOCK = 0x45_74_63_68  # any number that no other program uses in the same database


def sqlite_engine(path: Path, *, read_only: bool = False) -> sa.Engine:
    """An engine for the database file of a book: write-ahead log, full synchronisation, patience with other writers.

    Parameters
    ----------
    read_only : the file lies where nothing may be written, and nobody else writes to it either
    """
    target = f"file:{_quoted(path)}?mode={_reading_mode(path) if read_only else 'rwc'}"

    def connect() -> sqlite3.Connection:
        held = sqlite3.connect(target, uri=True, timeout=WAIT_MS / 1000, check_same_thread=False, isolation_level=None)
        if not read_only:
            held.execute("PRAGMA journal_mode=WAL")
            held.execute("PRAGMA synchronous=FULL")
        held.execute("PRAGMA foreign_keys=ON")
        held.execute(f"PRAGMA busy_timeout={WAIT_MS}")
        return held

    engine = sa.create_engine("sqlite+pysqlite://", creator=connect, poolclass=sa.pool.QueuePool)
    sa.event.listen(engine, "begin", _begin)
    return engine


def _reading_mode(path: Path) -> str:
    """How to open where nothing may be written: what stands in a left-over log must be read as well."""
    log = path.with_name(f"{path.name}-wal")
    return "ro" if log.exists() and log.stat().st_size > 0 else "ro&immutable=1"


def _quoted(path: Path) -> str:
    from urllib.parse import quote

    return quote(str(path.resolve()))


def _begin(connection: sa.Connection) -> None:
    # Writers ask for the lock at once: a reader that becomes a writer half-way could not wait for its turn.
    writing = connection.get_execution_options().get("writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def postgres_engine(url: str) -> sa.Engine:
    """An engine for a PostgreSQL database; readers see one state of the whole book throughout a transaction."""
    made = sa.make_url(url)
    made = made.set(drivername="postgresql+psycopg") if made.drivername in ("postgresql", "postgres") else made
    try:
        return sa.create_engine(made, isolation_level="REPEATABLE READ", pool_pre_ping=True)
    except ModuleNotFoundError:
        raise BookError("PostgreSQL needs one more package: pip install 'etchbook[postgres]'") from None


@contextmanager
def reading(engine: sa.Engine) -> Iterator[sa.Connection]:
    """A transaction that only reads, from one state of the book."""
    with _told(engine), engine.connect() as connection, connection.begin():
        yield connection


@contextmanager
def writing(engine: sa.Engine, *, alone: bool = False) -> Iterator[sa.Connection]:
    """A transaction that writes all or nothing; `alone` waits until no other writer is under way."""
    with _told(engine), engine.connect() as connection:
        if engine.dialect.name == "sqlite":
            connection = connection.execution_options(writing=True)
        else:  # repeatable reads would make a writer fail whenever another one was quicker
            connection = connection.execution_options(isolation_level="READ COMMITTED")
        with connection.begin():
            if engine.dialect.name == "postgresql":
                lock = sa.func.pg_advisory_xact_lock if alone else sa.func.pg_advisory_xact_lock_shared
                connection.execute(sa.select(lock(WRITER_LOCK)))
            yield connection


@contextmanager
def _told(engine: sa.Engine) -> Iterator[None]:
    """The database's errors as sentences for a person."""
    try:
        yield
    except IntegrityError as error:
        if "append only" in str(error.orig):
            raise
        raise ChangedMeanwhileError(
            "somebody else wrote to the same place of the book; look again and repeat"
        ) from None
    except DBAPIError as error:
        raise BookError(_sentence(error, engine)) from error
    except OSError as error:
        why = (error.strerror or "the disk refused").lower()
        raise BookError(f"the book's folder could not be used ({why}); nothing was changed") from error


_MEANINGS = (
    ("disk is full", "the disk is full; nothing was written: make room, then do it again"),
    ("no space left", "the disk is full; nothing was written: make room, then do it again"),
    ("disk i/o error", "the disk refused; nothing was written: check the disk and its space, then do it again"),
    ("readonly database", "the book may only be read here; nothing was written: ask for the right to write"),
    ("database is locked", "another program holds the book for long; nothing was written: do it again in a while"),
    ("malformed", "the book's database is damaged; run `etchbook book verify`, then restore a backup"),
    ("not a database", "the book's database is damaged; run `etchbook book verify`, then restore a backup"),
    ("no such table", "the book's database is not whole; run `etchbook book verify`, then restore a backup"),
    ("unable to open", "the book's database cannot be opened; check that its folder is there and may be used by you"),
    ("connection", "the book's PostgreSQL database does not answer; check that it runs and that you may use it"),
)


def _sentence(error: DBAPIError, engine: sa.Engine) -> str:
    text = str(error.orig).lower()
    for sign, meaning in _MEANINGS:
        if sign in text:
            return meaning
    return f"the book's database ({engine.dialect.name}) refused: {str(error.orig).splitlines()[0]}"


def told(engine: sa.Engine) -> Any:
    """The same turning of errors for work that opens its own connections, such as a migration."""
    return _told(engine)
