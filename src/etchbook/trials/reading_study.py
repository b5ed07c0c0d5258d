"""Repeatability and reproducibility of reading: the same sections read again by one person, or by several."""

import math
from dataclasses import dataclass, replace

import numpy as np

from etchbook.trials.scatter import StatisticsError, Values, f_chance, honest_limit

POOL_ABOVE = 0.25
"""An interaction of person and section whose p lies above this is pooled into repeatability (AIAG practice, memory)."""

# Factors 1/d2* of the range method for 2 or 3 trials, 2 or 3 people, 2 to 10 parts (AIAG MSA, from memory).
K1 = {2: 0.8862, 3: 0.5908}
K2 = {2: 0.7071, 3: 0.5231}
K3 = {2: 0.7071, 3: 0.5231, 4: 0.4467, 5: 0.4030, 6: 0.3742, 7: 0.3534, 8: 0.3375, 9: 0.3249, 10: 0.3146}


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadingStudy:
    """What a study of reading found, as standard deviations [unit of the response].

    Parameters
    ----------
    repeatability : one person, one section, again
    reproducibility : from person to person, their way with single sections counted in
    sections : from section to section
    mean_squares : section, person, interaction, repeat
    pooled : whether the interaction was counted as repeatability
    apart, apart_by_chance : largest difference between two people's means, and up to where chance alone gives it 19
        times in 20; NaN with one person
    """

    repeatability: float
    reproducibility: float
    sections: float
    mean_squares: tuple[float, float, float, float]
    pooled: bool
    apart: float = math.nan
    apart_by_chance: float = math.nan

    @property
    def reading(self) -> float:
        """Standard deviation of a single reading by anybody."""
        return math.hypot(self.repeatability, self.reproducibility)

    @property
    def categories(self) -> int:
        """How many kinds of section the reading tells apart: 1.41 sections / reading, 5 or more wanted."""
        return int(math.sqrt(2) * self.sections / self.reading) if self.reading > 0 else 10**6

    def share_of(self, difference: float) -> float:
        """Standard deviation of a single reading in percent of the difference that is sought."""
        if difference <= 0:
            raise StatisticsError("the difference that is sought is above 0")
        return 100 * self.reading / difference


def reading_study(table: Values) -> ReadingStudy:
    """A crossed study of reading by analysis of variance; negative components are set to 0.

    Parameters
    ----------
    table : (sections, people, repeats); one person makes a study of repeatability alone

    Source: two-way random model; the pooling of the interaction and its level are AIAG practice (from memory).
    """
    table = np.asarray(table, float)
    if table.ndim != 3 or table.shape[0] < 2 or table.shape[2] < 2 or not np.isfinite(table).all():
        raise StatisticsError("a study of reading is a full table: two sections, one person and two repeats at least")
    squares, dof = _squares(table)
    means = [s / d if d else 0.0 for s, d in zip(squares, dof, strict=True)]
    joined = table.shape[1] == 1 or _unlike_by_chance(means, dof)
    found = _components(table.shape, squares, dof, joined)
    if table.shape[1] == 1:
        return found
    means_of_people = table.mean(axis=(0, 2))
    beside = (squares[2] + squares[3]) / (dof[2] + dof[3]) if joined else means[2]
    free = dof[2] + dof[3] if joined else dof[2]
    error = math.sqrt(beside / (table.shape[0] * table.shape[2]))
    limit = honest_limit(table.shape[1], free) * error
    return replace(found, apart=float(np.ptp(means_of_people)), apart_by_chance=limit)


def _squares(table: Values) -> tuple[list[float], list[int]]:
    """Sums of squares and degrees of freedom: section, person, interaction, repeat."""
    sections, people, repeats = table.shape
    grand = table.mean()
    by_section, by_person, by_cell = table.mean(axis=(1, 2)), table.mean(axis=(0, 2)), table.mean(axis=2)
    section = people * repeats * float(((by_section - grand) ** 2).sum())
    person = sections * repeats * float(((by_person - grand) ** 2).sum())
    both = repeats * float(((by_cell - by_section[:, None] - by_person[None] + grand) ** 2).sum())
    repeat = float(((table - by_cell[:, :, None]) ** 2).sum())
    dof = [sections - 1, people - 1, (sections - 1) * (people - 1), sections * people * (repeats - 1)]
    return [section, person, both, repeat], dof


def _unlike_by_chance(means: list[float], dof: list[int]) -> bool:
    if means[3] == 0:
        return means[2] == 0
    return f_chance(means[2] / means[3], dof[2], dof[3]) > POOL_ABOVE


def _components(shape: tuple[int, ...], squares: list[float], dof: list[int], joined: bool) -> ReadingStudy:
    sections, people, repeats = shape
    means = [s / d if d else 0.0 for s, d in zip(squares, dof, strict=True)]
    repeat = (squares[2] + squares[3]) / (dof[2] + dof[3]) if joined else means[3]
    beside = repeat if joined else means[2]
    both = 0.0 if joined else max((means[2] - means[3]) / repeats, 0.0)
    person = max((means[1] - beside) / (sections * repeats), 0.0) if people > 1 else 0.0
    section = max((means[0] - beside) / (people * repeats), 0.0)
    return ReadingStudy(
        repeatability=math.sqrt(repeat),
        reproducibility=math.sqrt(person + both),
        sections=math.sqrt(section),
        mean_squares=(means[0], means[1], means[2], means[3]),
        pooled=joined,
    )


def by_ranges(table: Values) -> dict[str, float]:
    """The same study by the range method, to hold beside older sheets.

    Parameters
    ----------
    table : (sections, people, repeats) of 2 to 10, 2 to 3, 2 to 3

    Returns
    -------
    dict
        mean_range, EV, AV, GRR, PV, TV [unit of the response], percent (GRR of TV), categories

    Source: average and range method, AIAG Measurement Systems Analysis (from memory; its example is a check row).
    """
    table = np.asarray(table, float)
    sections, people, repeats = table.shape
    if repeats not in K1 or people not in K2 or sections not in K3:
        raise StatisticsError("the range method has factors for 2 to 10 sections, 2 or 3 people, 2 or 3 repeats")
    mean_range = float(np.ptp(table, axis=2).mean())
    ev = mean_range * K1[repeats]
    apart = float(np.ptp(table.mean(axis=(0, 2)))) * K2[people]
    av = math.sqrt(max(apart**2 - ev**2 / (sections * repeats), 0.0))
    pv = float(np.ptp(table.mean(axis=(1, 2)))) * K3[sections]
    grr = math.hypot(ev, av)
    tv = math.hypot(grr, pv)
    found = {"mean_range": mean_range, "EV": ev, "AV": av, "GRR": grr, "PV": pv, "TV": tv}
    return found | {"percent": 100 * grr / tv, "categories": float(int(1.41 * pv / grr))}
