"""How far inside a limit a value lies, how sure that is, and the probability of conforming."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from etchbook.quantity import Measured, linear_covariance

Vector = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Input:
    """One number that goes into a comparison; inputs with the same `key` are one and the same quantity."""

    name: str
    key: str
    measured: Measured


def margin(
    inside: Callable[[Mapping[str, float]], float], inputs: Sequence[Input], relative: float
) -> tuple[float, float]:
    """A margin and its standard uncertainty, in the unit of the margin.

    Each slope is the root mean square of the steps one u up and one u down, so that a
    corner of min, max or abs within reach of u is not averaged away.

    Parameters
    ----------
    inside : margin as a function of the inputs by name
    inputs : the numbers with their u
    relative : relative standard uncertainty of the scale, shared by all lengths

    Returns
    -------
    (margin, u)
        The scale is taken as fully correlated between lengths, everything else as independent.

    Source: JCGM 100:2008 (GUM), 5.2.2, formula 13.
    """
    at = {item.name: item.measured.value for item in inputs}
    middle = inside(at)
    slopes = [_slope(inside, at, middle, item) for item in inputs]
    spread = linear_covariance(np.array([slopes]), shared_covariance(inputs, relative))
    return middle, float(max(spread[0, 0], 0.0) ** 0.5)


def _slope(
    inside: Callable[[Mapping[str, float]], float], at: Mapping[str, float], middle: float, item: Input
) -> float:
    u = item.measured.u
    if u == 0:
        return 0.0
    up = (inside({**at, item.name: item.measured.value + u}) - middle) / u
    down = (middle - inside({**at, item.name: item.measured.value - u})) / u
    steeper = up if abs(up) >= abs(down) else down
    return float(np.sign(steeper) * ((up * up + down * down) / 2) ** 0.5)


def shared_covariance(inputs: Sequence[Input], relative: float) -> Vector:
    """Covariance of measured numbers whose lengths share one scale, (n, n)."""
    u = np.array([item.measured.u for item in inputs])
    value = np.array([item.measured.value for item in inputs])
    length = np.array([item.measured.unit == "mm" for item in inputs])
    # No length owes more to the scale than its whole u; a figure from the drawing owes nothing.
    share = np.sign(value) * np.minimum(np.abs(value) * relative, u) * length
    covariance = np.outer(share, share)
    np.fill_diagonal(covariance, u * u)
    for row, first in enumerate(inputs):
        for column, second in enumerate(inputs):
            if first.key == second.key:
                covariance[row, column] = u[row] * u[column]
    return np.asarray(covariance)


def chance_inside(margin_value: float, u: float) -> float:
    """Probability that a margin is not negative; with u = 0 a value at the limit conforms.

    Source: JCGM 106:2012, 7.2 to 7.4 (normal distribution; from memory).
    """
    if u == 0:
        return 1.0 if margin_value >= 0 else 0.0
    return NormalDist().cdf(margin_value / u)


def conformity(measured: Measured, *, least: float | None = None, most: float | None = None) -> float:
    """Probability that the true value lies within fixed limits.

    Parameters
    ----------
    measured : value and u
    least, most : limits [unit of the value]; None where there is none

    Source: JCGM 106:2012, 7.3 and 7.4 (formulas from memory).
    """
    below = 0.0 if least is None else 1 - chance_inside(measured.value - least, measured.u)
    above = 0.0 if most is None else 1 - chance_inside(most - measured.value, measured.u)
    return max(0.0, 1 - below - above)
