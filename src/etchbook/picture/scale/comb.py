"""Following graduations along a rule from a place where they were seen."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.picture.scale.seeds import Level, Seed

Array = NDArray[np.float64]
NEAR = 10.0
"""How far along the lean and the step are measured [pitches]."""
STEADY = 0.08
"""Least share of the strip's contrast that must repeat at the pitch; chosen on painted rules and bare textures."""
FEWEST = 10
"""Fewer graduations than this prove no rule."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """The picture along a rule, straightened.

    Parameters
    ----------
    values : (rows across, columns along), high-passed along
    inside : (rows, columns) whether a sample lies in the picture
    step : distance of samples in both directions [px of the level]
    pitch : approximate step of graduations [samples]
    """

    values: Array
    inside: NDArray[np.bool_]
    step: float
    pitch: float


def take_strip(
    level: Level, seed: Seed, along: tuple[float, float], pitch: float, reach: float, span: tuple[float, float]
) -> Array:
    """Light along and across the direction of repeating, (rows, columns), at steps of one pixel or an eighth pitch."""
    x, y = _places(seed, along, pitch, reach, span)
    places = np.stack([y, x]).astype(np.float32)
    return np.asarray(ndimage.map_coordinates(level.light, places, order=1, mode="nearest"), float)


def _places(
    seed: Seed, along: tuple[float, float], pitch: float, reach: float, span: tuple[float, float]
) -> tuple[Array, Array]:
    step = strip_step(pitch)
    half = int(reach * pitch / step)
    t = np.arange(span[0], span[1], step)
    v = np.arange(-half, half + 1) * step
    x = seed.x + along[0] * t[None, :] - along[1] * v[:, None]
    y = seed.y + along[1] * t[None, :] + along[0] * v[:, None]
    return x, y


def strip_step(pitch: float) -> float:
    """Distance of samples that shows a graduation well [px]."""
    return min(1.0, pitch / 8.0)


def _span(level: Level, seed: Seed, along: tuple[float, float]) -> tuple[float, float]:
    """How far one can go both ways before the middle line leaves the picture [px]."""
    low, high = -1e9, 1e9
    for place, run, size in ((seed.x, along[0], level.light.shape[1]), (seed.y, along[1], level.light.shape[0])):
        if abs(run) > 1e-9:
            ends = sorted(((0 - place) / run, (size - 1 - place) / run))
            low, high = max(low, ends[0]), min(high, ends[1])
    return low, high


def high_passed(values: Array, pitch: float) -> Array:
    """Each row less its own course over one and a half pitches."""
    size = max(3, round(1.5 * pitch) | 1)
    course = ndimage.uniform_filter1d(ndimage.uniform_filter1d(values, size, axis=1), size, axis=1)
    return np.asarray(values - course)


def phasor(values: Array, pitch: float, width: float) -> NDArray[np.complex128]:
    """Local strength and phase of what repeats at the pitch, averaged along over `width` pitches."""
    columns = np.arange(values.shape[1])
    turned = values * np.exp(-2j * np.pi * columns / pitch)
    size = max(3, round(width * pitch))
    real = ndimage.uniform_filter1d(turned.real, size, axis=1, mode="constant")
    imag = ndimage.uniform_filter1d(turned.imag, size, axis=1, mode="constant")
    return np.asarray(real + 1j * imag)


def aligned(level: Level, seed: Seed) -> Seed | None:
    """The seed turned and paced as the graduations near it say; None where nothing repeats steadily."""
    along, pitch = seed.along, seed.pitch
    for _ in range(3):
        low, high = _span(level, seed, along)
        low, high = max(low, -NEAR * pitch), min(high, NEAR * pitch)
        step = strip_step(pitch)
        if high - low < 6 * pitch:
            return None
        hp = high_passed(take_strip(level, seed, along, pitch, 5.0, (low, high)), pitch / step)
        slope, stretch, steady = _correction(hp, pitch / step)
        if steady < STEADY:
            return None
        along, pitch = _rotated(along, -math.atan(slope)), pitch * stretch
        if abs(slope) < 2e-4 and abs(stretch - 1) < 2e-4:
            break
    if not 0.75 < pitch / seed.pitch < 1.33:
        return None
    return replace(seed, along=along, pitch=pitch)


def straightened(level: Level, seed: Seed, reach: float) -> tuple[Strip, float, float]:
    """The whole strip along a seed's direction, with the row and the column of the seed in it."""
    span, step = _span(level, seed, seed.along), strip_step(seed.pitch)
    values = high_passed(take_strip(level, seed, seed.along, seed.pitch, reach, span), seed.pitch / step)
    x, y = _places(seed, seed.along, seed.pitch, reach, span)
    height, width = level.light.shape
    inside = (x >= 0) & (x <= width - 1) & (y >= 0) & (y <= height - 1)
    strip = Strip(values=values, inside=inside, step=step, pitch=seed.pitch / step)
    return strip, (values.shape[0] - 1) / 2, -span[0] / step


def leaned(seed: Seed, lean: float) -> Seed:
    """The seed turned by what its graduations still lean (along per across)."""
    return replace(seed, along=_rotated(seed.along, -math.atan(lean)), pitch=seed.pitch * math.cos(math.atan(lean)))


def _rotated(vector: tuple[float, float], turn: float) -> tuple[float, float]:
    c, s = math.cos(turn), math.sin(turn)
    return vector[0] * c - vector[1] * s, vector[0] * s + vector[1] * c


def _correction(hp: Array, pitch: float) -> tuple[float, float, float]:
    """Lean of the graduations (along per across), the factor on the pitch, and how steadily the phase runs (0 to 1)."""
    wave = phasor(hp, pitch, 4.0)
    across = np.sum(wave[1:] * np.conj(wave[:-1]))
    lag = max(1, round(pitch))
    along = np.sum(wave[:, lag:] * np.conj(wave[:, :-lag]))
    lean = float(np.angle(across)) * pitch / (2 * np.pi)
    drift = float(np.angle(along)) / lag
    power = float(np.sum(np.abs(wave) ** 2))
    steady = 2 * power / max(float(np.sum(hp**2)), 1e-12)
    return -lean, 1.0 / max(0.7, 1.0 + drift * pitch / (2 * np.pi)), steady
