"""The invented bay shows what its story says."""

import pytest

from etchbook.simulate import PaintedSection, paint_piece
from etchbook.usecases.demo import SCENES, THROAT


@pytest.fixture(scope="module")
def truths() -> dict[str, PaintedSection]:
    return {piece.name: paint_piece(piece, width=600, height=450) for piece in SCENES}


def of(painted: PaintedSection, name: str) -> float:
    value = painted.truth.dimensions[name]
    assert value is not None
    return value


def test_the_first_bead_is_good(truths: dict[str, PaintedSection]) -> None:
    good = truths["N1-A-01"]
    assert of(good, "nominal_throat") > THROAT and of(good, "root_penetration") > 0 and of(good, "undercut_2") == 0


def test_the_second_bead_missed_the_root_and_cut_in(truths: dict[str, PaintedSection]) -> None:
    bad = truths["N1-A-02"]
    assert of(bad, "missed_root") > 0.3 and of(bad, "undercut_2") > 0.3
    assert of(bad, "root_penetration") == 0


def test_bay_b_penetrates_less_and_stands_taller(truths: dict[str, PaintedSection]) -> None:
    a, b = truths["N2-A-01"], truths["N2-B-01"]
    for name in ("root_penetration", "penetration_1", "penetration_2"):
        assert of(b, name) < of(a, name) - 0.2
    assert of(b, "convexity") > of(a, "convexity") + 0.3


def test_the_demo_book_holds_both_trials_and_a_face_for_every_scene() -> None:
    from etchbook.simulate import NORTHMOOR
    from etchbook.store import MemoryStore
    from etchbook.trials.records import Bead, Book, Piece
    from etchbook.usecases.keeping.demo import begin, faces_of
    from etchbook.wiring.units import amount

    store = MemoryStore(Book(id="d", name="demo"))
    assert faces_of(store) == {}
    faces = begin(store, amount)
    assert faces == faces_of(store) and sorted(faces) == sorted(piece.name for piece in NORTHMOOR)
    counts = store.counts()
    assert (counts["trial"], counts["bead"], counts["coupon"], counts["piece"], counts["face"]) == (2, 7, 7, 21, 7)
    tall = store.entry(faces["N2-B-01"][:5])
    assert tall is not None and isinstance(tall.record, Bead) and tall.edition == 2
    stick_out = {one.origin: one.value for one in tall.record.settings if one.name == "stick_out"}
    assert stick_out == {"set": 15.0, "read": 22.0}
    lost = [one.code for one in store.tree("N2") if isinstance(one.record, Piece) and one.record.state == "lost"]
    assert lost == ["N2-03-A"] and list(store.verify()) == []


def test_trial_n2_is_told_to_its_end() -> None:
    import sys
    from dataclasses import replace
    from pathlib import Path

    sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
    import example

    from etchbook.quantity import Measured
    from etchbook.usecases.comparing import BeadReadings, compare
    from etchbook.usecases.demo_story import NAMES, TRUTH, story
    from etchbook.usecases.next_check import next_check

    def bead(code: str, convexity: float, order: int, **log: float | str) -> BeadReadings:
        base = example.reading()
        tall = {"convexity": Measured(value=convexity, u=0.04, unit="mm")}
        record = replace(base, dimensions={**base.dimensions, **tall})
        settings: dict[str, float | str] = {"wire_feed": 8.5, "wire_diameter": 1.0, "order": float(order), **log}
        return BeadReadings(code=code, sections=((record,),), settings=settings, order=order)

    a = [bead(f"N2-0{at}", 0.25, at, amps=188.0, stick_out=15.0, start_temperature=19.5) for at in (1, 2)]
    b = [bead(f"N2-0{at}", 1.1 + at / 100, at, amps=160.0, stick_out=22.0, start_temperature=6.5) for at in (3, 4)]
    made = compare(a, b, names=NAMES)
    lines = list(story(made, next_check(made.answers)))
    assert [line[0] for line in lines if line[1:2] == "."] == list("1234567") and lines[-1] == TRUTH
    told = "\n".join(lines)
    for words in ("Stick-out moved with it: 15 against 22", "Start temperature differs little", "likely: stick-out",
                  "Rolling the cylinder is not worth its time"):  # fmt: skip
        assert words in told
    assert "55 K above" in told  # no liquid above −50.0 °C at 18 % CO2 (research note 1b), the store has 5 °C
    assert "differences above 0.86 (3.1 times the scatter)" in told  # 3.07 × 0.28 (research note 6b)
