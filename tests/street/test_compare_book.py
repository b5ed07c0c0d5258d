"""`compare` and `next-check` on beads of a book: the story of trial N2, its readings made by hand."""

import json
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "rooms" / "report"))
import example

from etchbook.quantity import Measured
from etchbook.report import reading_document
from etchbook.section import Reading
from etchbook.store import SqlStore
from etchbook.trials.records import Bead, Piece, ReadingEdition, Setting, Trial
from etchbook.trials.records import Dimension as Kept
from etchbook.usecases.book_beads import bead_of, own_scatter
from etchbook.usecases.keeping.ports import Change, Hand, Write
from etchbook.wiring.press import ReportPress
from etchbook.wiring.shelf import begin

from .conftest import Ask

HAND = Hand(by="KM", at="2026-03-09T09:00:00+00:00")
CONVEXITY = {"N2-01": 0.26, "N2-02": 0.24, "N2-03": 1.08, "N2-04": 1.17}


def setting(name: str, value: float, origin: str = "set") -> Setting:
    return Setting(name=name, value=value, origin=origin, typed=str(value))  # type: ignore[arg-type]


def read(convexity: float) -> Reading:
    base = example.reading()
    return replace(base, dimensions={**base.dimensions, "convexity": Measured(value=convexity, u=0.04, unit="mm")})


def writes(code: str, convexity: float, sha256: str) -> list[Write]:
    tall = convexity > 0.5
    settings = (
        setting("wire_feed", 8.5), setting("stick_out", 22.0 if tall else 15.0, "read"),
        setting("amps", 160.0 if tall else 188.0, "read"), setting("start_temperature", 6.5 if tall else 19.5, "read"),
    )  # fmt: skip
    edition = ReadingEdition(
        code=f"{code}-B-1-P1-R1", document=sha256, picture="0" * 64, made="automatic", program="test", family="tee",
        dimensions=(Kept(name="convexity", value=convexity, u=0.04, unit="mm"),),
    )  # fmt: skip
    records = (Bead(code=code, settings=settings), Piece(code=f"{code}-B", parent=f"{code}-0"), edition)
    return [Write(record=record, expects=0) for record in records]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    import hashlib

    folder = tmp_path / "book"
    store: SqlStore = begin(folder, "Northmoor")
    store.keep(Change(hand=HAND, words="began", writes=[Write(record=Trial(code="N2", mark="m"), expects=0)]))
    for code, convexity in CONVEXITY.items():
        document = json.dumps(reading_document(read(convexity))).encode()
        sha256 = hashlib.sha256(document).hexdigest()
        change = Change(hand=HAND, words="read", writes=writes(code, convexity, sha256), documents={sha256: document})
        store.keep(change)
    store.close()
    return folder


SIDES = ("--a", "N2-01", "--a", "n2 02", "--b", "N2-03", "--b", "N2-04")


def test_beads_of_the_book_bring_their_settings_along(ask: Ask, book: Path) -> None:
    answer = ask("compare", *SIDES, "--book", book, "--names", "bay A, bay B")
    assert answer.code == 0, answer.err
    assert "A difference is shown: +0.88" in answer.out and "Stick-out moved with it: 15 against 22" in answer.out


def test_the_next_check_of_the_story_is_the_stick_out(ask: Ask, book: Path) -> None:
    words = ("--usual", "N2-01", "--usual", "N2-02", "--odd", "N2-03", "--odd", "N2-04", "--book", book, "--json")
    told = json.loads(ask("next-check", *words).out)
    assert told["causes"][0]["id"] == "stick_out" and told["causes"][0]["chance"] > 0.65
    assert "roll the cylinder" in told["not_worth_it"]


def test_the_own_scatter_takes_beads_that_were_set_alike(book: Path) -> None:
    from etchbook.wiring.shelf import meant

    store = meant(str(book))
    try:
        assert own_scatter(store) == {}, "three degrees of freedom are fewer than are wanted"
        for number in (5, 6):
            store.keep(Change(hand=HAND, words="more", writes=writes(f"N2-{number:02d}", 0.25, "0" * 64)))
        found = own_scatter(store, leaving_out=["N2-03", "N2-04"])
        assert found == {}
        found = own_scatter(store)
        values = [*CONVEXITY.values(), 0.25, 0.25]
        mean = sum(values) / 6
        assert found["convexity"].dof == 5 and found["convexity"].source == "own book"
        assert found["convexity"].sd == pytest.approx((sum((v - mean) ** 2 for v in values) / 5) ** 0.5)
    finally:
        store.close()


def test_a_bead_without_a_reading_is_refused(ask: Ask, book: Path) -> None:
    from etchbook.wiring.shelf import meant

    store = meant(str(book))
    store.keep(Change(hand=HAND, words="new", writes=[Write(record=Bead(code="N2-09"), expects=0)]))
    store.close()
    answer = ask("compare", "--a", "N2-09", "--b", "N2-03", "--book", book)
    assert answer.code == 2 and "nothing was read on bead N2-09" in answer.err


def test_codes_and_files_are_not_mixed(ask: Ask, book: Path, tmp_path: Path) -> None:
    answer = ask("compare", "--a", "N2-01", "--b", tmp_path / "r.json", "--book", book)
    assert answer.code == 2 and "not by both" in answer.err


def test_sections_are_the_faces_of_a_bead(book: Path) -> None:
    from etchbook.wiring.shelf import meant

    store = meant(str(book))
    try:
        bead = bead_of(store, "N2-03", ReportPress().reading)
        assert len(bead.sections) == 1 and bead.order == 3 and bead.settings["stick_out"] == 22.0
    finally:
        store.close()


def test_a_plan_takes_the_own_scatter_of_a_book(ask: Ask, book: Path) -> None:
    from etchbook.wiring.shelf import meant

    words = ("plan", "new", "--question", "x", "--worth", "2", "--arms", "a,b", "--book", book)
    assert "judged" in ask(*words).out
    store = meant(str(book))
    for number in (5, 6):
        store.keep(Change(hand=HAND, words="more", writes=writes(f"N2-{number:02d}", 0.25, "0" * 64)))
    store.close()
    assert "from own book" in ask(*words).out
    listed = ask("plan", "scatter", "--book", book).out
    own = next(line for line in listed.splitlines() if line.endswith("\tconvexity"))
    # By hand: squares about the mean 0.5417 sum to 1.0251, over 5, the root 0.453; factors 0.62 and 2.45.
    assert "0.453 mm\t0.28 to 1.1\t5\town book" in own
    assert "Sreeraj et al. 2013, seen" in listed and "own book" not in ask("plan", "scatter").out
    assert "from own book" in ask("plan", "size", "--book", book).out
