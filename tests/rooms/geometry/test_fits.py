"""Line fits: exact where the points are exact, honest where they scatter, deaf to strays."""

import math

import numpy as np
import pytest

from etchbook.geometry import fit_line
from etchbook.geometry.lines import Line, Points


def scattered(seed: int, count: int = 80, noise: float = 0.3) -> Points:
    generator = np.random.default_rng(seed)
    x = np.linspace(0, 100, count)
    return np.stack([x, 5 + 0.2 * x + generator.normal(0, noise, count)], axis=1)


def degrees(line: Line) -> float:
    return math.degrees(line.heading)


def test_exact_points_give_the_exact_line() -> None:
    fit = fit_line(np.array([[0.0, 1.0], [3.0, 5.0], [6.0, 9.0], [9.0, 13.0]]))
    assert fit.line.heading == pytest.approx(math.atan2(4, 3))
    assert fit.rms == pytest.approx(0.0, abs=1e-9)


def test_a_steep_line_is_no_special_case() -> None:
    fit = fit_line(np.array([[2.0, 0.0], [2.0, 1.0], [2.0, 5.0]]))
    assert fit.line.heading == pytest.approx(math.pi / 2)
    assert fit.line.across(np.array([3.0, 0.0])) == pytest.approx([-1.0])


def test_a_third_of_strays_does_not_move_the_line() -> None:
    points = scattered(1, 90)
    points[60:, 1] += np.linspace(5, 25, 30)
    assert degrees(fit_line(points, 0.3).line) == pytest.approx(math.degrees(math.atan(0.2)), abs=0.4)


def test_claimed_spread_is_the_real_spread() -> None:
    fits = [fit_line(scattered(seed), 0.3) for seed in range(200)]
    true = Line(x=0.0, y=5.0, heading=math.atan(0.2))
    turns = np.array([fit.line.heading - true.heading for fit in fits])
    shifts = np.array([true.across(fit.line.anchor)[0] for fit in fits])
    # The scatter of 200 standard deviations is itself known to about 5 %; the fit's weights cost a little more.
    assert turns.std() == pytest.approx(np.mean([fit.u_turn for fit in fits]), rel=0.2)
    assert shifts.std() == pytest.approx(np.mean([fit.u_shift for fit in fits]), rel=0.2)


def test_more_scatter_than_claimed_is_found_out() -> None:
    honest, claimed = fit_line(scattered(3, noise=1.0), 1.0), fit_line(scattered(3, noise=1.0), 0.1)
    assert claimed.u_shift > 0.6 * honest.u_shift


def test_position_is_less_sure_away_from_the_middle() -> None:
    fit = fit_line(scattered(5), 0.3)
    assert fit.u_across(0.0) == pytest.approx(fit.u_shift)
    assert fit.u_across(200.0) == pytest.approx(math.hypot(fit.u_shift, 200 * fit.u_turn))


def test_one_point_is_no_line() -> None:
    with pytest.raises(ValueError, match="two points"):
        fit_line(np.array([[1.0, 2.0]]))
