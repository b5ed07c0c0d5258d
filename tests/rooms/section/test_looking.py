"""Finding the weld: on the whole picture, closer, and by a search where both looks differ."""

import numpy as np
import pytest

from etchbook.picture.reduce import reduced
from etchbook.section.arcs import Arcs
from etchbook.section.looking import look, shared
from etchbook.simulate import paint_section


def box(left: float, top: float, right: float, bottom: float) -> Arcs:
    """A rectangle as a weld: its face along the top, its fusion line round the rest."""
    face = np.array([[left, top], [right, top]])
    fusion = np.array([[left, top], [left, bottom], [right, bottom], [right, top]])
    return Arcs(face=face, fusion=fusion, beside=np.array([0, 1, 1, 0]), sharpness=1.0)


@pytest.mark.parametrize(
    ("other", "share"),
    [((100, 100, 300, 200), 1.0), ((200, 100, 400, 200), 1 / 3), ((500, 100, 600, 200), 0.0)],
)
def test_share_that_two_rectangles_have_in_common(other: tuple[float, float, float, float], share: float) -> None:
    assert shared(box(100, 100, 300, 200), box(*other)) == pytest.approx(share, abs=0.02)


def test_small_bead_that_the_first_look_passes_over_is_searched_for() -> None:
    section = paint_section("bead", 300012, width=1600, height=1200, difficulty="moderate", px_per_mm=30.84)
    small, factor = reduced(section.picture)
    seen = look(section.picture, small, factor, "bead")
    assert seen is not None
    true = np.concatenate([section.truth.polylines[name] for name in ("weld_face", "fusion_line")])
    found = np.concatenate([seen.arcs.face, seen.arcs.fusion])
    assert found.mean(axis=0) == pytest.approx(true.mean(axis=0), abs=0.2 * float(np.ptp(true[:, 0])))
    assert np.ptp(found[:, 0]) == pytest.approx(np.ptp(true[:, 0]), rel=0.3)
