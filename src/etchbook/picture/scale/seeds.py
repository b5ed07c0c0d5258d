"""Where in a picture something repeats at even steps, as the graduations of a rule do."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy import fft, ndimage

from etchbook.picture.records import Picture
from etchbook.picture.reduce import block_mean, grey

Array = NDArray[np.float64]
WINDOW = 64
STEP = 32
BASE_MEGAPIXELS = 2.2
"""Graduations nearer than about 5 px at 12 MP are not worth the time of the full picture."""
SLOWEST, FASTEST = 5.2, 26.5
"""Repeats in a window that are looked at; below, everything has some slope, above, noise rules."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Level:
    """The picture in grey at one size; full = (small + 0.5) * factor - 0.5."""

    light: NDArray[np.float32]
    factor: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Seed:
    """A place where something repeats.

    Parameters
    ----------
    level : index of the level it was seen in
    x, y : middle of the place, in pixels of that level
    along : unit vector in the direction of repeating
    pitch : step, in pixels of that level
    share : how much of the local contrast the repeating makes, 0 to 1
    support : the sum of the shares of all places in line with this one that repeat likewise
    """

    level: int
    x: float
    y: float
    along: tuple[float, float]
    pitch: float
    share: float
    support: float = 0.0


def levels_of(picture: Picture) -> list[Level]:
    """The picture in grey at halving sizes, the largest about 2 MP."""
    factor = max(1, round(math.sqrt(picture.width * picture.height / (BASE_MEGAPIXELS * 1e6))))
    light = grey(block_mean(picture.rgb, factor)) if factor > 1 else grey(picture.rgb)
    levels = [Level(light=light, factor=float(factor))]
    while min(light.shape) >= 2.5 * WINDOW and len(levels) < 5:
        rows, columns = light.shape[0] // 2 * 2, light.shape[1] // 2 * 2
        even = light[:rows, :columns]
        light = 0.25 * (even[::2, ::2] + even[1::2, ::2] + even[::2, 1::2] + even[1::2, 1::2])
        levels.append(Level(light=light, factor=levels[-1].factor * 2))
    return levels


def find_seeds(levels: list[Level], most: int = 6) -> list[Seed]:
    """The most evenly repeating places, best first; at most `most` a level, and none twice."""
    seeds = [seed for index, level in enumerate(levels) for seed in _supported(_seeds_of(level.light, index))]
    seeds.sort(key=lambda seed: -seed.support)
    kept: list[Seed] = []
    for seed in seeds[:400]:
        full = sum(other.level == seed.level for other in kept) >= most
        if not full and not any(_alike(seed, other, levels) for other in kept):
            kept.append(seed)
    return kept


def _seeds_of(light: NDArray[np.float32], index: int) -> list[Seed]:
    padded = np.pad(light, [(0, WINDOW - n if n < WINDOW else -n % STEP) for n in light.shape], "edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, (WINDOW, WINDOW))[::STEP, ::STEP]
    columns = windows.shape[1]
    stack = windows.reshape(-1, WINDOW, WINDOW)
    spread = stack.std(axis=(1, 2))
    keep = np.nonzero(spread > max(0.004, 0.3 * float(np.median(spread))))[0]
    found = []
    for part in np.array_split(keep, max(1, len(keep) // 512)):
        if len(part):
            found += _peaks(stack[part], part, columns, index)
    return found


def _peaks(stack: NDArray[np.float32], which: NDArray[np.intp], columns: int, index: int) -> list[Seed]:
    # What is slower than the window cares for would leak into everything; it is taken away first.
    flat = stack - ndimage.uniform_filter(stack, (0, 15, 15), mode="reflect")
    power = np.abs(fft.rfft2(flat * _taper(), axes=(1, 2))).astype(np.float32) ** 2
    power *= _annulus()
    total = power.sum(axis=(1, 2))
    best = power.reshape(len(power), -1).argmax(axis=1)
    row, column = np.unravel_index(best, power.shape[1:])
    seeds = []
    for k in range(len(power)):
        ring = power[k]
        fy, fx, energy = _refined(ring, int(row[k]), int(column[k]))
        share = energy / max(float(total[k]), 1e-20)
        length = math.hypot(fx, fy)
        if share < 0.10 or not SLOWEST <= length <= FASTEST:
            continue
        place = int(which[k])
        x = (place % columns) * STEP + WINDOW / 2 - 0.5
        y = (place // columns) * STEP + WINDOW / 2 - 0.5
        along = (fx / length, fy / length)
        seeds.append(Seed(level=index, x=x, y=y, along=along, pitch=WINDOW / length, share=share))
    return seeds


def _supported(seeds: list[Seed]) -> list[Seed]:
    """The seeds with the sum of shares of those that lie in line and repeat alike."""
    seeds = sorted(seeds, key=lambda seed: -seed.share)[:600]
    if not seeds:
        return []
    wave = np.array([(seed.along[0] / seed.pitch, seed.along[1] / seed.pitch) for seed in seeds]) * WINDOW
    place = np.array([(seed.x, seed.y) for seed in seeds])
    share = np.array([seed.share for seed in seeds])
    result = []
    for k, seed in enumerate(seeds):
        gap = np.minimum(np.hypot(*(wave - wave[k]).T), np.hypot(*(wave + wave[k]).T))
        away = np.abs((place - place[k]) @ np.array([-seed.along[1], seed.along[0]]))
        result.append(replace(seed, support=float(share[(gap < 0.8) & (away < 0.6 * WINDOW)].sum())))
    return result


def _taper() -> NDArray[np.float32]:
    ramp = np.hanning(WINDOW + 2)[1:-1].astype(np.float32)
    return np.asarray(np.outer(ramp, ramp), np.float32)


def _annulus() -> NDArray[np.float32]:
    fy = np.fft.fftfreq(WINDOW, 1 / WINDOW)[:, None]
    fx = np.arange(WINDOW // 2 + 1)[None, :]
    radius = np.hypot(fx, fy)
    return np.asarray((radius >= SLOWEST - 1.2) & (radius <= FASTEST + 1), np.float32)


def _refined(power: NDArray[np.float32], row: int, column: int) -> tuple[float, float, float]:
    """Centre of the peak [repeats a window] and the energy in it."""
    weight, sum_x, sum_y = 0.0, 0.0, 0.0
    for dy in (-1, 0, 1):
        for dx in (-1, 0, 1):
            c = column + dx
            if 0 <= c < power.shape[1]:
                value = float(power[(row + dy) % WINDOW, c])
                weight, sum_x, sum_y = weight + value, sum_x + value * dx, sum_y + value * dy
    centre = row if row < WINDOW // 2 else row - WINDOW
    return centre + sum_y / max(weight, 1e-20), column + sum_x / max(weight, 1e-20), weight


def _alike(one: Seed, two: Seed, levels: list[Level]) -> bool:
    """Whether two seeds are the same rule seen twice."""
    f, g = levels[one.level].factor, levels[two.level].factor
    turn = abs(one.along[0] * two.along[1] - one.along[1] * two.along[0])
    if turn > 0.12 or abs(math.log(one.pitch * f / (two.pitch * g))) > 0.08:
        return False
    dx, dy = one.x * f - two.x * g, one.y * f - two.y * g
    across = abs(-dx * two.along[1] + dy * two.along[0])
    along = abs(dx * two.along[0] + dy * two.along[1])
    return across < 0.75 * WINDOW * max(f, g) and along < 20 * WINDOW * max(f, g)
