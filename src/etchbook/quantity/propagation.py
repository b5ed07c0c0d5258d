"""Carrying uncertainty through a formula, by slope or by trial."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]


def numeric_jacobian(formula: Callable[[Vector], Vector], at: Vector, steps: Vector) -> Vector:
    """Slopes of a vector formula, by central differences.

    Parameters
    ----------
    formula : (n,) -> (m,)
    at : (n,) point
    steps : (n,) half-steps, each about as large as the input's standard uncertainty

    Returns
    -------
    (m, n) array of dy/dx.
    """
    columns = []
    for index, step in enumerate(steps):
        shift = np.zeros_like(at)
        shift[index] = step
        columns.append((formula(at + shift) - formula(at - shift)) / (2 * step))
    return np.stack(columns, axis=1)


def linear_covariance(jacobian: Vector, covariance: Vector) -> Vector:
    """J V Jᵀ: covariance of the outputs, (m, m), from that of the inputs, (n, n).

    Source: JCGM 102:2011, 6.2 (law of propagation for several outputs).
    """
    return np.asarray(jacobian @ covariance @ jacobian.T)


def monte_carlo(
    formula: Callable[[Vector], Vector], at: Vector, covariance: Vector, *, draws: int, seed: int
) -> Vector:
    """Outputs of a formula over random inputs, for formulas with corners (min, max).

    Parameters
    ----------
    formula : (n,) -> (m,)
    at, covariance : (n,), (n, n) of the normal inputs
    draws : number of trials
    seed : start of the random numbers, so that the same input gives the same answer

    Returns
    -------
    (draws, m) array.

    Source: JCGM 101:2008, clause 7.
    """
    generator = np.random.default_rng(seed)
    inputs = generator.multivariate_normal(at, covariance, size=draws, method="eigh")
    return np.stack([formula(row) for row in inputs])
