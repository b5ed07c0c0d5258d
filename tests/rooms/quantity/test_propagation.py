"""Uncertainty through formulas, against the GUM and against hand calculation."""

import numpy as np
import pytest
from numpy.typing import NDArray

from etchbook.quantity import linear_covariance, monte_carlo, numeric_jacobian

Vector = NDArray[np.float64]


def impedance(x: Vector) -> Vector:
    volts, amps, phase = x
    return np.array([volts / amps * np.cos(phase), volts / amps * np.sin(phase), volts / amps])


def correlated(u: Vector, correlation: Vector) -> Vector:
    return np.asarray(correlation * np.outer(u, u))


# JCGM 100:2008, H.2: resistance and reactance measured at once (seen in a secondary source).
AT = np.array([4.999, 19.661e-3, 1.04446])
COVARIANCE = correlated(
    np.array([0.0032, 9.5e-6, 7.5e-4]), np.array([[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]])
)


def test_values_of_the_impedance() -> None:
    assert impedance(AT) == pytest.approx([127.732, 219.85, 254.26], abs=0.006)


def test_uncertainties_and_correlations_of_the_impedance() -> None:
    steps = np.sqrt(np.diag(COVARIANCE))
    spread = linear_covariance(numeric_jacobian(impedance, AT, steps), COVARIANCE)
    u = np.sqrt(np.diag(spread))
    # Printed 0.071, 0.295, 0.236 from unrounded inputs; the inputs here are printed with two digits.
    assert u == pytest.approx([0.070, 0.30, 0.24], rel=0.03)
    correlation = spread / np.outer(u, u)
    assert [correlation[0, 1], correlation[0, 2], correlation[1, 2]] == pytest.approx([-0.59, -0.49, 0.99], abs=0.02)


def test_trials_agree_with_slopes_for_a_smooth_formula() -> None:
    outputs = monte_carlo(impedance, AT, COVARIANCE, draws=20_000, seed=1)
    assert outputs.std(axis=0) == pytest.approx([0.070, 0.295, 0.236], rel=0.04)


def test_trials_see_the_corner_that_slopes_miss() -> None:
    # The smaller of two equal uncertain numbers lies 1/sqrt(pi) standard deviations below them.
    outputs = monte_carlo(lambda x: np.array([x.min()]), np.zeros(2), np.eye(2), draws=40_000, seed=2)
    assert outputs.mean() == pytest.approx(-1 / np.sqrt(np.pi), abs=0.02)


def test_the_same_seed_gives_the_same_trials() -> None:
    first, second = (monte_carlo(impedance, AT, COVARIANCE, draws=5, seed=3) for _ in range(2))
    assert np.array_equal(first, second)


def test_slopes_of_a_known_formula() -> None:
    slopes = numeric_jacobian(lambda x: np.array([x[0] * x[1], x[0] ** 2]), np.array([2.0, 3.0]), np.full(2, 1e-4))
    assert slopes == pytest.approx(np.array([[3.0, 2.0], [4.0, 0.0]]), abs=1e-6)
