"""Places that can be found again: points with structure in two directions, on every size of a picture."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

Array = NDArray[np.float32]
STEP = 2**0.5
"""Ratio of neighbouring sizes."""
SMALLEST = 72
"""Shorter side of the smallest size that is looked at [px]."""
SIGMA = 1.1
MARGIN = 10


@dataclass(frozen=True, kw_only=True, slots=True)
class Level:
    """One size of a picture.

    Parameters
    ----------
    slopes : (h, w, 2) of the light, along x and along y
    factor : full picture px per px of this size; full = (small + 0.5) * factor - 0.5
    """

    slopes: Array
    factor: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Keypoints:
    """Places on all sizes.

    Parameters
    ----------
    at : (n, 2) px of the picture as given
    size : (n,) px of the picture per px of the size it was found on
    way : (n,) [rad] axis of the place, known up to half a turn
    words : (n, d) what the place looks like along its axis
    """

    at: NDArray[np.float64]
    size: NDArray[np.float64]
    way: NDArray[np.float64]
    words: Array


def levels_of(light: Array, factor: float) -> list[Level]:
    """Sizes of a picture, each √2 smaller than the one before; `factor` is full px per px of `light`."""
    found = []
    soft, size = light, factor
    while min(soft.shape) >= SMALLEST:
        smooth = ndimage.gaussian_filter(soft, SIGMA)
        # Logarithm: a shade over part of a face leaves the slopes as they were.
        level = np.log(np.maximum(smooth, 0) + np.float32(0.06))
        dy, dx = np.gradient(level)
        found.append(Level(slopes=np.stack([dx, dy], axis=2), factor=size))
        soft, size = _smaller(soft), size * STEP
    return found


def _smaller(light: Array) -> Array:
    shape = (int(light.shape[0] / STEP), int(light.shape[1] / STEP))
    blurred = ndimage.gaussian_filter(light, 0.5 * (STEP**2 - 1) ** 0.5 + 0.2)
    y = ((np.arange(shape[0], dtype=np.float32) + 0.5) * STEP - 0.5)[:, None]
    x = ((np.arange(shape[1], dtype=np.float32) + 0.5) * STEP - 0.5)[None, :]
    y, x = np.broadcast_to(y, shape), np.broadcast_to(x, shape)
    return np.asarray(ndimage.map_coordinates(blurred, [y, x], order=1, mode="nearest"), np.float32)


def corners(level: Level, most: int) -> NDArray[np.intp]:
    """(n, 2) columns and rows with structure in two directions, spread over the picture."""
    dx, dy = level.slopes[..., 0], level.slopes[..., 1]
    xx, yy, xy = (ndimage.gaussian_filter(a * b, 2.0) for a, b in ((dx, dx), (dy, dy), (dx, dy)))
    trace = xx + yy
    least = trace / 2 - np.sqrt((xx - yy) ** 2 / 4 + xy**2)
    # Faint grain counts beside a bright edge: what matters is standing out from the surroundings.
    around = ndimage.gaussian_filter(least, 16.0) + np.float32(1e-6)
    score = least / around ** np.float32(0.7)
    peak = (score == ndimage.maximum_filter(score, 7)) & (least > 1e-6)
    peak[:MARGIN] = peak[-MARGIN:] = False
    peak[:, :MARGIN] = peak[:, -MARGIN:] = False
    rows, columns = np.nonzero(peak)
    keep = _spread(rows, columns, score[rows, columns], level.slopes.shape[:2], most)
    return np.stack([columns[keep], rows[keep]], axis=1)


def _spread(
    rows: NDArray[np.intp], columns: NDArray[np.intp], score: Array, shape: tuple[int, ...], most: int
) -> NDArray[np.intp]:
    """The best of each cell of a grid, so that no busy corner takes all."""
    if len(rows) <= most:
        return np.arange(len(rows))
    cell = max(8.0, float(np.sqrt(shape[0] * shape[1] / (most / 4))))
    home = (rows / cell).astype(np.intp) * 10_000 + (columns / cell).astype(np.intp)
    order = np.lexsort((-score, home))
    ranked = home[order]
    first = np.searchsorted(ranked, ranked, side="left")
    kept = order[np.arange(len(order)) - first < 8]
    best = kept[np.argsort(-score[kept], kind="stable")]
    return np.asarray(best[:most])
