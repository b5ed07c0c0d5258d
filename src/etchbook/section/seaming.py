"""A fusion line that the etch shows as a thin dark or light seam: it runs in the middle of the seam, not at its flank.

A trace that looks for a step goes to the steeper flank of such a seam, half the seam's width beside the fusion line.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from etchbook.geometry import arc_length, distances_to_polyline
from etchbook.picture import Picture
from etchbook.section.edges import Trace
from etchbook.section.strips import Array, best_path, smoothed_along, take_strip, whittaker

EXPLAINS = 0.6
"""There is a seam where a step with one leaves less than this share of what a step alone leaves unexplained."""
STANDS_OUT = 0.5
"""A seam is at least this deep beside the step across it; with EXPLAINS a planning value, common practice."""
ONE_WAY = 0.8
"""Share of a boundary that is seam, and darker (or lighter) everywhere alike."""
SHARPEST = 0.8
"""Blur that every picture has, as the standard deviation of an edge [px]."""
TAIL = 0.4
"""Length over which light wears off beside a step without a seam [half widths of the strip]."""
SEARCHED = 0.6
"""Share of the strip's half width within which a seam is looked for."""


def seamed(
    picture: Picture, traced: Trace, guess: Array, *, reach: float, along_px: float, stiffness_px: float
) -> Trace:
    """The trace moved into the middle of a seam along it; as it came where none is seen, or the guess is against it.

    Parameters
    ----------
    guess : (n, 2) where the first guess has this boundary; it must lie nearer to the seam than to the trace
    reach : half width of the strip [px]
    along_px, stiffness_px : as for `edges.trace`
    """
    step = max(float(arc_length(traced.points)[-1]) / max(len(traced.points) - 1, 1), 1e-6)
    strip = take_strip(picture.rgb, traced.points, reach, max(0.5, reach / 24))
    light = smoothed_along(strip.values.mean(axis=2), along_px / step / 2.5)
    shifts = strip.offsets[np.abs(strip.offsets) <= SEARCHED * reach]
    misfit, depth, across, plain = _seam(light, strip.offsets, shifts)
    rows = np.arange(len(light))
    cost = misfit / max(float(np.median(misfit.min(axis=1))), 1e-12)
    path = best_path(np.minimum(cost, 12.0), bend=0.15)
    dark = np.sign(np.median(depth[rows, path]))
    told = misfit[rows, path] < EXPLAINS * plain
    seam = told & (dark * depth[rows, path] > STANDS_OUT * np.abs(across[rows, path]))
    if len(light) < 12 or float(seam.mean()) < ONE_WAY:
        return traced
    place = _between(misfit, shifts, path)
    weight = np.where(seam, 1.0, 0.1)
    smooth, _ = whittaker(place, weight, (stiffness_px / step) ** 4 / 40.0)
    moved = strip.at(smooth)
    if _away(moved, guess) >= _away(traced.points, guess):
        return traced
    return replace(traced, points=moved)


def _away(points: Array, guess: Array) -> float:
    return float(np.median(distances_to_polyline(points, guess)))


def _seam(light: Array, offsets: Array, shifts: Array) -> tuple[Array, Array, Array, Array]:
    """Misfit, depth and step of a seam at each shift in each profile, (n, shifts), and misfit without one, (n,)."""
    reach = float(offsets[-1])
    best = None
    for width in np.geomspace(1.2, reach / 3, 6):
        found = [
            _fitted(light, _step(offsets, float(shift), min(width, 2.0)), _bump(offsets - shift, float(width)))
            for shift in shifts
        ]
        misfit, depth, across = (np.stack(part, axis=1) for part in zip(*found, strict=True))
        if best is None or misfit.min(axis=1).sum() < best[0].min(axis=1).sum():
            best = misfit, depth, across
    assert best is not None
    return (*best, _unseamed(light, offsets, shifts))


def _unseamed(light: Array, offsets: Array, shifts: Array) -> Array:
    """Least misfit of each profile by a step whose light wears off on one side of it, as in many a HAZ."""
    least = np.full(len(light), np.inf)
    for shift in shifts:
        z = offsets - shift
        for side in (1.0, -1.0):
            tail = ndtr(side * z / SHARPEST) * np.exp(-np.abs(z) / (TAIL * offsets[-1]))
            least = np.minimum(least, _fitted(light, _step(offsets, float(shift), SHARPEST), tail)[0])
    return least


def _step(offsets: Array, shift: float, blur: float) -> Array:
    z = offsets - shift
    return np.stack([np.ones_like(z), z / offsets[-1], ndtr(z / blur)], axis=1)


def _bump(z: Array, width: float) -> Array:
    return np.asarray(np.exp(-0.5 * (z / width) ** 2))


def _fitted(light: Array, step: Array, other: Array) -> tuple[Array, Array, Array]:
    """Least squares of slope, step and one more part: misfit, height of that part, height of the step per profile."""
    design = np.column_stack([step, other])
    solved = light @ np.linalg.pinv(design).T
    misfit = ((light - solved @ design.T) ** 2).sum(axis=1)
    return misfit, solved[:, -1], solved[:, 2]


def _between(misfit: Array, shifts: Array, path: NDArray[np.intp]) -> Array:
    """The place of least misfit between the samples, by a parabola through three of them."""
    middle = np.clip(path, 1, len(shifts) - 2)
    rows = np.arange(len(path))
    low, here, high = misfit[rows, middle - 1], misfit[rows, middle], misfit[rows, middle + 1]
    bend = low - 2 * here + high
    part = np.where(bend > 0, 0.5 * (low - high) / np.where(bend > 0, bend, 1.0), 0.0)
    return np.asarray(shifts[middle] + np.clip(part, -1, 1) * (shifts[1] - shifts[0]))
