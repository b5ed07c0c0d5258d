"""The metal's rim: the straight plate surfaces beside the weld and the far sides of the members."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.measure import find_contours

from etchbook.geometry import Line, fit_line, resample
from etchbook.section.guess import Guess
from etchbook.section.strips import Array

THINNEST = 28
"""Samples of half a window pixel that a gap must last for to be the end of a plate."""


def metal_share(guess: Guess) -> NDArray[np.float32]:
    """Chance of metal, (h, w)."""
    return np.asarray(1.0 - guess.share[0], np.float32)


def rim_rings(guess: Guess) -> list[Array]:
    """Contours of the metal in window pixels; where the metal leaves the picture the contour is open."""
    share = ndimage.gaussian_filter(metal_share(guess), 0.6)
    rings = [ring[:, ::-1] for ring in find_contours(share, 0.5)]
    return [resample(ring, 1.0) for ring in rings if len(ring) > 12]


def walk_from(rings: list[Array], toe: Array, face_middle: Array, limit: int = 400) -> Array:
    """Rim points from the toe onwards, away from the weld face, window px; empty when there is no rim."""
    if not rings:
        return np.zeros((0, 2))
    gaps = [float(np.hypot(*(ring - toe).T).min()) for ring in rings]
    ring = rings[int(np.argmin(gaps))]
    closed = bool(np.hypot(*(ring[0] - ring[-1])) < 3.0)
    start = int(np.argmin(np.hypot(*(ring - toe).T)))
    towards = int(np.argmin(np.hypot(*(ring - face_middle).T)))
    forward = (start - towards) % len(ring) < len(ring) / 2 if closed else start > towards
    step = 1 if forward else -1
    count = min(limit, len(ring) - 1) if closed else min(limit, len(ring) - 1 - start if forward else start)
    return np.asarray(ring[(start + step * np.arange(count + 1)) % len(ring)])


def straight_run(walk: Array, *, skip: int = 3, tolerance: float = 1.6) -> Array:
    """The first straight stretch of a walk, after `skip` points of toe; window px."""
    best = np.zeros((0, 2))
    for begin in (skip, skip + 5, skip + 12, skip + 22):
        run = _straight_from(walk, begin, tolerance)
        if len(run) > 1.6 * max(len(best), 7):
            best = run
    return best


def _straight_from(walk: Array, begin: int, tolerance: float) -> Array:
    if len(walk) < begin + 8:
        return np.zeros((0, 2))
    size = min(14, len(walk) - begin)
    for _ in range(40):
        fit = fit_line(walk[begin : begin + size], 0.5)
        off = np.abs(fit.line.across(walk[begin:]))
        bad = ndimage.uniform_filter1d((off > tolerance).astype(float), 7, mode="nearest") > 0.5
        reach = int(np.argmax(bad)) if bad.any() else len(off)
        reach = min(reach, 2 * size)
        if reach <= size:
            break
        size = reach
    return walk[begin : begin + size]


def far_side(guess: Guess, run: Array, inward: Array, *, nearest: float = 6.0) -> Array:
    """Where rays from a surface leave the metal again: rough points of the far side, window px."""
    share = ndimage.gaussian_filter(metal_share(guess), 0.6)
    height, width = share.shape
    reach = np.arange(0.0, float(np.hypot(height, width)), 0.5)
    starts = run[:: max(1, len(run) // 80)]
    places = starts[:, None, :] + (reach[None, :, None] * inward)
    light = ndimage.map_coordinates(share, places[..., ::-1].reshape(-1, 2).T, order=1, mode="nearest")
    light = light.reshape(len(starts), len(reach))
    x, y = places[..., 0], places[..., 1]
    within = (x > 1.5) & (x < width - 2.5) & (y > 1.5) & (y < height - 2.5)
    entered = np.maximum.accumulate(light > 0.6, axis=1)
    out = _left(light) & np.roll(entered, 1, axis=1) & (reach > nearest)
    rows, first = np.arange(len(starts)), out.argmax(axis=1)
    return np.asarray(places[rows, first][out[rows, first] & within[rows, first]])


def _left(light: Array) -> NDArray[np.bool_]:
    """Where rays have left the metal for good: a gap as thin as a line, with metal on its far side, is a line in it."""
    out = light < 0.5
    return np.asarray(ndimage.binary_opening(out, np.ones((1, THINNEST))) & out)


def parallel_cluster(points: Array, line: Line, spread: float = 2.5) -> Array:
    """The largest group of points at one distance from a line."""
    if len(points) < 4:
        return np.zeros((0, 2))
    away = line.across(points)
    counts = [(np.abs(away - value) < spread).sum() for value in away]
    middle = away[int(np.argmax(counts))]
    return np.asarray(points[np.abs(away - middle) < spread])
