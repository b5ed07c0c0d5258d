"""Risks of a whole run of pieces, judged with a guard band."""

from collections.abc import Callable
from statistics import NormalDist

import numpy as np

from etchbook.quantity import normal_quantile


def guarded_limit(limit: float, u: float, *, risk: float = 0.05, upper: bool = False) -> float:
    """The value at which a limit is just met with the stated risk, in the unit of the limit.

    Source: JCGM 106:2012, 8.3 (guard band g = z u; from memory).
    """
    guard = normal_quantile(1 - risk) * u
    return limit - guard if upper else limit + guard


def run_risks(*, spread: float, u: float, tolerance: float, accept: float) -> tuple[float, float]:
    """Consumer's and producer's risk of a run of pieces around the middle of a symmetric tolerance.

    Parameters
    ----------
    spread : standard deviation of the pieces
    u : standard uncertainty of one measurement
    tolerance : half width of the tolerance
    accept : half width of what is accepted; all four in one unit

    Returns
    -------
    (consumer's risk, producer's risk)
        Probability that a piece is accepted although outside, and refused although inside.

    Source: JCGM 106:2012, 9.5 (formulas from memory).
    """
    normal = NormalDist()

    def taken(y: float) -> float:
        return normal.cdf((accept - y) / u) - normal.cdf((-accept - y) / u)

    consumer = 2 * _mass(tolerance, max(8 * spread, 2 * tolerance), spread, taken)
    producer = _mass(-tolerance, tolerance, spread, lambda y: 1 - taken(y))
    return consumer, producer


def _mass(start: float, end: float, spread: float, share: Callable[[float], float]) -> float:
    """Probability that a piece lies between start and end and falls to `share`."""
    at = np.linspace(start, end, 2001)
    density = NormalDist(0, spread).pdf
    return float(np.trapezoid([density(y) * share(y) for y in at], at))
