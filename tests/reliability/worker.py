"""Writes pictures and readings into a book as fast as it can, and says aloud what the book has promised to keep.

Started by the tests as a program of its own. It forks a child for every round, so that a round begins at once; the
child is stopped at a random moment with SIGKILL and cannot tidy up.
"""

import hashlib
import os
import random
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from etchbook.store import SqlStore, new_book, open_book
from etchbook.trials.records import Book, Dimension, PictureEntry, ReadingEdition
from etchbook.usecases.keeping.ports import Change, Hand, Original, Write

FACE = "N1-01-A-1"
HAND = Hand(by="worker", at="2026-03-14T09:30:00+01:00")


def write_for_ever(folder: Path, seed: int, said: int) -> None:
    """Add pictures, each with a reading in two editions; every promise is told through the file descriptor `said`."""
    draw = random.Random(seed)
    store = open_book(folder)
    number = 1 + len(store.taken(FACE))
    while True:
        _one_picture(store, draw, number, lambda line: os.write(said, line.encode()))
        number += 1


def _one_picture(store: SqlStore, draw: random.Random, number: int, tell: Callable[[str], object]) -> None:
    data = draw.randbytes(draw.randrange(1_000, 100_000))
    sha256 = hashlib.sha256(data).hexdigest()
    code = f"{FACE}-P{number}"
    picture = PictureEntry(code=code, sha256=sha256, name="p.jpg", suffix=".jpg", size=len(data), width=1, height=1)
    store.keep(
        Change(hand=HAND, words=f"picture {code}", writes=[Write(record=picture, expects=0)],
               originals={sha256: Original(data=data, suffix=".jpg")})
    )  # fmt: skip
    tell(f"{code} 1 {sha256}\n")
    for edition in (1, 2):
        document = f"{{{draw.random()}, {number}, {edition}}}".encode() * 200
        key = hashlib.sha256(document).hexdigest()
        reading = ReadingEdition(
            code=f"{code}-R1", document=key, picture=sha256, made="automatic", program="worker", family="tee",
            dimensions=(Dimension(name="leg_1", value=float(number), u=0.1, unit="mm"),),
        )  # fmt: skip
        write = Write(record=reading, expects=edition - 1)
        store.keep(Change(hand=HAND, words=f"read {code}", writes=[write], documents={key: document}))
        tell(f"{code}-R1 {edition} {key}\n")


def one_round(folder: Path, seed: int, seconds: float) -> bytes:
    """Let a child write and stop it after that time; what it had been promised, one line a promise."""
    ear, mouth = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(ear)
        try:
            write_for_ever(folder, seed, mouth)
        finally:
            os._exit(3)
    os.close(mouth)
    time.sleep(seconds)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(ear, "rb") as heard:
        told = heard.read()
    if not os.WIFSIGNALED(status):
        raise SystemExit(f"the writer ended by itself with {os.waitstatus_to_exitcode(status)}")
    return told[: told.rfind(b"\n") + 1]


def main() -> None:
    """One round for each line ``folder<TAB>seed<TAB>seconds``; a line ``done`` behind its promises."""
    with TemporaryDirectory() as spare:  # what is loaded at first use is loaded before the first fork
        new_book(Path(spare) / "book", Book(id="s", name="S")).close()
        _one_picture(open_book(Path(spare) / "book"), random.Random(0), 1, lambda _: None)
    for line in sys.stdin:
        folder, seed, seconds = line.rstrip("\n").split("\t")
        sys.stdout.buffer.write(one_round(Path(folder), int(seed), float(seconds)) + b"done\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
