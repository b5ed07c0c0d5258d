"""How far readings of simulated sections lie from their truth."""

import time
from dataclasses import asdict, dataclass

from benchmarks.pictures import Task, painted, tasks_of
from benchmarks.scores import HAZ, WELD, overlap
from benchmarks.work import shared_out
from etchbook.joint import Groove, Joint
from etchbook.picture import Scale
from etchbook.quantity import Measured
from etchbook.section import read_section, region_labels
from etchbook.simulate import PaintedSection
from etchbook.terms import DIMENSIONS


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """One dimension of one section: what is true, what was read; None where there is none."""

    id: str
    true: float | None
    value: float | None
    u: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Score:
    """One section read; `fault` says why it was not."""

    family: str
    seed: int
    fault: str = ""
    weld: float | None = None
    haz: float | None = None
    seconds: float = 0.0
    doubts: int = 0
    lines: tuple[Line, ...] = ()


OUTSIDE = "the weld reaches beyond the picture"
DRAWN_U = 0.05
"""Standard uncertainty with which the preparation of a painted butt is handed over [mm, and degrees times ten]."""


def groove_of(section: PaintedSection) -> Groove | None:
    """The preparation that a painted butt had, as its drawing would give it; None for other joints."""
    sizes = section.recipe["sizes"]
    if not isinstance(sizes, dict) or "vee" not in sizes:
        return None
    return Groove(
        gap=float(sizes["gap"]),
        angle=float(sizes["vee"]),
        root_face=float(sizes["root_face"]) if "root_face" in sizes else None,
        u_gap=DRAWN_U,
        u_angle=10 * DRAWN_U,
        u_root_face=DRAWN_U,
    )


def scored(task: Task) -> Score:
    """Paint, read and compare one section; a fault is kept as a figure, not thrown."""
    try:
        section = painted(task)
        if section is None:
            return Score(family=task.family, seed=task.seed, fault=OUTSIDE)
        scale = Scale(px_per_mm=section.truth.px_per_mm, u=0.0, origin="given")
        begun = time.perf_counter()
        reading = read_section(section.picture, Joint(family=task.family, groove=groove_of(section)), scale)
        seconds = time.perf_counter() - begun
        labels = region_labels(reading)
    except Exception as error:  # one section that cannot be read must not hide the other hundreds
        return Score(family=task.family, seed=task.seed, fault=f"{type(error).__name__}: {error}")
    lines = []
    for name, found in reading.dimensions.items():
        there = isinstance(found, Measured)
        true = section.truth.dimensions.get(name)
        value, u = (found.value, found.u) if isinstance(found, Measured) else (None, None)
        if there or true is not None:
            lines.append(Line(id=name, true=true, value=value, u=u))
    return Score(
        family=task.family,
        seed=task.seed,
        weld=overlap(labels, section.labels, WELD),
        haz=overlap(labels, section.labels, HAZ),
        seconds=seconds,
        doubts=len(reading.doubts),
        lines=tuple(lines),
    )


def run_block(count: int, first_seed: int, difficulty: str, minutes: float | None) -> dict[str, object]:
    """Read so many sections of each joint."""
    tasks, passed = tasks_of(count, first_seed, difficulty)
    scores = list(shared_out(scored, tasks, name=f"accuracy, {difficulty}", minutes=minutes))
    scores.sort(key=lambda score: (score.seed, score.family))
    return {
        "difficulty": difficulty,
        "first_seed": first_seed,
        "asked": count,
        "passed": passed,
        "scores": [asdict(score) for score in scores],
    }


def is_length(name: str) -> bool:
    """Whether a dimension is a length in mm."""
    return bool(DIMENSIONS[name].unit == "mm")
