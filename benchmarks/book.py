"""How the book bears a hundred thousand readings: the same questions to a small book and to a large one."""

import hashlib
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from benchmarks.tables import Table, number
from etchbook.store import SqlStore, new_book, open_book
from etchbook.terms import dimensions_of
from etchbook.trials.records import Bead, Book, Dimension, Face, PictureEntry, Piece, ReadingEdition, Setting, Trial
from etchbook.usecases.keeping.ports import Change, Hand, Original, Query, Range, Write

SMALL, LARGE = 1_000, 100_000
A_BEAD = 4
"""Readings of a bead."""

BEADS = 50
"""Beads of a trial."""

HAND = Hand(by="bench", at="2026-03-14T09:30:00+01:00")
PHOTO = b"one photograph for all: its bytes are not what is measured here"
SHA = hashlib.sha256(PHOTO).hexdigest()
DOCUMENT = b"{}"
DOCUMENT_SHA = hashlib.sha256(DOCUMENT).hexdigest()
NAMES = tuple(term.id for term in dimensions_of("tee"))
REMARKS = ("windy", "primer", "new tip", "cold plate", "long stick out", "rusty", "second shift", "worn jig")
REPEATS = 25


def run_book(large: int = LARGE) -> dict[str, Any]:
    """Fill two books and ask them the same; medians of single questions in milliseconds."""
    found: dict[str, Any] = {"sizes": [SMALL, large], "questions": {}}
    with tempfile.TemporaryDirectory() as folder:
        times = []
        for count in (SMALL, large):
            place = Path(folder) / str(count)
            begun = time.perf_counter()
            fill(place, count)
            spent = time.perf_counter() - begun
            size = (place / "book.sqlite").stat().st_size / 1e6
            print(f"book: {count} readings kept in {spent:.0f} s, {size:.0f} MB", file=sys.stderr, flush=True)
            found[f"fill_{count}"] = {"seconds": spent, "megabytes": size}
            times.append(asked(place, count))
        found["questions"] = {name: [times[0][name], times[1][name]] for name in times[0]}
    return found


def book_table(found: dict[str, Any]) -> Table:
    """The questions in rows, small and large book beside each other."""
    small, large = found["sizes"]
    rows = [
        (name, number(times[0], 1), number(times[1], 1), number(times[1] / times[0], 1))
        for name, times in found["questions"].items()
    ]
    kept = [f"{count:,} readings: {found[f'fill_{count}']['megabytes']:.0f} MB" for count in (small, large)]
    slowest = max(times[1] for times in found["questions"].values())
    return Table(
        title="The book: a large one beside a small one",
        before=[
            f"SQLite in one folder, invented records: {A_BEAD} readings of {len(NAMES)} dimensions a bead, {BEADS} "
            f"beads a trial; {'; '.join(kept)}. Medians of {REPEATS} questions, each asked of another place, in "
            "milliseconds."
        ],
        head=("question", f"{small:,} readings", f"{large:,} readings", "ratio"),
        rows=rows,
        after=[
            f"The slowest question to the large book takes {slowest:.0f} ms. A question whose answer is longer in the "
            "large book (up to 100 things) takes longer for that alone."
        ],
    )


def fill(folder: Path, count: int) -> None:
    """A book with that many readings, each of all the dimensions of a tee."""
    draw = random.Random(count)
    store = new_book(folder, Book(id="bench", name="bench"))
    first = PictureEntry(code="ZZ1-01-A-1-P1", sha256=SHA, name="p", suffix=".jpg", size=len(PHOTO), width=1, height=1)
    photo = {SHA: Original(data=PHOTO, suffix=".jpg")}
    writes = [Write(record=first, expects=0)]
    store.keep(Change(hand=HAND, words="bytes", writes=writes, documents={DOCUMENT_SHA: DOCUMENT}, originals=photo))
    left = count
    trial = 0
    while left > 0:
        trial += 1
        records: list[Any] = [Trial(code=f"N{trial}", mark=f"m{trial}", question=f"Trial {trial} of the bench")]
        for bead in range(1, BEADS + 1):
            readings = min(A_BEAD, left)
            left -= readings
            records += list(_bead(draw, f"N{trial}-{bead:02d}", readings))
            if not left:
                break
        writes = [Write(record=one, expects=0) for one in records]
        store.keep(Change(hand=HAND, words=f"trial {trial}", writes=writes))
    store.close()


def _bead(draw: random.Random, code: str, readings: int) -> Iterator[Any]:
    yield Bead(
        code=code,
        settings=(
            Setting(name="volts", value=round(draw.uniform(16, 30), 1)),
            Setting(name="wire_feed", value=round(draw.uniform(3, 12), 1)),
            Setting(name="travel", value=round(draw.uniform(2, 10), 2)),
            Setting(name="remarks", origin="seen", text=draw.choice(REMARKS)),
        ),
    )
    yield Piece(code=f"{code}-A", parent=f"{code}-0", place=f"drawer {draw.randrange(400)}")
    yield Face(code=f"{code}-A-1")
    picture = f"{code}-A-1-P1"
    yield PictureEntry(code=picture, sha256=SHA, name="p.jpg", suffix=".jpg", size=len(PHOTO), width=1, height=1)
    for k in range(1, readings + 1):
        values = tuple(Dimension(name=name, value=draw.uniform(0, 10), u=0.05, unit="mm") for name in NAMES)
        yield ReadingEdition(code=f"{picture}-R{k}", document=DOCUMENT_SHA, picture=SHA, made="automatic",
                             program="bench", family="tee", dimensions=values)  # fmt: skip


def asked(folder: Path, count: int) -> dict[str, float]:
    """Median time of every question [ms]; each one is asked of another place of the book."""
    draw = random.Random(7)
    trials = max(1, count // (A_BEAD * BEADS))

    def some_bead() -> str:
        return f"N{draw.randint(1, trials)}-{draw.randint(1, BEADS):02d}"

    def opened() -> None:
        store = open_book(folder)
        assert store.entry(some_bead()) is not None
        store.close()

    opened()
    store = open_book(folder)
    low = lambda: round(draw.uniform(16, 29), 1)  # noqa: E731
    questions: dict[str, Callable[[], Any]] = {
        "open the book and one bead": opened,
        "open a reading by its code": lambda: store.entry(f"{some_bead()}-A-1-P1-R1"),
        "open a bead with all below it": lambda: store.tree(some_bead()),
        "list the beads of a trial": lambda: store.below(some_bead().partition("-")[0], "bead"),
        "list 100 readings from anywhere": lambda: store.every("reading", limit=100, after=some_bead()),
        "find a place (drawer and number)": lambda: store.find(Query(words=("drawer", str(draw.randrange(400))))),
        "find beads by volts, the first 100": lambda: _range(store, draw, low()),
        "find beads by volts, feed and a remark": lambda: store.find(
            Query(words=("worn",), kind="bead", ranges=(Range(name="volts", least=20.0, most=20.3),
                                                        Range(name="wire_feed", least=5.0, most=6.0)))
        ),
        "find readings by leg_1 within 0.01 mm": lambda: store.find(
            Query(kind="reading", ranges=(Range(name="leg_1", least=6.0, most=6.01),))
        ),
        "the last 20 changes": lambda: store.changes(limit=20),
        "save one more reading": lambda: _save(store, some_bead()),
    }  # fmt: skip
    times = {name: _median(question) for name, question in questions.items()}
    store.close()
    return times


def _range(store: SqlStore, draw: random.Random, low: float) -> Any:
    return store.find(Query(kind="bead", ranges=(Range(name="volts", least=low, most=low + 0.1),)))


_SERIAL = iter(range(100, 10**9))


def _save(store: SqlStore, bead: str) -> None:
    for record in _bead(random.Random(1), bead, 1):
        if isinstance(record, ReadingEdition):
            code = record.code.rpartition("-")[0] + f"-R{next(_SERIAL)}"
            new = ReadingEdition(code=code, document=DOCUMENT_SHA, picture=SHA, made="automatic", program="bench",
                                 family="tee", dimensions=record.dimensions)  # fmt: skip
            store.keep(Change(hand=HAND, words="one more", writes=[Write(record=new, expects=0)]))


def _median(question: Callable[[], Any]) -> float:
    times = []
    for _ in range(REPEATS):
        begun = time.perf_counter()
        question()
        times.append(1000 * (time.perf_counter() - begun))
    return statistics.median(times)
