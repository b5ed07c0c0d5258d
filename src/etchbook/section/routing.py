"""The way along the strongest edge from pin to pin."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.graph import MCP_Geometric

from etchbook.geometry import distances_to_polyline, resample
from etchbook.section.strips import Array

MARGIN = 0.6
"""The window reaches this share of the pins' extent beyond them."""


def route(
    small: NDArray[np.float32], factor: float, pins: Array, *, shun: Array | None = None, soften_px: float = 1.5
) -> Array:
    """Follow the strongest edge through pins in order.

    Parameters
    ----------
    small : (h, w, 3) reduced picture, 0 to 1
    factor : picture pixels per pixel of `small`
    pins : (k, 2) picture px, k >= 2
    shun : (n, 2) a boundary already known, which this one must not run along
    soften_px : smoothing before the slope is taken [px of `small`]

    Returns
    -------
    (m, 2) picture px, through the pins.
    """
    at = (pins + 0.5) / factor - 0.5
    low, cost = _cost(small, at, soften_px)
    if shun is not None:
        cost = _shunned(cost, low, (shun + 0.5) / factor - 0.5, at)
    places = np.clip(np.round(at - low).astype(int), 0, np.array(cost.shape)[::-1] - 1)
    legs = [_leg(cost, tuple(a[::-1]), tuple(b[::-1])) for a, b in pairwise(places)]
    path = np.concatenate(legs)[:, ::-1] + low
    path = _through(path.astype(float), at)
    return np.asarray((resample(path, 1.0) + 0.5) * factor - 0.5)


def _cost(small: NDArray[np.float32], at: Array, soften: float) -> tuple[Array, Array]:
    """The window's upper left corner, and the price of each of its pixels: dear where there is no edge."""
    extent = float(np.ptp(at, axis=0).max())
    shape = np.array(small.shape[1::-1])
    low = np.maximum(np.floor(at.min(axis=0) - MARGIN * extent - 8), 0)
    high = np.minimum(np.ceil(at.max(axis=0) + MARGIN * extent + 9), shape)
    part = small[int(low[1]) : int(high[1]), int(low[0]) : int(high[0])]
    slope = np.zeros(part.shape[:2])
    for channel in range(3):
        soft = ndimage.gaussian_filter(part[..., channel], soften)
        slope += np.hypot(ndimage.sobel(soft, 0), ndimage.sobel(soft, 1)) / 3
    return low, 1.0 / (0.05 + slope / max(float(np.percentile(slope, 99)), 1e-6))


def _shunned(cost: Array, low: Array, known: Array, at: Array) -> Array:
    """Dear ground near a known boundary, but not near the pins, where both meet."""
    rows, columns = np.nonzero(np.ones(cost.shape, bool))
    grid = np.stack([columns, rows], axis=1) + low
    size = float(np.ptp(at, axis=0).max())
    known = known[:: max(1, len(known) // 60)]
    near = distances_to_polyline(grid, known).reshape(cost.shape) < 0.07 * size
    for pin in at:
        near &= (np.hypot(*(grid - pin).T) > 0.12 * size).reshape(cost.shape)
    return np.where(near, cost * 8, cost)


def _leg(cost: Array, start: tuple[int, ...], stop: tuple[int, ...]) -> Array:
    finder = MCP_Geometric(cost)
    finder.find_costs([start], [stop])
    return np.array(finder.traceback(stop))


def _through(path: Array, pins: Array) -> Array:
    """Smooth away the grid's stairs and lead the path exactly through its pins."""
    soft = np.stack([ndimage.gaussian_filter1d(path[:, k], 2.0, mode="nearest") for k in (0, 1)], axis=1)
    index = [int(np.argmin(np.hypot(*(soft - pin).T))) for pin in pins]
    shift = np.zeros_like(soft)
    for k in (0, 1):
        order = np.argsort(index)
        shift[:, k] = np.interp(np.arange(len(soft)), np.array(index)[order], (pins - soft[index])[order, k])
    return np.asarray(soft + shift)
