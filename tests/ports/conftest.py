"""Every store, each empty: in memory, in a SQLite file, and in a PostgreSQL cluster that lives as long as the tests."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from etchbook.store import MemoryStore, SqlStore, new_book
from etchbook.trials.records import Book
from etchbook.usecases.keeping.ports import BookStore

ABSENT = "PostgreSQL's programs are not on this machine (apt-get install postgresql)"
_NUMBERS = count(1)


def postgres_programs() -> Path | None:
    """The folder of initdb and pg_ctl, on the path or where Debian keeps them."""
    found = [shutil.which("initdb"), *sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), reverse=True)]
    here = [Path(one).parent for one in found if one]
    return next((folder for folder in here if (folder / "pg_ctl").exists()), None)


def _as_server(*words: str) -> None:
    """Run one of PostgreSQL's programs; it refuses to run as root, so root hands it to a lesser user."""
    command = ["runuser", "-u", "postgres", "--", *words] if os.geteuid() == 0 else list(words)
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120, cwd="/")
    assert done.returncode == 0, done.stderr


@pytest.fixture(scope="session")
def cluster() -> Iterator[str]:
    """The address of a PostgreSQL server that only this test run can reach, without the database's name."""
    programs = postgres_programs()
    if programs is None:
        pytest.skip(ABSENT)
    root = Path(tempfile.mkdtemp(prefix="etchbook-pg-", dir="/tmp"))
    if os.geteuid() == 0:
        shutil.chown(root, "postgres")
    data, calls = root / "data", f"-c listen_addresses='' -c unix_socket_directories={root} -c fsync=off"
    try:
        _as_server(
            str(programs / "initdb"), "-D", str(data), "-A", "trust", "-U", "postgres", "-E", "UTF8", "--no-sync"
        )
        # A locale of people, not of machines: codes must be ordered byte by byte all the same.
        _as_server(str(programs / "pg_ctl"), "-D", str(data), "-l", str(root / "log"), "-w", "-o", calls, "start")
        try:
            yield f"postgresql://postgres@/{{name}}?host={root}"
        finally:
            _as_server(str(programs / "pg_ctl"), "-D", str(data), "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(root, ignore_errors=True)


@pytest.fixture
def database(cluster: str) -> str:
    """The address of an empty database."""
    import psycopg

    name = f"book_{next(_NUMBERS)}"
    with psycopg.connect(cluster.format(name="postgres"), autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}")  # type: ignore[call-overload]
    return cluster.format(name=name)


@pytest.fixture(params=["memory", "sqlite", "postgresql"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[BookStore]:
    """An empty book of each kind."""
    book = Book(id="b1", name="Bay")
    made: MemoryStore | SqlStore
    if request.param == "memory":
        made = MemoryStore(book)
    elif request.param == "sqlite":
        made = new_book(tmp_path / "book", book)
    else:
        made = new_book(tmp_path / "book", book, request.getfixturevalue("database"))
    yield made
    made.close()
