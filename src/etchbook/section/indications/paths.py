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
    columns = np.ascontiguousarray(gain.T)
    total = np.zeros_like(columns)
    _gather(columns, total, 0, bend, jump)
    return _best(total, bend, jump)


def _gather(gain: Map, total: Map, first: int, bend: float, jump: int) -> None:
    """Most that any way gathers up to each cell, (columns, rows), from a column on; what stands before it is kept."""
    rows = gain.shape[1]
    before = np.full(rows + 2 * jump, -np.inf, np.float32)
    top, offer = np.empty(rows, np.float32), np.empty(rows, np.float32)
    for column in range(first, len(gain)):
        if column:
            before[jump : jump + rows] = total[column - 1]
            np.maximum(before[jump : jump + rows], 0, out=top)
            for step in range(1, jump + 1):
                np.maximum(
                    before[jump - step : jump - step + rows], before[jump + step : jump + step + rows], out=offer
                )
                np.subtract(offer, np.float32(bend * step), out=offer)
                np.maximum(top, offer, out=top)
            np.add(top, gain[column], out=top)
        else:
            top[:] = gain[column]
        np.maximum(top, 0, out=total[column])


def _best(total: Map, bend: float, jump: int) -> Path:
    peaks = total.max(axis=1)
    column = int(peaks.argmax())
    row = int(total[column].argmax())
    return _walked(total, (column, row), float(peaks[column]), bend, jump)


def _walked(total: Map, at: tuple[int, int], score: float, bend: float, jump: int) -> Path:
    """The way that gathered what a cell has, back to where it began."""
    column, row = at
    rows = [row]
    moves = [0, *[sign * step for step in range(1, jump + 1) for sign in (1, -1)]]
    while column > 0 and total[column, row] > 0:
        best, choice = np.float32(0), None
        for move in moves:
            if 0 <= row + move < total.shape[1]:
                offer = total[column - 1, row + move] - np.float32(bend * abs(move))
                best, choice = (offer, move) if offer > best else (best, choice)
        if choice is None:
            break
        row, column = row + choice, column - 1
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
    columns = gain.T.copy()
    total = np.zeros_like(columns)
    begin = 0
    for _ in range(most):
        _gather(columns, total, begin, bend, jump)
        path = _best(total, bend, jump)
        if path.score < least:
            return
        yield path
        # What was gathered before the blotted way begins stays as it is.
        begin = path.first
        for offset in range(-reach, reach + 1):
            rows = np.clip(path.rows + offset, 0, columns.shape[1] - 1)
            columns[begin + np.arange(len(path.rows)), rows] = -2.0


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
