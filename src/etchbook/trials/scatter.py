"""How much beads scatter, and how much of that is the reading: variance components, bead by bead."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.quantity import Measured

Values = NDArray[np.float64]


class StatisticsError(ValueError):
    """Numbers that cannot be compared or planned with; its text is one plain sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Scatter:
    """Standard deviation from bead to bead, and how well it is known.

    Parameters
    ----------
    sd : [unit of the response]
    dof : degrees of freedom behind it; infinite for one that is taken as known
    source : "own book", "planning value" or whatever it comes from
    """

    sd: float
    dof: float
    source: str

    def __post_init__(self) -> None:
        if not (math.isfinite(self.sd) and self.sd > 0 and self.dof > 0):
            raise StatisticsError(f"a scatter and its degrees of freedom are above 0, not {self.sd:g} and {self.dof:g}")

    def limits(self, level: float = 0.95) -> tuple[float, float]:
        """Where the true standard deviation lies (chi-square interval of the variance)."""
        low, high = sd_factors(self.dof, level)
        return self.sd * low, self.sd * high


@dataclass(frozen=True, kw_only=True, slots=True)
class BeadResponse:
    """One response of one bead: sections, each with its readings.

    Parameters
    ----------
    code : of the bead
    sections : one tuple a section, one value a reading of it
    order : number in the order in which beads were welded; None where nobody noted it
    """

    code: str
    sections: tuple[tuple[Measured, ...], ...]
    order: int | None = None

    def __post_init__(self) -> None:
        if not self.sections or not all(self.sections):
            raise StatisticsError(f"bead {self.code} has a section without a reading")

    @property
    def mean(self) -> float:
        """Mean of the sections' means: the bead counts once, however often it was cut or read."""
        return float(np.mean([np.mean([reading.value for reading in section]) for section in self.sections]))

    @property
    def u_reading(self) -> float:
        """Standard uncertainty that the readings alone leave on the mean, counted as independent."""
        parts = [sum(r.u**2 for r in section) / len(section) ** 2 for section in self.sections]
        return math.sqrt(sum(parts)) / len(self.sections)


@dataclass(frozen=True, kw_only=True, slots=True)
class Nested:
    """Variance components of one response: between beads, between sections of a bead, between readings of a section.

    Each is a standard deviation; NaN where nothing was repeated on that level.
    """

    between_beads: float
    between_sections: float
    between_readings: float
    beads: int

    def of_mean(self, sections: int) -> float:
        """Standard deviation of a bead's mean over so many sections, each read once."""
        inside = [0.0 if math.isnan(sd) else sd for sd in (self.between_sections, self.between_readings)]
        return math.sqrt(self.between_beads**2 + sum(sd**2 for sd in inside) / sections)


def sd_factors(dof: float, level: float = 0.95) -> tuple[float, float]:
    """The interval of a standard deviation over its estimate: 0.62 to 2.45 for six values (5 degrees of freedom).

    Source: (n − 1) s² / σ² follows chi-square (any textbook).
    """
    from scipy.stats import chi2

    if math.isinf(dof):
        return 1.0, 1.0
    tails = (1 + level) / 2, (1 - level) / 2
    low, high = (math.sqrt(dof / float(chi2.ppf(tail, dof))) for tail in tails)
    return low, high


def pooled(groups: Sequence[Sequence[float]], source: str = "own book") -> Scatter | None:
    """Scatter within groups of like beads, taken together; None where no group has two beads that differ."""
    used = [np.asarray(group, float) for group in groups if len(group) > 1]
    dof = sum(len(group) - 1 for group in used)
    if dof == 0:
        return None
    variance = sum(float(((group - group.mean()) ** 2).sum()) for group in used) / dof
    return Scatter(sd=math.sqrt(variance), dof=float(dof), source=source) if variance > 0 else None


def nested(beads: Sequence[BeadResponse]) -> Nested:
    """Variance components of beads of one group by analysis of variance of means; negative ones are set to 0.

    Parameters
    ----------
    beads : two or more, welded alike

    Source: expected mean squares of the nested random model; unbalanced data through mean reciprocal numbers.
    """
    if len(beads) < 2:
        raise StatisticsError("scatter from bead to bead needs two beads at least")
    sections = [section for bead in beads for section in bead.sections]
    readings = _within([[reading.value for reading in section] for section in sections])
    means = [[float(np.mean([r.value for r in section])) for section in bead.sections] for bead in beads]
    per_section = float(np.mean([1 / len(section) for section in sections]))
    seen = _within(means)
    inside = seen**2 - (0.0 if math.isnan(readings) else readings**2 * per_section)
    per_bead = float(np.mean([1 / len(bead.sections) for bead in beads]))
    noise = seen**2 if not math.isnan(seen) else (readings**2 * per_section if not math.isnan(readings) else 0.0)
    between = float(np.var([bead.mean for bead in beads], ddof=1)) - noise * per_bead
    return Nested(
        between_beads=math.sqrt(max(between, 0.0)),
        between_sections=math.nan if math.isnan(seen) else math.sqrt(max(inside, 0.0)),
        between_readings=readings,
        beads=len(beads),
    )


def _within(groups: Sequence[Sequence[float]]) -> float:
    """Pooled standard deviation within groups; NaN where nothing was repeated."""
    dof = sum(len(group) - 1 for group in groups)
    squares = sum(float(np.var(group) * len(group)) for group in groups)
    return math.sqrt(squares / dof) if dof else math.nan


def one_way(groups: Sequence[Sequence[float]]) -> tuple[float, float]:
    """F and its p of the hypothesis that all groups have one mean (one-way analysis of variance).

    Source: scipy.stats.f_oneway; held to the NIST StRD set SiRstv.
    """
    from scipy.stats import f_oneway

    if len(groups) < 2 or any(len(group) < 2 for group in groups):
        raise StatisticsError("an analysis of variance needs two groups of two values at least")
    answer = f_oneway(*groups)
    return float(answer.statistic), float(answer.pvalue)


def f_chance(ratio: float, between: float, within: float) -> float:
    """Chance that a ratio of mean squares is as large or larger where all means are one.

    Parameters
    ----------
    ratio : mean square between over mean square within
    between, within : their degrees of freedom

    Source: F distribution, scipy.stats.f.
    """
    from scipy.stats import f

    return float(f.sf(ratio, between, within))


def honest_limit(groups: int, dof: float, level: float = 0.95) -> float:
    """The largest range of so many means, in standard errors of one, that chance alone gives at a level.

    Parameters
    ----------
    groups : 2 or more
    dof : degrees of freedom behind the standard error

    Source: studentized range (Tukey), scipy.stats.studentized_range.
    """
    from scipy.stats import studentized_range

    if groups < 2 or dof <= 0:
        raise StatisticsError("a range of means needs two groups and some degrees of freedom")
    return float(studentized_range.ppf(level, groups, dof))
