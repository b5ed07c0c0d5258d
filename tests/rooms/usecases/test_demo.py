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
