"""Toes placed on rims laid out by hand."""

import numpy as np
import pytest

from etchbook.geometry import Line, LineFit
from etchbook.section.toeing import find_toe

LEVEL = LineFit(line=Line(x=0.0, y=100.0, heading=0.0), u_shift=0.1, u_turn=1e-4, rms=0.2, used=100)
OUT = np.array([0.0, -1.0])
TOE = 50.0


def rim(slope: float) -> np.ndarray:
    """Along the plate up to the toe, then a face that rises by this slope and bends over."""
    x = np.arange(0.0, 200.0)
    inside = np.clip(x - TOE, 0.0, None)
    height = slope * inside * (1 - inside / 400)
    return np.stack([x, 100.0 - height + 0.2 * np.sin(x)], axis=1)


def fusion() -> np.ndarray:
    """A fusion line that dives at 45° from the toe."""
    down = np.arange(0.0, 40.0)
    return np.stack([TOE + down, 100.0 + down], axis=1)


def test_flush_toe_is_where_the_fusion_line_meets_the_surface_though_the_guess_lies_inside() -> None:
    guess = np.array([TOE + 20.0, 100.0])
    found = find_toe(LEVEL, OUT, rim(0.02), fusion(), guess, size=300.0, pixel=2.0)
    assert found.point[0] == pytest.approx(TOE, abs=6.0)
    assert abs(found.point[0] - TOE) < 2 * found.u_along
    assert found.point[1] == pytest.approx(100.0)


def test_steep_toe_is_where_the_rim_leaves_the_surface() -> None:
    guess = np.array([TOE + 4.0, 100.0])
    found = find_toe(LEVEL, OUT, rim(1.0), fusion(), guess, size=300.0, pixel=2.0)
    assert found.point[0] == pytest.approx(TOE, abs=2.0)
    assert found.u_along < 4.0


def test_steep_toe_does_not_follow_a_fusion_line_far_off() -> None:
    off = fusion() - np.array([30.0, 0.0])
    found = find_toe(LEVEL, OUT, rim(1.0), off, np.array([TOE + 1.0, 100.0]), size=300.0, pixel=2.0)
    assert found.point[0] == pytest.approx(TOE, abs=2.0)
