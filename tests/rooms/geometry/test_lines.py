"""Lines by hand."""

import math

import numpy as np
import pytest

from etchbook.geometry import Line, angle_between, crossing
from etchbook.geometry.lines import through


def test_two_plate_surfaces_cross_at_the_root() -> None:
    floor = through(np.array([0.0, 2.0]), np.array([5.0, 2.0]))
    wall = through(np.array([3.0, -1.0]), np.array([3.0, 9.0]))
    assert crossing(floor, wall) == pytest.approx([3.0, 2.0])


def test_parallel_lines_do_not_cross() -> None:
    assert crossing(Line(x=0, y=0, heading=0.3), Line(x=1, y=5, heading=0.3)) is None
    assert crossing(Line(x=0, y=0, heading=0.3), Line(x=1, y=5, heading=0.3 + math.pi)) is None


def test_along_and_across_of_a_sloping_line() -> None:
    line = through(np.array([1.0, 1.0]), np.array([4.0, 5.0]))  # a 3-4-5 triangle
    point = line.at(10.0, 2.0)
    assert point == pytest.approx([1 + 10 * 0.6 - 2 * 0.8, 1 + 10 * 0.8 + 2 * 0.6])
    assert line.along(point) == pytest.approx([10.0])
    assert line.across(point) == pytest.approx([2.0])


def test_a_line_needs_two_points() -> None:
    with pytest.raises(ValueError, match="two different points"):
        through(np.zeros(2), np.zeros(2))


@pytest.mark.parametrize(
    ("first", "second", "degrees"),
    [((1, 0), (0, 1), 90.0), ((1, 0), (-2, 0), 180.0), ((1, 0), (3, 0), 0.0), ((2, 0), (1, math.sqrt(3)), 60.0)],
)
def test_angles(first: tuple[float, float], second: tuple[float, float], degrees: float) -> None:
    assert angle_between(np.array(first), np.array(second)) == pytest.approx(degrees)
