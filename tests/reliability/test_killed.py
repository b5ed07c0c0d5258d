"""kill -9 at random moments while pictures come in and readings are saved, 200 times."""

import random
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from etchbook.store import new_book, open_book
from etchbook.trials.records import Book, PictureEntry, ReadingEdition

HERE = Path(__file__).parent
KILLS, A_BOOK = 200, 10
Round = Callable[[Path, int, float], list[str]]


@pytest.fixture
def killed() -> Iterator[Round]:
    """One round of writing that ends with kill -9; what had been promised before it."""
    command = [sys.executable, str(HERE / "worker.py")]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=_paths()) as worker:
        assert worker.stdin is not None and worker.stdout is not None
        talk, hear = worker.stdin, worker.stdout

        def ask(folder: Path, seed: int, seconds: float) -> list[str]:
            talk.write(f"{folder}\t{seed}\t{seconds}\n")
            talk.flush()
            told = []
            for line in hear:
                if line == "done\n":
                    return told
                told.append(line.strip())
            raise AssertionError("the worker is gone")

        yield ask
        talk.close()


def _paths() -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": str(HERE.parents[1] / "src")}


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL on Windows")
def test_nothing_that_was_promised_is_lost(tmp_path: Path, killed: Round) -> None:
    draw = random.Random(4)
    promises, swept, interrupted = 0, 0, 0
    folder = tmp_path
    for number in range(KILLS):
        if number % A_BOOK == 0:
            folder = tmp_path / f"book_{number}"
            new_book(folder, Book(id="b", name="B")).close()
            kept: list[str] = []
        told = killed(folder, number, draw.uniform(0.01, 0.22))
        kept += told
        promises += len(told)
        store = open_book(folder)
        first = list(store.verify())
        assert all(one.what == "a file that no picture in the book owns" for one in first), first
        interrupted += bool(first) or any((folder / "incoming").iterdir())
        swept += store.sweep()
        assert list(store.verify()) == []
        assert list((folder / "incoming").iterdir()) == []
        for line in kept:
            code, edition, sha256 = line.split()
            entry = store.entry(code, int(edition))
            assert entry is not None, f"{code} edition {edition} was promised and is lost"
            if isinstance(entry.record, PictureEntry):
                assert entry.record.sha256 == sha256 and store.original(sha256)
            else:
                assert isinstance(entry.record, ReadingEdition) and store.document(sha256)
        store.close()
    # The kills must have hit the work itself, or the test has shown nothing.
    assert promises > KILLS and interrupted > KILLS // 20, (promises, interrupted, swept)
    print(f"{KILLS} kills: {promises} promises kept, {interrupted} interrupted half-way, {swept} files swept")
