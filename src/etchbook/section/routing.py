"""The way along the strongest edge from pin to pin."""

from functools import cached_property, lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.graph import MCP_Geometric

from etchbook.geometry import arc_length, normals, resample
from etchbook.section.strips import Array
from etchbook.section.tracing import MOST_PLACES, softened

MARGIN = 0.6
"""The window of a leg reaches this share of its extent beyond its two pins."""
MOST_LEGS = 64
"""Legs that are remembered, so that only those beside a moved pin are found again."""
SOFTEN = 1.5
"""Smoothing before the slope is taken [px of the reduced picture]."""
WIDEST = 30_000
"""A leg whose window has more is looked for over blocks of pixels first."""
DEAR = 8.0
"""How much dearer the ground beside a known boundary is."""
Place = tuple[float, float]


class Ground:
    """The slopes of one reduced picture, and the legs that were found on it a moment ago.

    Parameters
    ----------
    small : (h, w, 3) reduced picture, 0 to 1
    factor : picture pixels per pixel of `small`
    """

    def __init__(self, small: NDArray[np.float32], factor: float) -> None:
        self.small, self.factor = small, factor
        self._steep = lru_cache(maxsize=8)(self._full_edge)
        self._coarse = lru_cache(maxsize=8)(self._block_means)
        self._leg = lru_cache(maxsize=MOST_LEGS)(self._found)

    def __reduce__(self) -> tuple[type["Ground"], tuple[NDArray[np.float32], float]]:
        return Ground, (self.small, self.factor)  # what is remembered can be found again

    @cached_property
    def slope(self) -> NDArray[np.float32]:
        """How steep the light is at each pixel, (h, w)."""
        slope = np.zeros(self.small.shape[:2], np.float32)
        for channel in range(3):
            soft = ndimage.gaussian_filter(self.small[..., channel], SOFTEN)
            slope += np.hypot(ndimage.sobel(soft, 0), ndimage.sobel(soft, 1)) / 3
        return slope

    def route(self, pins: Array, *, shun: Array | None = None) -> Array:
        """Follow the strongest edge through pins in order.

        Parameters
        ----------
        pins : (k, 2) picture px, k >= 2
        shun : (n, 2) a boundary already known, which this one must not run along

        Returns
        -------
        (m, 2) picture px, through the pins.
        """
        at = self._to_small(pins)
        (x0, y0), (x1, y1) = at[[0, -1]].tolist()
        known = b"" if shun is None else self._to_small(shun[:: max(1, len(shun) // 60)]).tobytes()
        steep, size = self._steep((x0, y0), (x1, y1)), max(abs(x1 - x0), abs(y1 - y0))
        legs = [self._leg((a[0], a[1]), (b[0], b[1]), steep, size, known) for a, b in pairwise(at.tolist())]
        path = _through(np.concatenate(legs), at)
        step = max(1.0, float(arc_length(path)[-1]) / MOST_PLACES)
        return np.asarray((resample(path, step) + 0.5) * self.factor - 0.5)

    def _to_small(self, points: Array) -> Array:
        return np.asarray((points + 0.5) / self.factor - 0.5)

    def _full_edge(self, first: Place, last: Place) -> float:
        """What counts as a full edge where a boundary from the first place to the last runs."""
        part = self.slope[_window(np.array([first, last]), self.slope.shape)]
        return max(float(np.percentile(part[::2, ::2], 99)), 1e-6)

    def _block_means(self, factor: int) -> NDArray[np.float32]:
        if factor == 1:
            return self.slope
        rows, columns = (side // factor * factor for side in self.slope.shape)
        blocks = self.slope[:rows, :columns].reshape(rows // factor, factor, columns // factor, factor)
        return np.asarray(blocks.mean(axis=(1, 3)))

    def _found(self, start: Place, stop: Place, steep: float, size: float, known: bytes) -> Array:
        """One leg, (m, 2) px of the reduced picture: over coarse blocks first where it is long, then closely."""
        at = np.array([start, stop])
        rows, columns = _window(at, self.slope.shape)
        places = (rows.stop - rows.start) * (columns.stop - columns.start)
        block = max(1, round((places / WIDEST) ** 0.5))
        slope = self._coarse(block)
        ends = (at + 0.5) / block - 0.5
        window = _window(ends, slope.shape)
        low = np.array([window[1].start, window[0].start])
        dear = np.ones((window[0].stop - window[0].start, window[1].stop - window[1].start), np.float32)
        if known:
            line = (np.frombuffer(known).reshape(-1, 2) + 0.5) / block - 0.5
            dear[_beside(dear.shape, line - low, ends - low, size / block)] = DEAR
        path = _cheapest(dear / (0.05 + slope[window] / steep), ends - low) + low
        return path if block == 1 else self._closely((path + 0.5) * block - 0.5, at, steep, (dear, low, block))

    def _closely(self, path: Array, ends: Array, steep: float, ground: tuple[NDArray[np.float32], Array, int]) -> Array:
        """A coarse way found again pixel by pixel in a strip along it."""
        dear, low, block = ground
        line = softened(np.concatenate([ends[:1], path[1:-1], ends[1:]]), 2.0)
        line = resample(line, 1.0)
        reach = 2 * block + 2
        across = np.arange(-reach, reach + 1.0)[None, :, None] * normals(line)[:, None]
        places = line[:, None] + across
        slope = ndimage.map_coordinates(self.slope, places[..., ::-1].T, order=1, mode="nearest").T
        column, row = np.round((places + 0.5) / block - 0.5 - low).astype(int).T
        rows, columns = dear.shape
        price = dear[np.clip(row, 0, rows - 1), np.clip(column, 0, columns - 1)].T
        step = _cheapest(price / (0.05 + slope / steep), np.array([[reach, 0], [reach, len(line) - 1]]))
        return np.asarray(places[step[:, 1].astype(int), step[:, 0].astype(int)])


def _window(at: Array, shape: tuple[int, ...]) -> tuple[slice, slice]:
    """Rows and columns round places of an array."""
    extent = MARGIN * float(np.ptp(at, axis=0).max())
    most = np.array(shape[::-1])
    low = np.clip(np.floor(at.min(axis=0) - extent - 8), 0, most - 1).astype(int)
    high = np.clip(np.ceil(at.max(axis=0) + extent + 9), low + 1, most).astype(int)
    return slice(low[1], high[1]), slice(low[0], high[0])


def _cheapest(cost: NDArray[np.floating], ends: Array) -> Array:
    """The cheapest way over an array from one end to the other, (m, 2) columns and rows."""
    first, last = np.clip(np.round(ends).astype(int), 0, np.array(cost.shape)[::-1] - 1)[:, ::-1]
    finder = MCP_Geometric(cost)
    finder.find_costs([first], [last])
    return np.array(finder.traceback(last), float)[:, ::-1]


def _beside(shape: tuple[int, ...], known: Array, ends: Array, size: float) -> NDArray[np.bool_]:
    """Dear ground: near a known boundary, but not near the ends of the leg, where both meet."""
    near = np.zeros(shape, bool)
    reach = 0.07 * size
    for place in resample(known, max(1.0, reach / 4)):
        _stamp(near, place, reach, True)
    for place in ends:
        _stamp(near, place, 0.12 * size, False)
    return near


def _stamp(mask: NDArray[np.bool_], place: Array, reach: float, value: bool) -> None:
    """Set what lies within reach of a place."""
    x, y = place
    top, left = max(0, int(y - reach)), max(0, int(x - reach))
    part = mask[top : max(top, int(y + reach) + 2), left : max(left, int(x + reach) + 2)]
    rows, columns = np.ogrid[top : top + part.shape[0], left : left + part.shape[1]]
    part[(rows - y) ** 2 + (columns - x) ** 2 < reach**2] = value


def _through(path: Array, pins: Array) -> Array:
    """Smooth away the grid's stairs and lead the path exactly through its pins."""
    soft = np.stack([ndimage.gaussian_filter1d(path[:, k], 2.0, mode="nearest") for k in (0, 1)], axis=1)
    index = [int(np.argmin(np.hypot(*(soft - pin).T))) for pin in pins]
    shift = np.zeros_like(soft)
    for k in (0, 1):
        order = np.argsort(index)
        shift[:, k] = np.interp(np.arange(len(soft)), np.array(index)[order], (pins - soft[index])[order, k])
    return np.asarray(soft + shift)
