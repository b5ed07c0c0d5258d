"""Checked functions of the statistics of trials."""

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from etchbook.evidence import search_order
from etchbook.quantity import Measured
from etchbook.trials.amount_shape import fillet_convexity, flat_leg
from etchbook.trials.difference import (
    Difference,
    difference,
    exact_permutation,
    least_shown,
    permutation_floor,
    student,
)
from etchbook.trials.outlying import grubbs, grubbs_limit
from etchbook.trials.paired import paired_t, sign_flip, t_of
from etchbook.trials.reading_study import ReadingStudy, by_ranges, reading_study
from etchbook.trials.scatter import (
    BeadResponse,
    Nested,
    Scatter,
    f_chance,
    honest_limit,
    one_way,
    pooled,
    sd_factors,
)
from etchbook.trials.sizing import (
    beads_per_arm,
    blocks_per_phase,
    equivalence_per_arm,
    least_ratio,
    pairs_needed,
    power_two_groups,
)

Answer = float | str
Numbers = Sequence[float]
_SQUARES = ("ms_section", "ms_person", "ms_both", "ms_repeat")


def _beads(values: Numbers) -> list[BeadResponse]:
    return [
        BeadResponse(code=str(at), sections=((Measured(value=value, u=0.0, unit="mm"),),))
        for at, value in enumerate(values)
    ]


def _difference(a: Numbers, b: Numbers, sd: float = 0.16, dof: float = 5.0) -> Difference:
    return difference(_beads(a), _beads(b), scatter=Scatter(sd=sd, dof=dof, source="given"), margin=0.2)


def _interval_p(a: Numbers, b: Numbers) -> Answer:
    return next(view.p for view in _difference(a, b).views if view.name == "t interval")


def _chance_larger(a: Numbers, b: Numbers, sd: float, dof: float) -> Answer:
    held = Scatter(sd=sd, dof=dof, source="given")
    found = difference(_beads(a), _beads(b), scatter=held, margin=1e-9)
    return found.above


def _study(part: str, table: Sequence[Sequence[Numbers]]) -> Answer:
    found: ReadingStudy = reading_study(np.array(table))
    return found.mean_squares[_SQUARES.index(part)] if part in _SQUARES else float(getattr(found, part))


def _pooled(groups: Sequence[Numbers]) -> Answer:
    found = pooled(groups)
    return "none" if found is None else found.sd


def _of_mean(between: float, within: float, reading: float, sections: int) -> Answer:
    held = Nested(between_beads=between, between_sections=within, between_readings=reading, beads=2)
    return held.of_mean(sections)


def _order(chance: Mapping[str, float], minutes: Mapping[str, float]) -> Answer:
    return ", ".join(search_order(chance, dict.fromkeys(chance, 1.0), minutes))


CHECKED_TRIALS: dict[str, Callable[..., Answer]] = {
    "beads_per_arm": beads_per_arm,
    "blocks_per_phase": blocks_per_phase,
    "chance_larger": _chance_larger,
    "equivalence_per_arm": equivalence_per_arm,
    "exact_permutation": exact_permutation,
    "f_chance": f_chance,
    "grubbs_limit": grubbs_limit,
    "grubbs_ratio": lambda values: grubbs(values).ratio,
    "honest_limit": honest_limit,
    "fillet_convexity": fillet_convexity,
    "flat_leg": flat_leg,
    "interval_p": _interval_p,
    "least_ratio": least_ratio,
    "least_shown": least_shown,
    "one_way_f": lambda groups: one_way(groups)[0],
    "paired_mean": lambda pairs: paired_t(pairs)[0],
    "paired_p": lambda pairs: paired_t(pairs)[3],
    "paired_t": t_of,
    "pairs_needed": pairs_needed,
    "permutation_floor": permutation_floor,
    "pooled_sd": _pooled,
    "power_two_groups": power_two_groups,
    "range_study": lambda part, table: by_ranges(np.array(table))[part],
    "reading_study": _study,
    "sd_factor": lambda dof, side: sd_factors(dof)[side],
    "sd_of_mean": _of_mean,
    "search_order": _order,
    "sign_flip": sign_flip,
    "student_t": lambda means, sds, numbers: student(tuple(means), tuple(sds), tuple(numbers))[0],
}
