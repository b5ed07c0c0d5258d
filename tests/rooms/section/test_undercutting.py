"""The groove beside a toe: its wall is found on the rim, and a face is carried up it onto the plate."""

import numpy as np

from etchbook.geometry import Line, LineFit
from etchbook.section.edges import Trace
from etchbook.section.undercutting import carried_on, groove_wall

OUT = np.array([0.0, -1.0])
LINE = Line(x=0.0, y=0.0, heading=0.0)
PLATE = LineFit(line=LINE, u_shift=0.1, u_turn=0.0, rms=0.2, used=100)
BOTTOM = np.array([100.0, 20.0])


def _rim(depth: float) -> Trace:
    """From the toe at x = 100 outwards to x = 0: the groove comes up over 20 px, then the plate is level."""
    x = np.arange(100.0, 0.0, -2.0)
    points = np.stack([x, np.clip(depth * (x - 80.0) / 20.0, 0.0, None)], axis=1)
    return Trace(points=points, sd=np.ones(50), clarity=np.full(50, 5.0), blur=1.0)


def test_the_wall_ends_where_the_groove_comes_up_to_the_plate() -> None:
    wall = groove_wall(LINE, OUT, _rim(20.0), BOTTOM, size=400.0, pixel=2.0)
    assert wall is not None
    assert 78.0 <= wall[-1, 0] <= 83.0
    assert wall[0, 1] > 15.0


def test_a_level_rim_has_no_groove() -> None:
    assert groove_wall(LINE, OUT, _rim(3.0), BOTTOM, size=400.0, pixel=2.0) is None
    assert groove_wall(LINE, OUT, None, BOTTOM, size=400.0, pixel=2.0) is None


def test_a_face_is_carried_up_the_wall_and_along_the_plate() -> None:
    face = np.stack([np.linspace(100.0, 300.0, 50), np.linspace(20.0, -80.0, 50)], axis=1)
    wall = groove_wall(LINE, OUT, _rim(20.0), BOTTOM, size=400.0, pixel=2.0)
    carried = carried_on(face, [PLATE, None], 30.0, (wall, None))
    assert np.allclose(carried[-50:], face)
    assert abs(carried[0, 1]) < 1e-9
    assert carried[0, 0] < 80.0 - 25.0
    assert np.all(np.diff(carried[:, 0]) > 0)


def test_without_a_groove_it_goes_along_the_plate_at_once() -> None:
    face = np.stack([np.linspace(100.0, 300.0, 50), np.zeros(50)], axis=1)
    carried = carried_on(face, [PLATE, None], 10.0)
    assert abs(carried[0, 0] - 90.0) < 1.0
