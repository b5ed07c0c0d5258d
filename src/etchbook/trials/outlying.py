"""Is one value odd beside the others? It is named, never left out."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from etchbook.trials.scatter import StatisticsError

LEAST = 3
"""Fewer values than this tell nothing about an odd one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Odd:
    """The value farthest from the mean.

    Parameters
    ----------
    place : its place in the values, from 0 on
    ratio : its distance from the mean over the standard deviation (G)
    p : two-sided chance that the farthest of so many normal values lies so far out or farther (upper bound)
    """

    place: int
    ratio: float
    p: float


def grubbs(values: Sequence[float]) -> Odd:
    """Grubbs' test for one odd value.

    Parameters
    ----------
    values : three or more that are not all the same

    Returns
    -------
    Odd
        A small p is a reason to look at the section and the log again. It is none to leave the value out.

    Source: Grubbs 1969, two-sided: t² = n (n − 2) G² / ((n − 1)² − n G²), p = 2 n P(t(n − 2) > t), scipy.stats.t.
    """
    from scipy.stats import t

    held = np.asarray(values, float)
    count = len(held)
    spread = float(held.std(ddof=1)) if count >= LEAST else 0.0
    if spread == 0:
        raise StatisticsError("an odd value is looked for among three values at least that differ")
    away = np.abs(held - held.mean()) / spread
    place = int(away.argmax())
    ratio = float(away[place])
    left = (count - 1) ** 2 - count * ratio**2
    if left <= 1e-9 * (count - 1) ** 2:  # all the others are the same
        return Odd(place=place, ratio=ratio, p=0.0)
    found = math.sqrt(count * (count - 2) * ratio**2 / left)
    return Odd(place=place, ratio=ratio, p=min(1.0, 2 * count * float(t.sf(found, count - 2))))


def grubbs_limit(count: int, alpha: float = 0.05) -> float:
    """The ratio G above which one of so many values counts as odd, two-sided.

    Source: the formula of `grubbs` turned round.
    """
    from scipy.stats import t

    if count < LEAST:
        raise StatisticsError("an odd value is looked for among three values at least")
    edge = float(t.isf(alpha / (2 * count), count - 2)) ** 2
    return (count - 1) / math.sqrt(count) * math.sqrt(edge / (count - 2 + edge))
