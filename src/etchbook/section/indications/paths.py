"""The darkest long way through a map of cells: where it begins, how it runs, where it ends."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Map = NDArray[np.float32]
WIDEST_GAP = 30
"""Cells that a broken line may be broken over."""
BEND = 0.35
"""Price of moving one row aside from one cell to the next, in standard deviations."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Path:
    """A way through a map.

    Parameters
    ----------
    first : column it begins in
    rows : (n,) row in each column from there on
    score : sum of what stands out above the toll
    """

    first: int
    rows: NDArray[np.intp]
    score: float


def best_way(gain: Map, *, bend: float = BEND, jump: int = 1) -> Path:
    """The way from any column to any later one that gathers most; a column's toll is already in `gain`.

    Parameters
    ----------
    gain : (rows, columns), negative where nothing stands out
    bend : price of a move of one row
    jump : largest move a column

    Source: T. F. Smith, M. S. Waterman, J. Mol. Biol. 147 (1981) 195, local alignment (from memory).
    """
    rows, columns = gain.shape
    came = np.full((columns, rows), -1, np.int8)
    total = np.maximum(gain[:, 0], 0).astype(np.float32)
    best, at = float(total.max()), (0, int(total.argmax()))
    moves = [0, *[sign * step for step in range(1, jump + 1) for sign in (1, -1)]]
    for column in range(1, columns):
        top, choice = np.zeros(rows, np.float32), np.full(rows, -1, np.int8)
        for move in moves:
            price = np.float32(bend * abs(move))
            here = slice(max(0, -move), rows - max(0, move))
            there = slice(max(0, move), rows + min(0, move))
            offer = total[there] - price
            better = offer > top[here]
            top[here] = np.where(better, offer, top[here])
            choice[here] = np.where(better, move + jump, choice[here])
        total = top + gain[:, column]
        choice[total <= 0] = -1
        total = np.maximum(total, 0)
        came[column] = choice
        peak = int(total.argmax())
        if total[peak] > best:
            best, at = float(total[peak]), (column, peak)
    return _walked(came, at, best, jump)


def _walked(came: NDArray[np.int8], at: tuple[int, int], score: float, jump: int) -> Path:
    column, row = at
    rows = [row]
    while column > 0 and came[column, row] >= 0:
        row = row + int(came[column, row]) - jump
        column -= 1
        rows.append(row)
    return Path(first=column, rows=np.array(rows[::-1], np.intp), score=score)


def strong_ways(gain: Map, least: float, *, most: int, reach: int, bend: float = BEND, jump: int = 1) -> Iterator[Path]:
    """Ways in order of strength, each blotted out with its neighbourhood before the next is looked for.

    Parameters
    ----------
    least : score below which nothing more is given
    most : how many at the most
    reach : rows to each side of a way that are blotted out with it
    """
    gain = gain.copy()
    for _ in range(most):
        path = best_way(gain, bend=bend, jump=jump)
        if path.score < least:
            return
        yield path
        for offset in range(-reach, reach + 1):
            gain[np.clip(path.rows + offset, 0, gain.shape[0] - 1), path.first + np.arange(len(path.rows))] = -2.0


def joined(ways: list[Path]) -> list[Path]:
    """Ways that carry one another on, made one: a line may be broken."""
    ways = sorted(ways, key=lambda way: way.first)
    kept: list[Path] = []
    for way in ways:
        last = next((k for k, one in enumerate(kept) if _carries_on(one, way)), None)
        if last is None:
            kept.append(way)
        else:
            kept[last] = _linked(kept[last], way)
    return sorted(kept, key=lambda way: -way.score)


def _carries_on(one: Path, other: Path) -> bool:
    gap = other.first - (one.first + len(one.rows))
    if not 0 <= gap <= max(4, min(WIDEST_GAP, len(one.rows) + len(other.rows))):
        return False
    few = min(8, len(one.rows))
    slope = float(one.rows[-1] - one.rows[-few]) / max(few - 1, 1) if len(one.rows) > 3 else 0.0
    return abs(float(other.rows[0]) - float(one.rows[-1]) - slope * gap) <= 3 + 0.05 * gap


def _linked(one: Path, other: Path) -> Path:
    gap = other.first - (one.first + len(one.rows))
    bridge = np.round(np.linspace(one.rows[-1], other.rows[0], gap + 2)[1:-1]).astype(np.intp)
    return Path(first=one.first, rows=np.concatenate([one.rows, bridge, other.rows]), score=one.score + other.score)
