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
