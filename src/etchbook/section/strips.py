"""Looking at a picture along a curve: strips of profiles across it, and the best way through them.

A strip is an (n, m) or (n, m, c) array: n places along the curve, m offsets across it.
Offsets run along the curve's normals (a quarter turn on from its running direction).
"""

from dataclasses import dataclass

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray
from scipy import ndimage
from scipy.linalg import solveh_banded

from etchbook.geometry import normals

Array = NDArray[np.float64]
Light = NDArray[np.uint16] | NDArray[np.float32] | NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """Profiles across a curve.

    Parameters
    ----------
    curve : (n, 2) px, evenly spaced
    across : (n, 2) unit normals
    offsets : (m,) px
    values : (n, m, c) light, 0 to 1
    step : spacing of the curve's points [px]
    """

    curve: Array
    across: Array
    offsets: Array
    values: Array
    step: float

    def at(self, offset: Array) -> Array:
        """Points with these offsets, (n,), in the picture, (n, 2)."""
        return np.asarray(self.curve + offset[:, None] * self.across)


def take_strip(rgb: Light, curve: Array, reach: float, spacing: float) -> Strip:
    """Sample a picture along the normals of a curve.

    Parameters
    ----------
    rgb : (height, width, 3), uint16 (0 to 65535) or float (0 to 1)
    curve : (n, 2) px, evenly spaced and smooth enough to have normals
    reach : half width of the strip [px]
    spacing : distance between samples across [px]
    """
    count = int(np.ceil(reach / spacing))
    offsets = np.arange(-count, count + 1, dtype=float) * spacing
    across = normals(curve)
    places = curve[:, None, :] + offsets[None, :, None] * across[:, None, :]
    values = bilinear(rgb, places.reshape(-1, 2)).reshape(len(curve), len(offsets), -1)
    step = float(np.hypot(*np.diff(curve, axis=0).T).mean())
    return Strip(curve=curve, across=across, offsets=offsets, values=values, step=step)


def bilinear(rgb: Light, points: Array) -> Array:
    """Light at sub-pixel places, (n, c), 0 to 1; the picture goes on unchanged beyond its border."""
    height, width = rgb.shape[:2]
    x = np.clip(points[:, 0], 0, width - 1.000001)
    y = np.clip(points[:, 1], 0, height - 1.000001)
    column, row = x.astype(np.intp), y.astype(np.intp)
    fx, fy = (x - column)[:, None], (y - row)[:, None]
    columns, rows = np.minimum(column + 1, width - 1), np.minimum(row + 1, height - 1)
    top = rgb[row, column] * (1 - fx) + rgb[row, columns] * fx
    bottom = rgb[rows, column] * (1 - fx) + rgb[rows, columns] * fx
    unit = 65535.0 if rgb.dtype == np.uint16 else 1.0
    return np.asarray((top * (1 - fy) + bottom * fy) / unit, float)


def smoothed_along(strip_values: Array, width: float) -> Array:
    """A strip averaged along the curve with a Gaussian of this standard deviation [places]."""
    if width < 0.3:
        return strip_values
    return np.asarray(ndimage.gaussian_filter1d(strip_values, width, axis=0, mode="nearest"))


def best_path(cost: Array, *, bend: float, jump: int = 2) -> NDArray[np.intp]:
    """The cheapest way through a cost strip from its first place to its last, (n,) indices of offsets.

    Parameters
    ----------
    cost : (n, m), infinite where the way may not go
    bend : price of moving one offset sideways, per place
    jump : largest sideways move per place

    Source: R. Bellman, Dynamic Programming (1957).
    """
    n, m = cost.shape
    price = bend * np.abs(np.arange(-jump, jump + 1))
    # What lies beyond the strip can never be chosen.
    total = np.full((n, m + 2 * jump), np.inf)
    total[0, jump : jump + m] = cost[0]
    moved, options = sliding_window_view(total, m, axis=1), np.empty((len(price), m))
    for row in range(1, n):
        np.add(moved[row - 1], price[:, None], out=options)
        np.add(options.min(axis=0), cost[row], out=total[row, jump : jump + m])
    path = np.empty(n, np.intp)
    path[-1] = int(total[-1, jump : jump + m].argmin())
    for row in range(n - 1, 0, -1):
        here = path[row]
        path[row - 1] = here - jump + int((moved[row - 1, :, here] + price).argmin())
    return path


def whittaker(values: Array, weight: Array, stiffness: float) -> tuple[Array, Array]:
    """A smooth curve through weighted values: second differences are held small.

    Returns
    -------
    (n,) smooth values and their (n,) posterior standard deviations, when `weight` is 1 / variance.

    Source: E. T. Whittaker, Proc. Edinburgh Math. Soc. 41 (1922) 63 (from memory).
    """
    n = len(values)
    if n < 5:
        return values.copy(), 1.0 / np.sqrt(np.maximum(weight, 1e-12))
    bands = np.zeros((3, n))
    bands[2] = weight
    for k, c in ((0, 1.0), (1, -2.0), (2, 1.0)):
        bands[2, k : n - 2 + k] += stiffness * c * c
    bands[1, 1 : n - 1] += stiffness * -2.0
    bands[1, 2:n] += stiffness * -2.0
    bands[0, 2:] += stiffness
    bands[2] += 1e-12
    smooth = solveh_banded(bands, weight * values)
    # The posterior variance is the diagonal of the inverse; a smoother over about `span` places has it near the
    # mean variance of what it averages.
    span = max(1.0, 2.2 * float(stiffness / max(np.median(weight), 1e-12)) ** 0.25)
    gathered = ndimage.gaussian_filter1d(weight, span / 2, mode="nearest") * max(1.0, span)
    return np.asarray(smooth), np.asarray(1.0 / np.sqrt(np.maximum(gathered, 1e-12)))
