"""Robust straight-line fits with covariance."""

import math
from dataclasses import dataclass

import numpy as np

from etchbook.geometry.lines import Line, Points

SETTLED = 1e-8
"""Weights that change by no more than this share of their largest have settled."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LineFit:
    """A fitted line.

    `line.anchor` is the weighted middle of the points that count, so that the two
    parameters, shift across [unit of the points] and turn [rad], are uncorrelated.
    """

    line: Line
    u_shift: float
    u_turn: float
    rms: float
    used: int

    def u_across(self, along: float) -> float:
        """Standard uncertainty of the line's position at a coordinate along it."""
        return float(np.hypot(self.u_shift, along * self.u_turn))


def fit_line(points: Points, sd: Points | float = 1.0, *, rounds: int = 20) -> LineFit:
    """Fit a straight line to scattered points by total least squares with outliers weighed down.

    Weights are Tukey's biweight on the distance in robust standard deviations, so up
    to about a third of stray points (weld, undercut, dirt) does not move the line.

    Parameters
    ----------
    points : (n, 2), n >= 2
    sd : (n,) or float
        Standard deviation of each point across the line.
    rounds : int
        Re-weightings.

    Returns
    -------
    LineFit
        u's come from the larger of the given `sd` and the scatter found.

    Source: P. J. Huber, E. M. Ronchetti, Robust Statistics, 2nd ed. (2009), 7.8 (from memory).
    """
    points = np.asarray(points, float)
    if len(points) < 2:
        raise ValueError("a line fit needs at least two points")
    spread = np.broadcast_to(np.asarray(sd, float), (len(points),)).copy()
    base = 1.0 / np.maximum(spread, 1e-9) ** 2
    weight = base * _start_weights(points, spread)
    line = _weighted_line(points, weight)
    for _ in range(rounds):
        residual = line.across(points) / spread
        size = max(1.0, 1.4826 * _middle(np.abs(residual[weight > 0])))
        ratio = np.abs(residual) / (4.685 * size)
        before, weight = weight, base * np.where(ratio < 1, (1 - ratio**2) ** 2, 0.0)
        if np.count_nonzero(weight) < 2:
            weight = base.copy()
        line = _weighted_line(points, weight)
        if (np.abs(weight - before) <= SETTLED * base).all():
            break
    return _with_spread(points, spread, weight, line)


def _middle(values: Points) -> float:
    """Median of (n,) values, n >= 1, without the checks that cost more than it does."""
    half = len(values) // 2
    if len(values) % 2:
        return float(np.partition(values, half)[half])
    part = np.partition(values, (half - 1, half))
    return float(part[half - 1] + part[half]) / 2


def _start_weights(points: Points, spread: Points) -> Points:
    """Seed the fit with the best of many two-point lines (least median distance), for up to half strays."""
    count = len(points)
    if count < 6:
        return np.ones(count)
    generator = np.random.default_rng(count)
    pairs = generator.integers(0, count, size=(200, 2))
    steps = points[pairs[:, 1]] - points[pairs[:, 0]]
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    good = lengths > 0.2 * lengths.max() if lengths.max() > 0 else lengths >= 0
    starts, steps = points[pairs[good, 0]], steps[good] / np.maximum(lengths[good, None], 1e-12)
    offsets = points[None] - starts[:, None]
    across = np.abs(offsets[..., 0] * -steps[:, None, 1] + offsets[..., 1] * steps[:, None, 0])
    best = int(np.argmin(np.median(across, axis=1)))
    size = 1.4826 * float(np.median(across[best])) + float(np.median(spread))
    return np.asarray(across[best] < 3 * size, float)


def _weighted_line(points: Points, weight: Points) -> Line:
    middle = weight @ points / weight.sum()
    x, y = (points - middle).T
    wx = weight * x
    # Direction of the longer axis of the scatter, in closed form.
    heading = 0.5 * math.atan2(2 * float(wx @ y), float(wx @ x - (weight * y) @ y))
    along = points[-1] - points[0]
    # A line has no sense of its own; follow the order of the points so that mirrored input mirrors the answer.
    if math.cos(heading) * along[0] + math.sin(heading) * along[1] < 0:
        heading += -math.pi if heading > 0 else math.pi
    return Line(x=float(middle[0]), y=float(middle[1]), heading=heading)


def _with_spread(points: Points, spread: Points, weight: Points, line: Line) -> LineFit:
    used = weight > 0
    residual = line.across(points)
    count = int(np.count_nonzero(used))
    rms = float(np.sqrt(np.average(residual[used] ** 2, weights=weight[used])))
    excess = float(np.average((residual[used] / spread[used]) ** 2, weights=weight[used]))
    inflate = max(1.0, excess * count / max(count - 2, 1))
    along = line.along(points)
    information = weight.sum()
    lever = float((weight * along**2).sum())
    return LineFit(
        line=line,
        u_shift=float(np.sqrt(inflate / information)),
        u_turn=float(np.sqrt(inflate / max(lever, 1e-12))),
        rms=rms,
        used=count,
    )
