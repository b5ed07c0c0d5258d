"""Closed outlines: (n, 2) points, the last joined to the first, either sense."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry.lines import Line, Points


def area(polygon: Points) -> float:
    """Area enclosed, never negative.

    Source: shoelace formula (A. L. F. Meister, 1769).
    """
    x, y = np.asarray(polygon, float).T
    closing = x[-1] * y[0] - y[-1] * x[0]
    return abs(float(x[:-1] @ y[1:] - y[:-1] @ x[1:] + closing)) / 2


def clip_half_plane(polygon: Points, line: Line) -> Points:
    """The part of a polygon on the `normal` side of a line, (m, 2); empty when there is none.

    A polygon that falls into several parts comes back as one ring joined along the
    line, which has the right area.

    Source: I. E. Sutherland, G. W. Hodgman, Comm. ACM 17 (1974) 32 (from memory).
    """
    polygon = np.asarray(polygon, float)
    if len(polygon) == 0:
        return np.zeros((0, 2))
    side = line.across(polygon)
    before, previous = np.concatenate([side[-1:], side[:-1]]), np.concatenate([polygon[-1:], polygon[:-1]])
    cut = (before >= 0) != (side >= 0)
    share = np.where(cut, before / np.where(cut, before - side, 1.0), 0.0)
    crossings = previous + share[:, None] * (polygon - previous)
    # Each place of the ring gives its crossing with the line, if there is one, and then its own point, if that is kept.
    both = np.stack([crossings, polygon], axis=1).reshape(-1, 2)
    return np.asarray(both[np.stack([cut, side >= 0], axis=1).ravel()])


def contains(polygon: Points, points: Points) -> NDArray[np.bool_]:
    """Whether each of (n, 2) points lies inside, (n,) (even-odd rule)."""
    polygon, points = np.asarray(polygon, float), np.atleast_2d(points)
    x, y = points[:, 0:1], points[:, 1:2]
    x0, y0 = polygon[:, 0], polygon[:, 1]
    x1, y1 = np.roll(x0, -1), np.roll(y0, -1)
    with np.errstate(divide="ignore", invalid="ignore"):
        reach = x0 + (y - y0) * (x1 - x0) / (y1 - y0)
    hits = ((y0 > y) != (y1 > y)) & (x < reach)
    return np.asarray(hits.sum(axis=1) % 2 == 1)


def rasterise(polygon: Points, shape: tuple[int, int]) -> NDArray[np.bool_]:
    """Pixels of a (rows, columns) grid whose centres, at whole numbers, lie inside, boolean (rows, columns)."""
    mask = np.zeros(shape, bool)
    polygon = np.asarray(polygon, float)
    if len(polygon) < 3:
        return mask
    x0, y0 = polygon.T
    x1, y1 = np.roll(polygon, -1, axis=0).T
    first = max(0, int(np.ceil(y0.min())))
    last = min(shape[0] - 1, int(np.floor(y0.max())))
    for row in range(first, last + 1):
        cut = (y0 <= row) != (y1 <= row)
        if not cut.any():
            continue
        at = np.sort(x0[cut] + (row - y0[cut]) * (x1[cut] - x0[cut]) / (y1[cut] - y0[cut]))
        for left, right in zip(at[::2], at[1::2], strict=False):
            mask[row, max(0, int(np.ceil(left))) : max(0, int(np.floor(right)) + 1)] = True
    return mask
