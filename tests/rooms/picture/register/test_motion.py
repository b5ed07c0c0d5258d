"""Motions against points moved by hand."""

import numpy as np
import pytest

from etchbook.picture.register import moved
from etchbook.picture.register.motion import fit, inverse, is_mirrored, size_at, stretch, turn_at

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0], [4.0, 7.0]])
EVEN = np.ones(len(SQUARE))


def test_a_quarter_turn_and_twice_the_size() -> None:
    target = np.array([[5.0, 5.0], [5.0, 25.0], [-15.0, 25.0], [-15.0, 5.0], [-9.0, 13.0]])
    matrix = fit("similarity", SQUARE, target, EVEN, mirror=False)
    assert moved(matrix, SQUARE) == pytest.approx(target, abs=1e-9)
    assert size_at(matrix, SQUARE[4]) == pytest.approx(2) and turn_at(matrix, SQUARE[4]) == pytest.approx(90)
    assert not is_mirrored(matrix, SQUARE[4]) and stretch(matrix, SQUARE) == pytest.approx(0, abs=1e-9)


def test_a_mirror_is_fitted_only_when_it_is_allowed() -> None:
    target = SQUARE * [-1.0, 1.0] + [30.0, 2.0]
    matrix = fit("similarity", SQUARE, target, EVEN, mirror=True)
    assert moved(matrix, SQUARE) == pytest.approx(target, abs=1e-9) and is_mirrored(matrix, SQUARE[4])
    straight = fit("similarity", SQUARE, target, EVEN, mirror=False)
    assert np.abs(moved(straight, SQUARE) - target).max() > 2


def test_perspective_goes_there_and_back() -> None:
    matrix = np.array([[1.1, 0.1, 3.0], [-0.2, 0.9, 8.0], [1e-3, -2e-3, 1.0]])
    found = fit("perspective", SQUARE, moved(matrix, SQUARE), EVEN, mirror=False)
    assert found == pytest.approx(matrix, abs=1e-6)
    assert moved(inverse(found), moved(found, SQUARE)) == pytest.approx(SQUARE, abs=1e-6)


def test_stretch_of_one_axis() -> None:
    assert stretch(np.diag([1.1, 1.0, 1.0]), SQUARE) == pytest.approx(0.1)
