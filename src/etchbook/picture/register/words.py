"""What a place looks like, told so that dark for light, a mirror and half a turn can be allowed for."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.picture.register.keypoints import Array, Keypoints, Level, corners, levels_of

CELLS = 4
TONES = 4
GRID = 16
SPACING = 2.5
"""Patches are 16 x 16 samples, 2.5 px apart, on each size."""
BINS = 24


def describe(light: Array, factor: float, most: int) -> Keypoints:
    """Places of a picture on all its sizes, and what they look like.

    Parameters
    ----------
    light : (h, w) 0 to 1
    factor : full picture px per px of `light`
    most : places on the largest size; smaller ones get fewer
    """
    parts = []
    for number, level in enumerate(levels_of(light, factor)):
        parts.append(_on_level(level, max(150, int(most * 0.75**number))))
    return Keypoints(
        at=np.concatenate([p.at for p in parts]), size=np.concatenate([p.size for p in parts]),
        way=np.concatenate([p.way for p in parts]), words=np.concatenate([p.words for p in parts]),
    )  # fmt: skip


def _on_level(level: Level, most: int) -> Keypoints:
    places = corners(level, most).astype(float)
    if len(places) == 0:
        nothing = np.zeros(0)
        return Keypoints(
            at=np.zeros((0, 2)), size=nothing, way=nothing, words=np.zeros((0, CELLS * CELLS * TONES), np.float32)
        )
    index, way = _ways(level, places)
    places = places[index]
    words = _words(level, places, way)
    return Keypoints(
        at=(places + 0.5) * level.factor - 0.5, size=np.full(len(places), level.factor), way=way, words=words
    )


def _sampled(level: Level, places: NDArray[np.float64], way: NDArray[np.float64]) -> tuple[Array, Array]:
    """Slopes along and across each place's axis on its patch, (n, GRID, GRID) each: rows run across the axis."""
    reach = (np.arange(GRID) - (GRID - 1) / 2) * SPACING
    c, s = np.cos(way)[:, None, None], np.sin(way)[:, None, None]
    u, v = reach[None, None, :], reach[None, :, None]
    x = places[:, 0, None, None] + c * u - s * v
    y = places[:, 1, None, None] + s * u + c * v
    at = [y.astype(np.float32), x.astype(np.float32)]
    dx, dy = (ndimage.map_coordinates(level.slopes[..., k], at, order=1, mode="constant", cval=0.0) for k in (0, 1))
    c, s = c.astype(np.float32), s.astype(np.float32)
    return dx * c + dy * s, dy * c - dx * s


def _ways(level: Level, places: NDArray[np.float64]) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    """Axes of each place, one or two, and the place they belong to: peaks of the directions of its slopes mod π."""
    dx, dy = _sampled(level, places, np.zeros(len(places)))
    reach = (np.arange(GRID) - (GRID - 1) / 2) * SPACING
    window = np.exp(-(reach[:, None] ** 2 + reach[None, :] ** 2) / (2 * 9.0**2))
    weight = (np.sqrt(np.hypot(dx, dy)) * window).reshape(len(places), -1)
    bins = (np.mod(np.arctan2(dy, dx), np.pi) / np.pi * BINS).astype(np.intp).reshape(len(places), -1) % BINS
    flat = (bins + BINS * np.arange(len(places))[:, None]).ravel()
    count = np.bincount(flat, weight.ravel(), BINS * len(places)).reshape(len(places), BINS)
    count = ndimage.gaussian_filter1d(count, 1.2, axis=1, mode="wrap")
    before, after = np.roll(count, 1, axis=1), np.roll(count, -1, axis=1)
    peak = (count >= before) & (count > after) & (count > 0.85 * count.max(axis=1, keepdims=True))
    index, column = np.nonzero(peak)
    kept = np.concatenate([[True, True], index[2:] != index[:-2]]) if len(index) > 1 else np.ones(len(index), bool)
    index, column = index[kept], column[kept]
    low, mid, high = before[index, column], count[index, column], after[index, column]
    shift = 0.5 * (low - high) / np.minimum(low - 2 * mid + high, -1e-12)
    return index, (column + 0.5 + np.clip(shift, -0.5, 0.5)) * np.pi / BINS


def _words(level: Level, places: NDArray[np.float64], way: NDArray[np.float64]) -> Array:
    along, across = _sampled(level, places, way)
    size = np.hypot(along, across)
    typical = np.sqrt((size**2).mean(axis=(1, 2), keepdims=True)) + np.float32(1e-7)
    # The root keeps one strong edge from drowning all the rest.
    strength = np.sqrt(size / typical)
    twice = 2 * np.arctan2(across, along)
    tones = np.arange(TONES, dtype=np.float32) * np.float32(2 * np.pi / TONES)
    parts = np.maximum(np.cos(twice[..., None] - tones), 0) * strength[..., None]
    pooled = _pooled(_pooled(parts, 1), 2).reshape(len(places), -1)
    pooled /= np.linalg.norm(pooled, axis=1, keepdims=True) + np.float32(1e-9)
    pooled = np.minimum(pooled, np.float32(0.3))
    return np.asarray(pooled / (np.linalg.norm(pooled, axis=1, keepdims=True) + np.float32(1e-9)), np.float32)


def _pooled(parts: Array, axis: int) -> Array:
    """Soft sums over CELLS cells along one axis."""
    place = (np.arange(GRID) + 0.5) / GRID * CELLS - 0.5
    weight = np.maximum(0, 1 - np.abs(place[:, None] - np.arange(CELLS)[None, :])).astype(np.float32)
    return np.asarray(np.moveaxis(np.tensordot(parts, weight, axes=([axis], [0])), -1, axis), np.float32)


def half_turned(words: Array) -> Array:
    """The words of the same place told along the other end of its axis."""
    block = words.reshape(-1, CELLS, CELLS, TONES)
    return np.asarray(block[:, ::-1, ::-1].reshape(len(words), -1))


def mirrored(words: Array) -> Array:
    """The words of the same place seen in a mirror that keeps its axis: across is turned over."""
    block = words.reshape(-1, CELLS, CELLS, TONES)
    back = -np.arange(TONES) % TONES
    return np.asarray(block[:, ::-1][..., back].reshape(len(words), -1))
