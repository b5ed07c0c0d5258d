"""The scale from a scale bar in the picture: one plain, straight, thin block with two square ends."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.picture.records import NoScale, Picture, Scale
from etchbook.picture.reduce import block_mean, grey

Array = NDArray[np.float64]
Mask = tuple[NDArray[np.bool_], NDArray[np.float32]]
LARGEST_MEGAPIXELS = 2.5
LEAST_SHARE = 0.04
"""A bar is at least this share of the picture's longer side."""
LEAST_LENGTH, LEAST_WIDTH = 40.0, 2.5
"""Smaller than this [px] a bar that is not of one strong colour is not told from a scratch."""
MOST_WIDE = 0.035
"""And at most this wide."""
LEAST_ASPECT = 5.0
LEAST_STEP = 0.12
"""Least difference of light at an end of the bar."""
END_U = 0.5
"""Standard uncertainty of an end where it is cut off at whole pixels, in pixels of the picture looked at."""
INSTEAD = "give two points and their distance"
DARK, BRIGHT, STRONG, WEAK = 0.16, 0.86, 0.72, 0.35


@dataclass(frozen=True, kw_only=True, slots=True)
class Bar:
    """A candidate: ends (2, 2) px, length and width [px], and how like a bar it is (0 to 1)."""

    ends: Array
    length: float
    width: float
    likeness: float


def find_bar(picture: Picture, length_mm: float) -> Scale | NoScale:
    """Find a scale bar: burnt in or printed, any one colour, at any angle.

    Parameters
    ----------
    picture : the picture
    length_mm : what the bar stands for [mm]

    Returns
    -------
    Scale or NoScale
        u covers the placing of both ends.
    """
    if not (math.isfinite(length_mm) and length_mm > 0):
        raise ValueError(f"the length of the scale bar must be more than 0 mm, not {length_mm:g}")
    factor = max(1, round(math.sqrt(picture.width * picture.height / (LARGEST_MEGAPIXELS * 1e6))))
    rgb = block_mean(picture.rgb, factor)
    # Burnt-in bars are plain white, black or one strong colour; what lost its colour in the light is sought after them.
    bars = sorted(_bars(rgb, _masks(rgb)) or _confirmed(_bars(rgb, _shades(rgb))), key=lambda bar: -bar.likeness)
    if not bars:
        return NoScale(reason=f"no scale bar was found in the picture; {INSTEAD}")
    best = bars[0]
    rivals = [bar for bar in bars if bar.likeness > 0.85 * best.likeness and abs(bar.length / best.length - 1) > 0.02]
    if rivals:
        return NoScale(reason=f"more than one thing in the picture looks like a scale bar; {INSTEAD}")
    px_per_mm = best.length * factor / length_mm
    return Scale(px_per_mm=px_per_mm, u=px_per_mm * math.sqrt(2) * END_U / best.length, origin="scale bar")


def _confirmed(bars: list[Bar]) -> list[Bar]:
    """Bars that are seen alike at two steps of light at least, are long and have nearly full corners."""
    clear = [bar for bar in bars if bar.likeness > 0.93 and bar.length >= LEAST_LENGTH and bar.width >= LEAST_WIDTH]

    def alike(one: Bar, two: Bar) -> bool:
        # The axis of a bar may be found either way round.
        gaps = [np.abs(one.ends - ends).max() for ends in (two.ends, two.ends[::-1])]
        return one is not two and min(gaps) < 1.5

    return [bar for bar in clear if any(alike(bar, other) for other in clear)]


def _bars(rgb: NDArray[np.float32], masks: Iterable[Mask]) -> list[Bar]:
    long_side = max(rgb.shape[:2])
    found: list[Bar] = []
    for mask, ink in masks:
        labels, _ = ndimage.label(mask)
        for number, place in enumerate(ndimage.find_objects(labels), 1):
            height, width = (part.stop - part.start for part in place)
            if LEAST_SHARE * long_side <= math.hypot(height, width) and not _touches(place, labels.shape):
                bar = _bar(labels, number, place, ink, long_side)
                if bar is not None:
                    found.append(bar)
    return found


def _shades(rgb: NDArray[np.float32]) -> Iterator[Mask]:
    """What is lighter, and what is darker, than each of a few steps of light."""
    light = grey(rgb)
    low, high = (float(q) for q in np.quantile(light[::3, ::3], (0.0005, 0.9995)))
    for step in np.linspace(low, high, 9)[1:-1]:
        yield light > step, light
        yield light < step, 1 - light


def _masks(rgb: NDArray[np.float32]) -> list[Mask]:
    """Where the picture is of one strong colour, and how much it is so: white, black, and the six between."""
    low, high = rgb.min(axis=2), rgb.max(axis=2)
    masks = [(low > BRIGHT, low), (high < DARK, 1 - high)]
    coloured = (high > STRONG) & (low < WEAK)
    if not coloured.any():
        return masks
    which = (rgb > 0.5 * (low + high)[..., None]) @ np.array([1, 2, 4])
    return masks + [(coloured & (which == k), high - low) for k in range(1, 7)]


def _touches(place: tuple[slice, ...], shape: tuple[int, ...]) -> bool:
    return any(part.start == 0 or part.stop == size for part, size in zip(place, shape, strict=True))


def _bar(
    labels: NDArray[np.int32], number: int, place: tuple[slice, ...], ink: NDArray[np.float32], long_side: int
) -> Bar | None:
    """The piece as a bar, if its filled shape is a thin rectangle with square ends."""
    solid = ndimage.binary_fill_holes(labels[place] == number)
    y, x = np.nonzero(solid)
    if len(x) < 20 or np.ptp(x) == 0 or np.ptp(y) == 0:
        return None
    points = np.stack([x, y], axis=1).astype(float)
    middle = points.mean(axis=0)
    _, vectors = np.linalg.eigh(np.cov((points - middle).T) + 1e-9 * np.eye(2))
    along = vectors[:, 1]
    across = np.array([-along[1], along[0]])
    t, v = (points - middle) @ along, (points - middle) @ across
    # A turned row of pixels is measured by its spread, which is exact for a rectangle of any angle.
    length, width = _extent(t), _extent(v)
    if not (length >= LEAST_SHARE * long_side and width <= MOST_WIDE * long_side and length >= LEAST_ASPECT * width):
        return None
    fill = len(points) / (length * width)
    if not 0.9 <= fill <= 1.12:
        return None
    origin = np.array([place[1].start, place[0].start], float) + middle
    low, high = (_end(ink, origin, along * side, length / 2, width) for side in (-1, 1))
    if low is None or high is None:
        return None
    span = low + high
    return Bar(
        ends=np.stack([origin - low * along, origin + high * along]),
        length=span,
        width=width,
        likeness=1 - abs(1 - fill) - abs(span / length - 1),
    )


def _extent(values: Array) -> float:
    """Side of the evenly filled stretch with this spread, pixels counted whole: sqrt(12 var)."""
    return float(math.sqrt(12 * values.var()))


def _end(ink: NDArray[np.float32], middle: Array, along: Array, half: float, width: float) -> float | None:
    """Distance from the middle at which the bar ends: halfway between its own light and what lies beyond.

    None where the end is not a clear single step.
    """
    t = np.arange(0.6 * half, half + max(6.0, width), 0.25)
    v = np.linspace(-0.3, 0.3, 5) * width
    x = middle[0] + along[0] * t[None, :] - along[1] * v[:, None]
    y = middle[1] + along[1] * t[None, :] + along[0] * v[:, None]
    profile = ndimage.map_coordinates(ink, [y, x], order=1, mode="nearest").mean(axis=0)
    on = float(np.median(profile[t < 0.85 * half]))
    beyond = profile[(t > half + 2.0) & (t < half + 6.0)]
    off = float(beyond.min())
    if on - off < LEAST_STEP:
        return None
    below = (profile < 0.5 * (on + off)) & (t > half - max(3.0, 0.5 * width))
    k = int(np.argmax(below))
    if not below.any() or k == 0 or profile[k - 1] <= profile[k]:
        return None
    level = 0.5 * (on + off)
    return float(t[k - 1] + 0.25 * (profile[k - 1] - level) / (profile[k - 1] - profile[k]))
