"""Laying painted pairs of pictures on each other: how often it is right, refused, or wrongly trusted; and how long."""

import time
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from benchmarks.tables import Table, number, percent
from benchmarks.work import shared_out
from etchbook.picture.register import Registration, moved, register
from etchbook.simulate.pairs import KINDS, PaintedPair, paint_pair

WIDTH, HEIGHT = 1200, 900
TIMES = ((1.0, 1.5), (1.5, 3.0), (3.0, 6.0))


@dataclass(frozen=True, kw_only=True, slots=True)
class Task:
    """One pair; other is "", "section" (another joint) or "twin" (the same plates, a similar weld)."""

    seed: int
    kind: str
    other: str = ""
    width: int = WIDTH
    height: int = HEIGHT


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """What came of one pair; error and u in px of the coarser picture."""

    kind: str
    times: float
    other: str
    trusted: bool
    error: float | None
    u: float | None
    seconds: float


def laid(task: Task) -> Row:
    """Paint and register one pair."""
    painted = paint_pair(
        task.seed, kind=task.kind, width=task.width, height=task.height, same=not task.other, twin=task.other == "twin"
    )
    begun = time.perf_counter()
    found = register(*painted.pictures)
    seconds = time.perf_counter() - begun
    trusted = isinstance(found, Registration)
    error = _error(painted, found) if isinstance(found, Registration) and painted.matrix is not None else None
    return Row(
        kind=task.kind,
        times=float(str(painted.recipe["times"])),
        other=task.other,
        trusted=trusted,
        error=error,
        u=found.u if isinstance(found, Registration) else None,
        seconds=seconds,
    )


def _error(painted: PaintedPair, found: Registration) -> float:
    first, second = painted.pictures
    assert painted.matrix is not None
    x, y = np.meshgrid(np.linspace(0, first.width - 1, 40), np.linspace(0, first.height - 1, 40))
    points = np.stack([x.ravel(), y.ravel()], axis=1)
    there = moved(painted.matrix, points)
    inside = (there >= 0).all(axis=1) & (there <= [second.width - 1, second.height - 1]).all(axis=1)
    gap = np.hypot(*(found.to_second(points[inside]) - there[inside]).T)
    return float(np.sqrt((gap**2).mean())) / max(found.size, 1.0)


def table_of_pairs(rows: list[Row]) -> Table:
    """Pictures of one face, by what changed between them and by how much closer the second is."""
    groups = [(kind, [r for r in rows if r.kind == kind]) for kind in KINDS]
    groups += [(f"{a:g} to {b:g} times as close", [r for r in rows if a <= r.times < b]) for a, b in TIMES]
    return Table(
        title="Pictures of one face laid on each other",
        head=(
            "changed",
            "pairs",
            "within 1 px",
            "within 2 px",
            "refused",
            "trusted, over 3 px",
            "median px",
            "within 2 u",
        ),
        rows=[(name, *_cells(held)) for name, held in [*groups, ("all", rows)] if held],
        before=(
            f"{WIDTH} x {HEIGHT} px, turned anyhow, 40 % mirrored; px of the coarser picture, rms over the overlap.",
        ),
    )


def _cells(rows: list[Row]) -> tuple[str, ...]:
    errors = np.array([r.error for r in rows if r.error is not None])
    inside = [r.error <= 2 * r.u for r in rows if r.error is not None and r.u is not None]
    count = len(rows)
    return (
        str(count),
        percent(float((errors < 1).sum()) / count),
        percent(float((errors < 2).sum()) / count),
        percent(1 - len(errors) / count),
        percent(float((errors > 3).sum()) / count),
        number(float(np.median(errors)), 2) if len(errors) else "–",
        percent(float(np.mean(inside))) if inside else "–",
    )


def table_of_others(rows: list[Row]) -> Table:
    """Pictures of different faces: none may be trusted."""
    kinds = {"section": "another section of the same joint", "twin": "the same plates, a weld 5 to 25 % different"}
    return Table(
        title="Different sections taken for one face",
        head=("second picture", "pairs", "wrongly trusted"),
        rows=[
            (words, str(len(held)), str(sum(r.trusted for r in held)))
            for other, words in kinds.items()
            if (held := [r for r in rows if r.other == other])
        ],
    )


def table_of_time(rows: list[Row]) -> Table:
    """Two pictures of 12 MP on one core."""
    seconds = [r.seconds for r in rows]
    return Table(
        title="Time to lay two pictures of 12 MP on each other",
        head=("pairs", "median s", "longest s"),
        rows=[(str(len(rows)), number(float(np.median(seconds)), 1), number(max(seconds), 1))],
    )


def run_follow(pairs: int, first: int, minutes: float | None = None) -> dict[str, Any]:
    """Pairs of one face, half as many of different sections in two kinds, and two large pairs.

    Parameters
    ----------
    first : seed of the first pair; seeds below 800000 were used for tuning
    minutes : no new pair of one face is begun after these, nor one of different sections after as many again
    """
    same = [Task(seed=first + k, kind=KINDS[k % len(KINDS)]) for k in range(pairs)]
    wrong = [
        Task(seed=first + 10_000 + k, kind=KINDS[k % len(KINDS)], other=other)
        for k in range(pairs // 2)
        for other in ("section", "twin")
    ]
    large = [Task(seed=first + 20_000 + k, kind="view", width=4000, height=3000) for k in range(2)]
    rows = {
        "pairs": shared_out(laid, same, name="pairs", minutes=minutes),
        "others": shared_out(laid, wrong, name="others", minutes=minutes),
        "large": (laid(task) for task in large),
    }
    return {name: [asdict(row) for row in found] for name, found in rows.items()}


def follow_tables(found: Mapping[str, Any]) -> list[Table]:
    """The tables of what was measured, those without rows left out."""
    makers = {"pairs": table_of_pairs, "others": table_of_others, "large": table_of_time}
    held = {name: [Row(**row) for row in found[name]] for name in makers}
    return [maker(held[name]) for name, maker in makers.items() if held[name]]
