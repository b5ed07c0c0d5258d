"""How sharp a picture is at its sharpest: the rise of its straightest, strongest edges."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.picture.records import Picture
from etchbook.picture.reduce import block_mean, grey

Array = NDArray[np.float64]
TILES = 48
HALF = 20
"""Half length of the profile across an edge [px]."""
ALONG = 5
"""Half width over which profiles are averaged along an edge [px]."""
FEWEST = 4
LEAST_STEP = 0.08
SHARPEST = 0.25
"""The quarter of the edges that rise fastest speaks for the picture: many true edges are soft by nature."""
OFFSETS = np.arange(-HALF, HALF + 0.01, 0.5)
"""Where an edge's profile is sampled across it [px]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Edge:
    """One clear straight edge.

    Parameters
    ----------
    at : (2,) where its light passes half of the step [px]
    normal : (2,) unit vector across it, from dark to light
    rise : 10 to 90 % of the step [px]
    profile : light across it at OFFSETS, 0 on the dark side and 1 on the light one, rising
    low, high : light on its two sides
    """

    at: Array
    normal: Array
    rise: float
    profile: Array
    low: float
    high: float


def edges_at(picture: Picture, places: Iterable[tuple[int, int]]) -> list[Edge]:
    """The clear straight edges at some places (column, row) of a picture; what is none is left out.

    Parameters
    ----------
    places : each within 8 px of an edge
    """
    return [edge for x, y in places if (edge := _edge(picture, x, y)) is not None]


def edge_rise(picture: Picture) -> float | None:
    """10 to 90 % rise of the sharper edges of a picture.

    Parameters
    ----------
    picture : the picture

    Returns
    -------
    float or None
        [px]; None when there are too few clear straight edges to tell.
    """
    rises = [edge.rise for edge in edges_at(picture, _places(picture))]
    return float(np.quantile(rises, SHARPEST)) if len(rises) >= FEWEST else None


def _places(picture: Picture) -> list[tuple[int, int]]:
    """Columns and rows of strong edges, spread over the picture."""
    factor = max(1, min(picture.width, picture.height) // 500)
    light = grey(block_mean(picture.rgb, factor))
    soft = ndimage.gaussian_filter(light, 1.0)
    strength = np.hypot(ndimage.sobel(soft, 0), ndimage.sobel(soft, 1))
    margin = int(np.ceil((HALF + ALONG + 4) / factor)) + 1
    strength[:margin] = strength[-margin:] = 0
    strength[:, :margin] = strength[:, -margin:] = 0
    tile = max(8, int(np.sqrt(strength.size / (2.0 * TILES))))
    places = []
    for top in range(0, strength.shape[0], tile):
        for left in range(0, strength.shape[1], tile):
            part = strength[top : top + tile, left : left + tile]
            y, x = np.unravel_index(int(part.argmax()), part.shape)
            if part[y, x] > 0:
                places.append((float(part[y, x]), int((left + x + 0.5) * factor), int((top + y + 0.5) * factor)))
    places.sort(reverse=True)
    return [(x, y) for _, x, y in places[:TILES]]


def _patch(picture: Picture, x: int, y: int) -> Array:
    reach = HALF + ALONG + 3
    top, left = max(0, y - reach), max(0, x - reach)
    return grey(picture.rgb[top : y + reach + 1, left : x + reach + 1]).astype(float)


def _edge(picture: Picture, column: int, row: int) -> Edge | None:
    """The strongest edge of a patch; None when it is not a clear single step."""
    patch = _patch(picture, column, row)
    if min(patch.shape) < 2 * (HALF + ALONG + 3) + 1:
        return None
    soft = ndimage.gaussian_filter(patch, 1.2)
    gy, gx = ndimage.sobel(soft, 0), ndimage.sobel(soft, 1)
    middle = HALF + ALONG + 3
    near = np.s_[middle - 8 : middle + 9, middle - 8 : middle + 9]
    strength = np.hypot(gx, gy)[near]
    y, x = np.unravel_index(int(strength.argmax()), strength.shape)
    y, x = y + middle - 8, x + middle - 8
    part = np.s_[y - 4 : y + 5, x - 4 : x + 5]
    xx, yy, xy = (gx[part] ** 2).sum(), (gy[part] ** 2).sum(), (gx[part] * gy[part]).sum()
    turn = 0.5 * np.arctan2(2 * xy, xx - yy)
    straight = np.hypot(xx - yy, 2 * xy) / max(xx + yy, 1e-12)
    if straight < 0.9:
        return None
    profile, normal = _profile(patch, float(x), float(y), float(turn)), np.array([np.cos(turn), np.sin(turn)])
    if profile[-1] < profile[0]:
        profile, normal = profile[::-1], -normal
    told = _stepped(profile)
    if told is None:
        return None
    rise, scaled, low, high = told
    at = np.array([column + x - middle, row + y - middle], float) + half_way(scaled) * normal
    return Edge(at=at, normal=normal, rise=rise, profile=scaled, low=low, high=high)


def half_way(profile: Array) -> float:
    """Where a profile, told as shares of its step, passes half of it, nearest the middle [px]."""
    above = profile >= 0.5
    steps = np.nonzero(above[1:] & ~above[:-1])[0]
    if not len(steps):
        return 0.0
    k = int(steps[np.argmin(np.abs(OFFSETS[steps]))])
    share = (0.5 - profile[k]) / max(float(profile[k + 1] - profile[k]), 1e-9)
    return float(OFFSETS[k] + share * (OFFSETS[k + 1] - OFFSETS[k]))


def _profile(patch: Array, x: float, y: float, turn: float) -> Array:
    t = OFFSETS
    s = np.arange(-ALONG, ALONG + 1.0)
    c, n = np.cos(turn), np.sin(turn)
    columns = x + c * t[None, :] - n * s[:, None]
    rows = y + n * t[None, :] + c * s[:, None]
    lines = ndimage.map_coordinates(patch, [rows, columns], order=3, mode="nearest")
    return np.asarray(lines.mean(axis=0))


def _stepped(profile: Array) -> tuple[float, Array, float, float] | None:
    """Rise of a profile, the profile as shares of its step, and both sides' light; None when it is no clear step."""
    middle = len(profile) // 2
    slope = ndimage.gaussian_filter1d(np.gradient(profile), 1.0)
    top = middle - 8 + int(np.argmax(slope[middle - 8 : middle + 9]))
    low_side, high_side = _plateau(profile[:top][::-1]), _plateau(profile[top + 1 :])
    if low_side is None or high_side is None or high_side - low_side < LEAST_STEP:
        return None
    scaled = (profile - low_side) / (high_side - low_side)
    first = _crossing(scaled[: top + 1][::-1], 0.1, falling=True)
    last = _crossing(scaled[top:], 0.9, falling=False)
    if first is None or last is None:
        return None
    return 0.5 * (first + last), np.asarray(scaled), low_side, high_side


def _plateau(side: Array) -> float | None:
    """Level that a side settles at, going away from the edge; None when it goes on sloping."""
    if len(side) < 12:
        return None
    far = side[len(side) // 2 :]
    level = float(np.median(far))
    return level if float(np.ptp(far)) < 0.6 * abs(level - float(side[0])) + 0.02 else None


def _crossing(run: Array, level: float, *, falling: bool) -> float | None:
    beyond = run <= level if falling else run >= level
    if not beyond.any() or beyond[0]:
        return None
    k = int(np.argmax(beyond))
    return k - 1 + float((level - run[k - 1]) / (run[k] - run[k - 1]))
