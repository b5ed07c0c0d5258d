"""Less picture, the same scene: block means, grey, and light at sub-pixel places."""

import math
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from etchbook.picture.records import Picture

LUMA = np.array([0.2126, 0.7152, 0.0722], np.float32)
"""Weights of red, green and blue in grey: ITU-R BT.709-6, clause 3 (from memory)."""


def reduced(picture: Picture, target_megapixels: float = 1.0) -> tuple[NDArray[np.float32], float]:
    """A picture made small by the mean of whole blocks.

    Parameters
    ----------
    picture : the picture
    target_megapixels : about how many pixels to keep [MP]

    Returns
    -------
    ((h, w, 3) float32 0 to 1, factor)
        full = (small + 0.5) * factor - 0.5 in both x and y. Blocks cut by the right and
        lower border are the mean of what there is.
    """
    pixels = picture.width * picture.height
    factor = max(1, round(math.sqrt(pixels / (target_megapixels * 1e6))))
    return block_mean(picture.rgb, factor), float(factor)


def block_mean(rgb: NDArray[np.uint16], factor: int) -> NDArray[np.float32]:
    """Mean of blocks of `factor` x `factor` pixels, (h, w, 3), 0 to 1."""
    height, width = rgb.shape[:2]
    small = np.empty((-(-height // factor), -(-width // factor), 3), np.float32)
    for row in range(len(small)):
        band = rgb[row * factor : (row + 1) * factor]
        sums = band.sum(axis=0, dtype=np.uint32) if factor > 1 else band[0].astype(np.uint32)
        small[row] = _across(sums, factor) / (65535.0 * len(band))
    return small


def _across(sums: NDArray[np.uint32], factor: int) -> NDArray[np.float64]:
    whole = len(sums) // factor * factor
    parts = sums[:whole].reshape(-1, factor, 3)
    mean = np.zeros((len(parts), 3))
    for index in range(factor):
        mean += parts[:, index]
    mean /= factor
    if whole == len(sums):
        return mean
    return np.concatenate([mean, sums[whole:].mean(axis=0, keepdims=True)])


def grey(colour: NDArray[np.generic]) -> NDArray[np.float32]:
    """Light of (..., 3) colours as one number, 0 to 1; uint16 counts as 0 to 65535."""
    weights = LUMA / np.float32(65535) if colour.dtype == np.uint16 else LUMA
    light = np.empty(colour.shape[:-1], np.float32)
    # A few rows at a time: what is made on the way stays small however large the picture.
    for top in range(0, len(light), 64):
        part, out = colour[top : top + 64], light[top : top + 64]
        np.multiply(part[..., 0], weights[0], out=out, dtype=np.float32)
        for channel in (1, 2):
            out += np.multiply(part[..., channel], weights[channel], dtype=np.float32)
    return light


def sample(
    picture: Picture, points: NDArray[np.float64], how: Literal["bilinear", "cubic"] = "bilinear"
) -> NDArray[np.float32]:
    """Light at sub-pixel places.

    Parameters
    ----------
    picture : the picture; beyond its border it goes on unchanged
    points : (n, 2) places (x, y) [px]
    how : bilinear, or cubic (Catmull-Rom, keeps edges steeper)

    Returns
    -------
    (n, 3) float32, 0 to 1 (cubic may swing a little beyond)
    """
    points = np.asarray(points, float).reshape(-1, 2)
    if not np.isfinite(points).all():
        raise ValueError("places in a picture must be finite numbers")
    kernel, first = (_linear, 0) if how == "bilinear" else (_catmull_rom, -1)
    x = np.clip(points[:, 0], 0, picture.width - 1)
    y = np.clip(points[:, 1], 0, picture.height - 1)
    column, row = np.floor(x).astype(np.intp), np.floor(y).astype(np.intp)
    across, down = kernel(x - column), kernel(y - row)
    light = np.zeros((len(points), 3))
    for j, weight_y in enumerate(down):
        rows = np.clip(row + first + j, 0, picture.height - 1)
        for i, weight_x in enumerate(across):
            columns = np.clip(column + first + i, 0, picture.width - 1)
            light += picture.rgb[rows, columns] * (weight_x * weight_y)[:, None]
    return (light / 65535.0).astype(np.float32)


def _linear(t: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    return [1 - t, t]


def _catmull_rom(t: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Weights of the four neighbours; source: Catmull and Rom 1974, tension one half (from memory)."""
    return [
        0.5 * (-t + 2 * t**2 - t**3),
        0.5 * (2 - 5 * t**2 + 3 * t**3),
        0.5 * (t + 4 * t**2 - 3 * t**3),
        0.5 * (-(t**2) + t**3),
    ]
