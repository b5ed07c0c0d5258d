"""The same question on painted pictures: painted, read, found, and weighed with answers that follow from a thing."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from scipy.spatial import cKDTree

from benchmarks.cause_answers import person_answers, with_slips
from benchmarks.cause_cases import MAKERS
from benchmarks.causes import Named, share
from benchmarks.tables import Table
from etchbook.evidence import Answer
from etchbook.joint import Joint
from etchbook.picture import Scale
from etchbook.section import Indication, Reading, read_section
from etchbook.simulate import LINE_KINDS, paint_section
from etchbook.usecases.answering import Said
from etchbook.usecases.evidence_tables import line_table
from etchbook.usecases.explaining import explain_seen
from etchbook.usecases.observing import observe

PAINTED = {kind: kind for kind in LINE_KINDS if kind in MAKERS} | {
    "rolled_in": "rolled_in_scale",
    "lapped_gap": "lap_gap",
}
"""Kinds that the painter paints, and the causes of the table that they are."""
SETS = ("the picture alone", "with everything answered")
NEAR = 0.25
"""A found line is the painted one where most of it lies this close to it [mm]."""


def run_painted(count: int, first_seed: int) -> dict[str, Any]:
    """Painted pictures of every kind, each read and explained without and with a person's answers.

    Parameters
    ----------
    count : pictures a kind; first_seed : of the first, each further one adds 1
    """
    named: list[Named] = []
    missed: dict[str, int] = {}
    for place, (kind, cause) in enumerate(PAINTED.items()):
        for seed in range(first_seed + place * count, first_seed + (place + 1) * count):
            rows = _one(kind, cause, seed)
            named += rows
            missed[cause] = missed.get(cause, 0) + (not rows)
    return {"count": count, "first_seed": first_seed, "named": named, "missed": missed}


def _one(kind: Any, cause: str, seed: int) -> list[Named]:
    family = "lap" if kind == "lapped_gap" else "tee"
    section = paint_section(family, seed, width=2000, height=1500, difficulty="plain", lines=(kind,))  # type: ignore[arg-type]
    scale = Scale(px_per_mm=section.truth.px_per_mm, u=0.0, origin="given")
    reading = read_section(section.picture, Joint(family=family), scale)  # type: ignore[arg-type]
    truth = np.concatenate([np.asarray(px) for line in section.truth.lines for px in line.px])
    found = _painted_one(reading, truth, NEAR * scale.px_per_mm)
    return [] if found is None else _named(reading, found, cause, seed)


def _painted_one(reading: Reading, truth: np.ndarray, near: float) -> Indication | None:
    tree = cKDTree(truth)
    close = [float(np.mean(tree.query(found.points)[0] < near)) for found in reading.indications]
    best = max(range(len(close)), key=lambda place: close[place], default=None)
    return None if best is None or close[best] < 0.6 else reading.indications[best]


def _named(reading: Reading, found: Indication, cause: str, seed: int) -> list[Named]:
    seen = observe(reading, found)
    if seen.table != "lines":
        return [Named(cause=cause, place=seen.gate, answers=name, first="", word="") for name in SETS]
    rng = np.random.default_rng(seed)
    thing = replace(MAKERS[cause](rng), place=seen.gate)
    told = with_slips(person_answers(thing, rng), line_table(), rng)
    answers = tuple(Answer(observation=name, state=state, by="bench") for name, state in told.items())
    rows = []
    for name, said in zip(SETS, (Said(), Said(answers={"x": answers})), strict=True):
        first = explain_seen("x", seen, said).weighed.first
        rows.append(Named(cause=cause, place=seen.gate, answers=name, first=first.cause.id, word=first.word))
    return rows


def painted_table(found: Mapping[str, Any]) -> Table:
    """Right first names by kind, of the painted lines that were found at all."""
    named: Sequence[Named] = found["named"]
    rows = []
    for cause, missed in found["missed"].items():
        seen = found["count"] - missed
        shares = [_percent(share(named, name, cause)) if seen else "–" for name in SETS]
        rows.append([line_table().cause(cause).label, f"{seen} of {found['count']}", *shares])
    total = len(found["missed"]) * found["count"]
    all_found = total - sum(found["missed"].values())
    rows.append(
        ["**all that were found**", f"{all_found} of {total}", *(_percent(share(named, name)) for name in SETS)]
    )
    return Table(
        title="Which cause is named first, on painted pictures",
        before=(
            f"{found['count']} pictures a kind (2000 × 1500 pixels, difficulty plain, seeds from "
            f"{found['first_seed']}), painted, read and searched by the program; what the picture answers comes from "
            "its measured fields alone. What a person would answer follows from a described thing of the same cause, "
            "as in the table above, slips among it. Lines that were not found are not counted in the shares.",
        ),
        head=("cause", "found", *SETS),
        rows=rows,
    )


def _percent(part: float) -> str:
    return f"{100 * part:.0f} %"
