"""Patches of two pictures laid on each other: how far each has still to be shifted, whatever its contrast."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import fft, ndimage

from etchbook.picture.register.keypoints import Array
from etchbook.picture.register.motion import Matrix, Points, moved

PATCH = 48
"""Side of a patch [px of the frame in which patches are compared]."""
MARGIN = 4
"""Samples round a patch that only the slopes need."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """One picture's light at one size; full = (small + 0.5) * factor - 0.5."""

    light: Array
    factor: float

    def at(self, points: Points) -> Array:
        """Light at full-size places (..., 2)."""
        small = (points + 0.5) / self.factor - 0.5
        places = [small[..., 1].astype(np.float32), small[..., 0].astype(np.float32)]
        return np.asarray(ndimage.map_coordinates(self.light, places, order=1, mode="nearest"), np.float32)


@dataclass(frozen=True, kw_only=True, slots=True)
class Shifts:
    """Remaining shifts of patches, in px of the coarser picture.

    Parameters
    ----------
    at : (n, 2) middles of the patches
    shift : (n, 2) how far the finer picture's patch lies from where the motion puts it
    like : (n,) correlation at the best place
    sharp : (n,) 0 for a patch that could slide along an edge, 1 for one that is held both ways
    room : half width of the search [px]
    still : (n,) correlation where the motion puts it
    """

    at: Points
    shift: Points
    like: NDArray[np.float64]
    sharp: NDArray[np.float64]
    room: float
    still: NDArray[np.float64]


def shifts(coarse: Sheet, fine: Sheet, matrix: Matrix, middles: Points, *, step: float, room: int) -> Shifts:
    """Compare patches round `middles`.

    Parameters
    ----------
    matrix : takes px of the coarse to px of the fine picture
    middles : (n, 2) px of the coarse picture
    step : px of the coarse picture from sample to sample
    room : how many samples to search each way
    """
    one = _directions(coarse.at(_grid(middles, step, PATCH)))
    wide = PATCH + 2 * room
    two = _directions(fine.at(_moved(matrix, _grid(middles, step, wide))))
    surface = _correlated(one, two)
    return _peaks(surface, middles, step, room)


def _grid(middles: Points, step: float, side: int) -> Points:
    run = (np.arange(side + 2 * MARGIN) - (side + 2 * MARGIN - 1) / 2) * step
    x, y = np.meshgrid(run, run)
    return np.asarray(middles[:, None, None, :] + np.stack([x, y], axis=-1)[None])


def _moved(matrix: Matrix, grid: Points) -> Points:
    return np.asarray(moved(matrix, grid.reshape(-1, 2)).reshape(grid.shape))


def _directions(light: Array) -> NDArray[np.complex64]:
    """Directions of the slopes told at twice their angle, so that a change from dark to bright changes nothing."""
    smooth = ndimage.gaussian_filter(light, (0, 1.0, 1.0))
    level = np.log(np.maximum(smooth, 0) + np.float32(0.06))
    slope = np.gradient(level, axis=2) + 1j * np.gradient(level, axis=1)
    slope = slope[:, MARGIN:-MARGIN, MARGIN:-MARGIN].astype(np.complex64)
    size = np.abs(slope)
    typical = np.sqrt((size**2).mean(axis=(1, 2), keepdims=True)) + np.float32(1e-6)
    field = slope**2 / np.maximum(size, 1e-9) / np.sqrt(size + typical)
    return np.asarray(field, np.complex64)


def _correlated(one: NDArray[np.complex64], two: NDArray[np.complex64]) -> NDArray[np.float64]:
    """(n, 2 room + 1, 2 room + 1) correlation of each patch with each place of its wider partner."""
    wide, side = two.shape[1], one.shape[1]
    size = fft.next_fast_len(wide)
    spectrum = fft.fft2(two, (size, size)) * np.conj(fft.fft2(one, (size, size)))
    count = wide - side + 1
    product = fft.ifft2(spectrum)[:, :count, :count].real
    power = np.cumsum(np.cumsum(np.pad(np.abs(two) ** 2, ((0, 0), (1, 0), (1, 0))), axis=1, dtype=np.float64), axis=2)
    under = power[:, side:, side:] - power[:, :-side, side:] - power[:, side:, :-side] + power[:, :-side, :-side]
    own = (np.abs(one) ** 2).sum(axis=(1, 2), dtype=np.float64)[:, None, None]
    return np.asarray(product / np.sqrt(np.maximum(under, 1e-9) * np.maximum(own, 1e-9)))


def _peaks(surface: NDArray[np.float64], middles: Points, step: float, room: int) -> Shifts:
    count, side = surface.shape[0], surface.shape[1]
    best = surface.reshape(count, -1).argmax(axis=1)
    row, column = np.clip(best // side, 1, side - 2), np.clip(best % side, 1, side - 2)
    n = np.arange(count)

    def value(dy: int, dx: int) -> NDArray[np.float64]:
        return np.asarray(surface[n, row + dy, column + dx])

    mid = value(0, 0)
    gx, gy = (value(0, 1) - value(0, -1)) / 2, (value(1, 0) - value(-1, 0)) / 2
    xx, yy = value(0, 1) + value(0, -1) - 2 * mid, value(1, 0) + value(-1, 0) - 2 * mid
    xy = (value(1, 1) - value(1, -1) - value(-1, 1) + value(-1, -1)) / 4
    det = np.maximum(xx * yy - xy**2, 1e-9)
    dx, dy = np.clip((xy * gy - yy * gx) / det, -0.7, 0.7), np.clip((xy * gx - xx * gy) / det, -0.7, 0.7)
    spread = np.sqrt(((xx - yy) / 2) ** 2 + xy**2)
    steep, flat = -(xx + yy) / 2 + spread, -(xx + yy) / 2 - spread
    edge = (row == 1) | (row == side - 2) | (column == 1) | (column == side - 2)
    sharp = np.where(edge, 0.0, np.clip(flat / np.maximum(steep, 1e-9), 0, 1))
    shift = np.stack([column + dx - room, row + dy - room], axis=1) * step
    return Shifts(at=middles, shift=shift, like=mid, sharp=sharp, room=room * step, still=surface[:, room, room])
