"""Open chains of points."""

import numpy as np

from etchbook.geometry.lines import Points

AT_ONCE = 16_384
"""Pairs that are looked at together: more would not stay in the processor's own memory."""


def arc_length(chain: Points) -> Points:
    """Distance run along an (n, 2) chain up to each of its points, (n,), starting at 0."""
    steps = np.hypot(*np.diff(np.asarray(chain, float), axis=0).T)
    return np.concatenate([[0.0], np.cumsum(steps)])


def resample(chain: Points, step: float) -> Points:
    """Points at equal distances of about `step` along an (n, 2) chain; both ends kept."""
    run = arc_length(chain)
    keep = np.concatenate([[True], np.diff(run) > 0])
    run, chain = run[keep], np.asarray(chain, float)[keep]
    count = max(2, round(run[-1] / step) + 1)
    at = np.linspace(0.0, run[-1], count)
    return np.stack([np.interp(at, run, chain[:, 0]), np.interp(at, run, chain[:, 1])], axis=1)


def normals(chain: Points) -> Points:
    """Unit normals of an (n, 2) chain, a quarter turn on from its running direction (x towards y), (n, 2)."""
    slope = np.gradient(np.asarray(chain, float), axis=0)
    length = np.maximum(np.hypot(slope[:, 0], slope[:, 1]), 1e-12)
    return np.stack([-slope[:, 1] / length, slope[:, 0] / length], axis=1)


def distances_to_polyline(points: Points, chain: Points) -> Points:
    """Shortest distance of each of (n, 2) points from an (m, 2) chain, (n,)."""
    points, chain = np.atleast_2d(points), np.asarray(chain, float)
    start, step = chain[:-1].T, np.diff(chain, axis=0).T
    length2 = np.maximum((step**2).sum(axis=0), 1e-18)
    rows = max(1, AT_ONCE // max(len(length2), 1))
    parts = [_squared(points[row : row + rows], start, step, length2) for row in range(0, len(points), rows)]
    return np.sqrt(np.concatenate([part.min(axis=1) for part in parts])) if parts else np.zeros(0)


def _squared(points: Points, start: Points, step: Points, length2: Points) -> Points:
    """Squared distance of each point from each piece of a chain, (n, m - 1)."""
    x, y = points[:, :1] - start[0], points[:, 1:] - start[1]
    share = np.clip((x * step[0] + y * step[1]) / length2, 0.0, 1.0)
    x -= share * step[0]
    y -= share * step[1]
    return np.asarray(x * x + y * y)


def hausdorff_mean(first: Points, second: Points) -> float:
    """Mean distance between two chains, the larger of the two directions."""
    there = distances_to_polyline(first, second).mean()
    back = distances_to_polyline(second, first).mean()
    return float(max(there, back))


def ray_crossings(origin: Points, direction: Points, chain: Points) -> Points:
    """Distances from `origin` along a unit `direction` at which the ray crosses an (m, 2) chain, ascending, (k,)."""
    chain = np.asarray(chain, float) - np.asarray(origin, float)
    direction = np.asarray(direction, float)
    side = chain @ np.array([-direction[1], direction[0]])
    ahead = chain @ direction
    cut = np.nonzero((side[:-1] <= 0) != (side[1:] <= 0))[0]
    share = side[cut] / (side[cut] - side[cut + 1])
    reach = ahead[cut] + share * (ahead[cut + 1] - ahead[cut])
    return np.sort(reach[reach >= 0])
