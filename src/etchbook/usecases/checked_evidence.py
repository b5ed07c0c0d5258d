"""Checked functions of evidence: weighing, the gain of a test, the order of a search, plate classes."""

from collections.abc import Callable, Mapping, Sequence

from etchbook.evidence import Answer as Seen
from etchbook.evidence import Case, after_negative, search_order, table_from, weigh
from etchbook.evidence.planning import expected_gain, outcomes
from etchbook.usecases.answering import block_checksum
from etchbook.usecases.evidence_tables import line_table
from etchbook.usecases.lamellar import Strained, class_for, lamellar_sum
from etchbook.usecases.plate_classes import allowed, equal_disc

Answer = float | str


def _chance(priors: Mapping[str, float], chances: Sequence[Mapping[str, float]], cause: str, share: float) -> Answer:
    """Chance of a cause after as many correlated observations as there are chances, each seen."""
    observations = [
        {"id": str(place), "label": "", "group": "g", "state": [{"id": "seen", "base": 1.0, "ratios": row}]}
        for place, row in enumerate(chances)
    ]
    table = table_from(
        {
            "id": "check",
            "title": "",
            "cause": [{"id": name, "label": name} for name in priors],
            "group": [{"id": "g", "label": "", "share": share}],
            "observation": observations,
            "gate": [{"id": "here", "label": "", "priors": priors}],
        }
    )
    answers = tuple(Seen(observation=str(place), state="seen") for place in range(len(chances)))
    found = weigh(table, Case(gate="here", answers=answers)).verdicts
    return next(verdict.chance for verdict in found if verdict.cause.id == cause)


def _bits(priors: Mapping[str, float], states: Mapping[str, Mapping[str, float]]) -> Answer:
    """Expected gain of a look whose states have these chances under each cause."""
    rows = [{"id": name, "base": 1.0, "ratios": row} for name, row in states.items()]
    table = table_from(
        {
            "id": "check",
            "title": "",
            "cause": [{"id": name, "label": name} for name in priors],
            "group": [{"id": "g", "label": ""}],
            "observation": [{"id": "look", "label": "", "group": "g", "state": rows}],
            "gate": [{"id": "here", "label": "", "priors": priors}],
        }
    )
    return expected_gain(outcomes(table, Case(gate="here"), table.observation("look")))


def _line(place: str, answers: Mapping[str, str], cause: str) -> Answer:
    """Chance of a cause of a dark line by the packaged table."""
    seen = tuple(Seen(observation=name, state=state) for name, state in answers.items())
    found = weigh(line_table(), Case(gate=place, answers=seen)).verdicts
    return next(verdict.chance for verdict in found if verdict.cause.id == cause)


def _sum(want: str, depth: float, thickness: float, detail: str, restraint: str, **more: bool) -> Answer:
    total = lamellar_sum(Strained(depth=depth, thickness=thickness, detail=detail, restraint=restraint, **more))
    return total.wanted if want == "class" else total.value


def _area(name: str, area: float) -> Answer:
    return next(row.here for row in allowed(area) if row.name == name)


CHECKED_EVIDENCE: dict[str, Callable[..., Answer]] = {
    "after_negative": lambda chance, cause, detects, of: after_negative(chance, cause, detects)[of],
    "block_checksum": lambda lines: block_checksum(lines),
    "expected_bits": _bits,
    "lamellar_sum": _sum,
    "line_chance": _line,
    "plate_area": _area,
    "plate_disc": equal_disc,
    "search_first": lambda chance, detects, minutes: search_order(chance, detects, minutes)[0],
    "weighed_chance": _chance,
    "z_class": class_for,
}
