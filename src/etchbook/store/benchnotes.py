"""What a bench notes down beside its book: devices that were let in, jobs under way, drafts that met another edition.

None of it belongs to the book: a backup or an archive leaves it out, and a book without it is whole.
"""

import atexit
import contextlib
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import RLock
from typing import Any

FOLDER = "bench"
FILE = "notes.sqlite"
MOST_JOBS = 1000
MOST_DRAFTS = 200
MOST_DEVICES = 200
TABLES = """
CREATE TABLE IF NOT EXISTS jobs (number INTEGER PRIMARY KEY, id TEXT UNIQUE, owner TEXT, key TEXT, code TEXT,
  wanted TEXT, state TEXT, step TEXT, result TEXT, picture TEXT, tries INTEGER);
CREATE UNIQUE INDEX IF NOT EXISTS jobs_key ON jobs (key) WHERE key <> '';
CREATE TABLE IF NOT EXISTS devices (number INTEGER PRIMARY KEY, id TEXT UNIQUE, token TEXT UNIQUE, name TEXT,
  begun TEXT, seen TEXT, address TEXT, ended TEXT);
CREATE TABLE IF NOT EXISTS drafts (number INTEGER PRIMARY KEY, id TEXT UNIQUE, code TEXT, seen INTEGER, person TEXT,
  at TEXT, marks TEXT, scale TEXT);
"""
BOUNDS = {
    "jobs": ("state NOT IN ('waiting', 'running')", MOST_JOBS),
    "drafts": ("1", MOST_DRAFTS),
    "devices": ("ended <> ''", MOST_DEVICES),
}
"""What may be forgotten of each table once it holds more than so many rows, the oldest first."""


class BenchNotes:
    """The notes of the benches of one book; several may use them at once.

    Parameters
    ----------
    book : the book's folder; where you may not write there, the notes lie elsewhere and last as long as the bench
    """

    def __init__(self, book: Path) -> None:
        self.folder = book / FOLDER
        self._lock = RLock()
        try:
            self.folder.mkdir(mode=0o700, exist_ok=True)
            self._db = _opened(self.folder / FILE)
        except (OSError, sqlite3.OperationalError):
            self.folder = Path(tempfile.mkdtemp(prefix="etchbook-bench-"))
            atexit.register(shutil.rmtree, self.folder, ignore_errors=True)
            self._db = _connected(str(self.folder / FILE))

    def add(self, table: str, **row: Any) -> bool:
        """Write a row down; False where another row has the same name or key. The oldest beyond the bound go."""
        names, marks = ", ".join(row), ", ".join("?" * len(row))
        may_go, most = BOUNDS[table]
        oldest = f"SELECT number FROM {table} WHERE {may_go} ORDER BY number DESC LIMIT -1 OFFSET {most}"
        with self._writing() as db:
            try:
                db.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", tuple(row.values()))
            except sqlite3.IntegrityError:
                return False
            db.execute(f"DELETE FROM {table} WHERE number IN ({oldest})")
        return True

    def change(self, table: str, where: dict[str, Any], **row: Any) -> int:
        """Change the rows that hold these values; how many there were."""
        marks = ", ".join(f"{name} = ?" for name in row)
        with self._writing() as db:
            done = db.execute(f"UPDATE {table} SET {marks} WHERE {_all(where)}", (*row.values(), *where.values()))
            return done.rowcount

    def drop(self, table: str, **where: Any) -> int:
        """Forget the rows that hold these values; how many there were."""
        with self._writing() as db:
            return db.execute(f"DELETE FROM {table} WHERE {_all(where)}", tuple(where.values())).rowcount

    def rows(self, table: str, **where: Any) -> list[dict[str, Any]]:
        """The rows that hold these values, in the order in which they were written down."""
        with self._lock:
            found = self._db.execute(
                f"SELECT * FROM {table} WHERE {_all(where)} ORDER BY number", tuple(where.values())
            ).fetchall()
        return [dict(row) for row in found]

    def row(self, table: str, **where: Any) -> dict[str, Any] | None:
        """The first of these rows, None where there is none."""
        found = self.rows(table, **where)
        return found[0] if found else None

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._db.close()

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        with self._lock:
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield self._db
            except BaseException:
                self._db.execute("ROLLBACK")
                raise
            self._db.execute("COMMIT")


def _all(where: dict[str, Any]) -> str:
    return " AND ".join(f"{name} = ?" for name in where) or "1"


def _opened(path: Path) -> sqlite3.Connection:
    """The notes in a file; those that are damaged are put aside, for the book does not need them."""
    try:
        return _connected(str(path))
    except sqlite3.OperationalError:
        raise
    except sqlite3.DatabaseError:
        path.replace(path.with_name(f"{path.name}.damaged"))
        for ending in ("-wal", "-shm"):
            path.with_name(path.name + ending).unlink(missing_ok=True)
        return _connected(str(path))


def _connected(target: str) -> sqlite3.Connection:
    db = sqlite3.connect(target, timeout=10, check_same_thread=False, isolation_level=None)
    try:
        db.row_factory = sqlite3.Row
        db.execute("PRAGMA journal_mode=WAL")
        db.execute("PRAGMA synchronous=FULL")
        db.executescript(TABLES)
    except sqlite3.Error:
        with contextlib.suppress(sqlite3.Error):
            db.close()
        raise
    return db
