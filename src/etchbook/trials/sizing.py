"""How many beads a fair trial needs, and what a number of beads can show, by exact power."""

import math
from collections.abc import Callable

from etchbook.trials.scatter import StatisticsError

MOST = 400
ALPHA, POWER = 0.05, 0.8


def power_two_groups(per_arm: float, ratio: float, alpha: float = ALPHA) -> float:
    """Power of the two-sided t test of two groups.

    Parameters
    ----------
    per_arm : beads in each group, 2 or more
    ratio : true difference over the scatter from bead to bead
    alpha : accepted chance of a false alarm

    Source: non-central t, scipy.stats.nct; equals statsmodels TTestIndPower.
    """
    return _power(2 * per_arm - 2, ratio * math.sqrt(per_arm / 2), alpha)


def power_paired(pairs: float, ratio: float, alpha: float = ALPHA) -> float:
    """Power of the paired t test; `ratio` is true difference over the scatter of the differences."""
    return _power(pairs - 1, ratio * math.sqrt(pairs), alpha)


def _power(dof: float, shift: float, alpha: float) -> float:
    from scipy.stats import nct, t

    if dof < 1:
        return 0.0
    edge = float(t.ppf(1 - alpha / 2, dof))
    if shift > edge + 12:  # far beyond it, where the non-central t has no figure and the power is 1
        return 1.0
    other_side = float(nct.cdf(-edge, dof, shift)) if shift < 6 else 0.0  # scipy has no figure for so far a tail
    return float(nct.sf(edge, dof, shift)) + other_side


def beads_per_arm(sd: float, difference: float, *, alpha: float = ALPHA, power: float = POWER) -> int:
    """Fewest beads in each of two groups that show a difference with the wanted power.

    Parameters
    ----------
    sd : scatter from bead to bead [unit of the response]
    difference : smallest difference worth knowing [same unit]
    """
    return _fewest(lambda n: power_two_groups(n, _ratio(difference, sd), alpha), power)


def pairs_needed(sd_of_differences: float, difference: float, *, alpha: float = ALPHA, power: float = POWER) -> int:
    """Fewest pairs or blocks that show a difference with the wanted power."""
    return _fewest(lambda n: power_paired(n, _ratio(difference, sd_of_differences), alpha), power)


def blocks_per_phase(
    sd: float, difference: float, *, alpha: float = ALPHA, power: float = POWER, within_blocks: bool = True
) -> int:
    """Blocks of suspect and reference in each of two phases, for a difference of differences.

    Parameters
    ----------
    sd : scatter from bead to bead; a difference within a block scatters √2 times that
    difference : change of the suspect beyond that of the reference [unit of the response]
    within_blocks : whether each suspect is held against the reference of its own block; else four plain cells
    """
    if within_blocks:
        return beads_per_arm(sd * math.sqrt(2), difference, alpha=alpha, power=power)
    ratio = _ratio(difference, sd)
    return _fewest(lambda n: _power(4 * n - 4, ratio * math.sqrt(n) / 2, alpha), power)


def least_ratio(per_arm: int, *, alpha: float = ALPHA, power: float = POWER) -> float:
    """Smallest difference, over the scatter, that so many beads in each group show with the wanted power."""
    from scipy.optimize import brentq

    if per_arm < 2:
        raise StatisticsError("two groups need two beads each before a t test can show anything")
    return float(brentq(lambda ratio: power_two_groups(per_arm, ratio, alpha) - power, 1e-3, 12.0))


def equivalence_per_arm(sd: float, margin: float, *, alpha: float = ALPHA, power: float = POWER) -> int:
    """Fewest beads in each group that show two like groups to differ by less than a margin (two one-sided tests).

    Source: power of TOST at no true difference, by integration over the chi distribution of the scatter.
    """
    return _fewest(lambda n: _tost_power(n, _ratio(margin, sd), alpha), power)


def _tost_power(per_arm: int, ratio: float, alpha: float) -> float:
    from scipy.integrate import quad
    from scipy.stats import chi2, norm, t

    dof = 2 * per_arm - 2
    if dof < 1:
        return 0.0
    edge, root = float(t.ppf(1 - alpha, dof)), math.sqrt(per_arm / 2)

    def inside(chi: float) -> float:
        reach = ratio * root - edge * math.sqrt(chi / dof)
        return 0.0 if reach <= 0 else float((2 * norm.cdf(reach) - 1) * chi2.pdf(chi, dof))

    most = dof * (ratio * root / edge) ** 2
    return float(quad(inside, 0, most, limit=200)[0])


def _ratio(difference: float, sd: float) -> float:
    if not (math.isfinite(difference) and difference > 0 and math.isfinite(sd) and sd > 0):
        raise StatisticsError("the scatter and the smallest difference worth knowing are numbers above 0")
    return difference / sd


def _fewest(power_of: Callable[[int], float], wanted: float) -> int:
    if not 0 < wanted < 1:
        raise StatisticsError(f"a power lies between 0 and 1, not at {wanted:g}")
    for number in range(2, MOST + 1):
        if power_of(number) >= wanted:
            return number
    raise StatisticsError(
        f"more than {MOST} beads a group would be needed: look for a larger difference, or lessen the scatter first"
    )
