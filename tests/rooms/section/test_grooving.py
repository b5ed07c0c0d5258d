"""A preparation laid on a butt weld that is small enough to be worked out by hand; 10 px a millimetre."""

import math

import numpy as np
import pytest

from etchbook.geometry import Line
from etchbook.joint import Groove
from etchbook.picture import NoScale, Scale
from etchbook.section.dimensions import values
from etchbook.section.grooving import prepared
from etchbook.section.shape import Shape

SCALE = Scale(px_per_mm=10.0, u=0.0, origin="given")
VEE = Groove(gap=2.0, angle=60.0, root_face=1.0)
UP = np.array([0.0, 1.0])
SLOPE = math.tan(math.radians(30))


def chain(*points: tuple[float, float]) -> np.ndarray:
    corners = np.array(points, float)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(corners, axis=0).T))])
    at = np.linspace(0, run[-1], 801)
    return np.stack([np.interp(at, run, corners[:, 0]), np.interp(at, run, corners[:, 1])], axis=1)


def butt(left: float, right: float, turn: float = 0.0, root: tuple[float, float] | None = None) -> Shape:
    """A plate of 10 mm, melted to straight upright walls at `left` and `right` [px], flush on both sides."""
    walls = chain((-left, 100), (-left, 0), (right, 0), (right, 100))
    face = chain((-left, 100), (right, 100))
    turned = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])

    def placed(points: np.ndarray) -> np.ndarray:
        return np.asarray(points @ turned.T)

    beside = np.where(walls[:, 0] < -left + 1e-6, 1, np.where(walls[:, 0] > right - 1e-6, 2, 0))
    low, high = placed(np.array([[0.0, 0.0], [0.0, 100.0]]))
    lines = {f"back_{k}": Line(x=low[0], y=low[1], heading=turn) for k in (1, 2)}
    lines |= {f"surface_{k}": Line(x=high[0], y=high[1], heading=turn + math.pi) for k in (1, 2)}
    return Shape(
        family="butt",
        face=placed(face),
        fusion=placed(walls),
        beside=beside,
        toes=placed(np.array([[-left, 100.0], [right, 100.0]])),
        root=None if root is None else placed(np.array(root)),
        lines=lines,
        outward={"1": turned @ UP, "2": turned @ UP},
        haz={},
        rims={},
        root_face=placed(chain((-left, 0), (right, 0))),
        root_u=None if root is None else 1.0,
    )


def corner(wall: float) -> float:
    """How deep the root-side corner of the melted plate lies behind the bevel, which is nearer to it than the root face
    is: the wall stands `wall` from the axis, the bevel begins 10 px above the corner and 10 px off the axis."""
    return (wall - 10.0 + 10.0 * SLOPE) * math.cos(math.radians(30))


def told(shape: Shape, groove: Groove | None = VEE, scale: Scale | NoScale = SCALE) -> dict[str, float | str]:
    return values(prepared(shape, groove, scale), "butt")


@pytest.mark.parametrize("turn", [0.0, 0.4, 2.5, math.pi])
def test_what_was_melted_of_a_v_butt_is_its_weld_less_the_groove(turn: float) -> None:
    found = told(butt(70.0, 70.0, turn))
    gap, opening = 2.0, 9.0 * SLOPE  # mm: the gap all the way up, and each bevel from 1 mm to 10 mm
    groove = gap * 10.0 + 9.0 * opening  # two triangles of 9 mm by the opening
    assert found["weld_area"] == pytest.approx(14.0 * 10.0 * 100, rel=2e-3)
    assert found["deposited_area"] == pytest.approx(groove * 100, rel=2e-3)
    assert found["fused_plate_area"] == pytest.approx((140.0 - groove) * 100, rel=2e-3)
    assert found["dilution"] == pytest.approx((140.0 - groove) / 140.0, rel=2e-3)
    assert found["penetration_1"] == pytest.approx(corner(70.0), abs=0.5)
    assert found["penetration_2"] == pytest.approx(corner(70.0), abs=0.5)


def test_a_marked_root_puts_the_groove_where_it_stood() -> None:
    found = told(butt(60.0, 80.0, root=(0.0, 0.0)))
    assert found["penetration_1"] == pytest.approx(corner(60.0), abs=0.5)
    assert found["penetration_2"] == pytest.approx(corner(80.0), abs=0.5)
    free = told(butt(60.0, 80.0))  # without it the middle is taken
    assert free["penetration_1"] == pytest.approx(corner(70.0), abs=0.5)
    assert free["deposited_area"] == pytest.approx(found["deposited_area"], rel=2e-3)


def test_the_place_that_no_section_shows_is_drawn_evenly_and_leaves_the_area_alone() -> None:
    sure = Groove(gap=2.0, angle=0.0, u_gap=0.0, u_angle=0.0)
    generator = np.random.default_rng(1)
    draws = [values(prepared(butt(70.0, 70.0), sure, SCALE, generator), "butt") for _ in range(400)]
    depth = np.array([draw["penetration_1"] for draw in draws], float)
    # The two square edges have 12 mm of room between the walls: even from 0 to 12 mm has an sd of 12 / sqrt 12.
    assert depth.mean() == pytest.approx(60.0, abs=5.0)
    assert depth.std() == pytest.approx(120.0 / math.sqrt(12), rel=0.1)
    assert np.ptp([draw["deposited_area"] for draw in draws]) < 0.1  # of 2000 px²


def test_a_single_bevel_leaves_the_other_edge_square() -> None:
    one = Groove(gap=0.0, angle=45.0, root_face=0.0, bevelled="1")
    found = told(butt(120.0, 40.0, root=(0.0, 0.0)), one)
    assert found["deposited_area"] == pytest.approx(0.5 * 10.0 * 10.0 * 100, rel=2e-3)  # a triangle of 10 by 10 mm
    assert found["penetration_2"] == pytest.approx(40.0, abs=0.5)


@pytest.mark.parametrize(
    ("groove", "scale", "words"),
    [
        (None, SCALE, "was not stated"),
        (Groove(angle=60.0, root_face=1.0), SCALE, "without the root gap"),
        (Groove(gap=2.0), SCALE, "without the groove angle"),
        (Groove(gap=2.0, angle=60.0), SCALE, "without the root face"),
        (VEE, NoScale(reason="no rule"), "no scale: no rule"),
        (Groove(gap=20.0, angle=60.0, root_face=1.0), SCALE, "wider than the weld by"),
    ],
)
def test_what_cannot_be_drawn_is_absent_and_says_why(groove: Groove | None, scale: Scale | NoScale, words: str) -> None:
    found = told(butt(70.0, 70.0), groove, scale)
    for name in ("penetration_1", "penetration_2", "deposited_area", "fused_plate_area", "dilution"):
        assert words in str(found[name])
    assert isinstance(found["weld_area"], float)
