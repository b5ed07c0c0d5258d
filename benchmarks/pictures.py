"""The simulated sections that are measured: which seeds, at what scale, and which are passed over."""

import zlib
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from etchbook.simulate import PaintedSection, draw_case, paint_section
from etchbook.terms import FAMILIES, Family

WIDTH, HEIGHT = 1600, 1200
PX_PER_MM = (28.0, 60.0)
SHARE = 0.8
"""The longest way across the weld may take this share of the picture's shorter side."""
APART = 50_000
"""Seeds of one block of sections start this far from those of the one before."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Task:
    """One section to paint and read."""

    family: Family
    seed: int
    px_per_mm: float
    difficulty: str


def tasks_of(count: int, first_seed: int, difficulty: str) -> tuple[list[Task], dict[str, int]]:
    """So many sections of each joint, the joints in turn, and how many seeds were passed over for each."""
    found: dict[Family, list[Task]] = {}
    passed: dict[str, int] = {}
    for family in FAMILIES:
        found[family], passed[family] = [], 0
        for task in _candidates(family, first_seed, difficulty):
            if len(found[family]) == count:
                break
            if task is None:
                passed[family] += 1
            else:
                found[family].append(task)
    return [found[family][k] for k in range(count) for family in FAMILIES], passed


def _candidates(family: Family, first_seed: int, difficulty: str) -> Iterator[Task | None]:
    """Tasks from this seed on; None for a section too large for the picture even at the coarsest scale."""
    for seed in range(first_seed, first_seed + APART):
        most = min(PX_PER_MM[1], SHARE * min(WIDTH, HEIGHT) / _across(draw_case(family, seed).weld))
        rng = np.random.default_rng([seed, zlib.crc32(family.encode()), 28])
        fits = most >= PX_PER_MM[0]
        scale = float(rng.uniform(PX_PER_MM[0], most)) if fits else 0.0
        yield Task(family=family, seed=seed, px_per_mm=scale, difficulty=difficulty) if fits else None


def _across(ring: np.ndarray) -> float:
    """Longest way across a contour."""
    thin = ring[:: max(1, len(ring) // 200)]
    return float(np.hypot(*(thin[:, None] - thin[None]).transpose(2, 0, 1)).max())


def painted(task: Task) -> PaintedSection | None:
    """The section of a task, or None when its weld reaches beyond the picture."""
    section = paint_section(
        task.family,
        task.seed,
        width=WIDTH,
        height=HEIGHT,
        difficulty=task.difficulty,  # type: ignore[arg-type]
        px_per_mm=task.px_per_mm,
    )
    points = np.concatenate([section.truth.polylines[name] for name in ("weld_face", "fusion_line")])
    inside = (points > 2) & (points < np.array([WIDTH - 3, HEIGHT - 3]))
    return section if inside.all() else None
