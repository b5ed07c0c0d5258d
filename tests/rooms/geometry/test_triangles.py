"""The nominal throat of shapes whose answer is known by hand."""

import math

import numpy as np
import pytest

from etchbook.geometry import largest_isosceles_height
from etchbook.geometry.lines import Points

RIGHT = math.pi / 2


def straight(leg_1: float, leg_2: float) -> Points:
    share = np.linspace(0, 1, 201)[:, None]
    return (1 - share) * np.array([leg_1, 0.0]) + share * np.array([0.0, leg_2])


@pytest.mark.parametrize(("leg_1", "leg_2"), [(8.0, 6.0), (6.0, 8.0), (6.0, 6.0)])
def test_the_shorter_leg_decides_a_flat_fillet(leg_1: float, leg_2: float) -> None:
    assert largest_isosceles_height(straight(leg_1, leg_2), leg_1, leg_2, RIGHT) == pytest.approx(6 / math.sqrt(2))


def test_a_convex_face_adds_nothing() -> None:
    turn = np.linspace(0, RIGHT, 301)
    face = 6.0 * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    assert largest_isosceles_height(face, 6.0, 6.0, RIGHT) == pytest.approx(6 / math.sqrt(2))


def test_a_concave_face_takes_away() -> None:
    # Quarter circle of radius 10 about (10, 10): its nearest point lies 10 (sqrt 2 - 1) from the corner.
    turn = np.linspace(1.5 * math.pi, math.pi, 2001)
    face = np.array([10.0, 10.0]) + 10.0 * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    expected = 10 * (math.sqrt(2) - 1)
    assert largest_isosceles_height(face, 10.0, 10.0, RIGHT) == pytest.approx(expected, abs=1e-4)


def test_a_narrow_joint_angle() -> None:
    # Sides of 5 at 60 degrees enclose an equilateral triangle of height 5 cos 30.
    far = 5.0 * np.array([math.cos(math.pi / 3), math.sin(math.pi / 3)])
    share = np.linspace(0, 1, 101)[:, None]
    face = (1 - share) * np.array([5.0, 0.0]) + share * far
    assert largest_isosceles_height(face, 5.0, 5.0, math.pi / 3) == pytest.approx(5 * math.cos(math.pi / 6))


def test_nothing_fits_into_nothing() -> None:
    assert largest_isosceles_height(straight(0.0, 6.0), 0.0, 6.0, RIGHT) == 0.0
