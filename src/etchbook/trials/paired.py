"""Beads that belong together two by two: blocks of one of each, or the same coupon on both halves."""

import math
from collections.abc import Sequence

import numpy as np

from etchbook.trials.difference import MOST_EXACT
from etchbook.trials.scatter import StatisticsError


def paired_t(pairs: Sequence[float]) -> tuple[float, float, float, float]:
    """Mean of paired differences with its 95 % interval, and the two-sided p of Student's t.

    Parameters
    ----------
    pairs : differences within pairs, two or more

    Returns
    -------
    mean, low, high, p

    Source: scipy.stats.ttest_1samp; held to the maize and sleep data.
    """
    from scipy.stats import ttest_1samp

    values = np.asarray(pairs, float)
    if len(values) < 2 or np.ptp(values) == 0:
        raise StatisticsError("paired differences need two values at least that differ")
    answer = ttest_1samp(values, 0.0)
    interval = answer.confidence_interval(0.95)
    return float(values.mean()), float(interval.low), float(interval.high), float(answer.pvalue)


def t_of(pairs: Sequence[float]) -> float:
    """Student's t of paired differences."""
    values = np.asarray(pairs, float)
    return float(values.mean() / (values.std(ddof=1) / math.sqrt(len(values))))


def sign_flip(pairs: Sequence[float]) -> float:
    """Two-sided p of paired differences by flipping their signs in every way.

    Source: scipy.stats.permutation_test, type "samples"; held to Darwin's maize data.
    """
    from scipy.stats import permutation_test

    values = np.asarray(pairs, float)
    if len(values) < 2:
        return 1.0
    answer = permutation_test(
        (values, np.zeros_like(values)),
        lambda x, y, axis: np.mean(x - y, axis=axis),
        vectorized=True,
        permutation_type="samples",
        n_resamples=np.inf if 2 ** len(values) <= MOST_EXACT else MOST_EXACT,
        rng=np.random.default_rng(0),
    )
    return float(answer.pvalue)
