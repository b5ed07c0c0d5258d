"""Looking for a known line at a known place of another picture: is it there, how wide, how dark, how sharp?"""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import normals, resample
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section.indications.profiles import RISE, bar, fit_profile, half_width, reach_of

Array = NDArray[np.float64]
Look = Literal["dark", "bright", "not seen", "cannot tell", "not in view"]
HALF_STEP = 0.5
"""Distance of samples across the line [px]."""
MOST_ALONG = 1500
LEAST_LENGTH = 24
CHUNK = 24
"""Samples along the line that are averaged before its place is looked for."""
CLEAR = 5.0
"""A line is seen when it stands out by this many standard deviations of the places beside it."""
FAINT = 0.012
"""Light lost that no line is told below, whatever the noise: shading alone does as much."""
COARSEST = 0.25
LEAST_U = 0.3
"""Bends of a line and of its picture that no profile tells [px]; painted lines ask for it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sighting:
    """A line looked for at one place of one picture.

    Parameters
    ----------
    look : dark, bright, not seen, cannot tell, or not in view
    why : one sentence where it is neither dark nor bright
    share : share of its length that this picture shows
    points : (n, 2) where it was found, or where it should be [px]
    width : full width at half depth with the blur taken out [px]; width_limit : what it is surely below [px]
    contrast : light lost (dark) or gained (bright) over light beside, as it is seen; u from the places beside it
    rise : 10 to 90 % rise of its edge [px]
    strength : how far it stands out, in standard deviations of the places beside it
    detectable : contrast that would have been seen here
    """

    look: Look
    why: str
    share: float
    points: Array
    width: Quantity
    width_limit: Quantity
    contrast: Quantity
    rise: Quantity
    strength: float
    detectable: float


def sight(light: NDArray[np.float32], points: Array, *, blur: float, slack: float, expected: float) -> Sighting:
    """Look for a line in a picture.

    Parameters
    ----------
    light : (h, w) grey, 0 to 1
    points : (n, 2) where the line should lie [px]
    blur : standard deviation of the picture's blur [px]
    slack : how far off it may lie [px]
    expected : about how wide it should be [px]
    """
    inside = _inside(points, light.shape, 8.0)
    share = float(inside.mean())
    kept = _longest(points, inside)
    if len(kept) < 2 or _length(kept) < LEAST_LENGTH:
        return _nothing("not in view", "the picture does not show its place", share, points)
    kept = resample(kept, max(1.0, _length(kept) / MOST_ALONG))
    wide = float(np.clip(max(expected, 2 * blur), 2.0, 40.0))
    strip, offsets = _strip(light, kept, 5 * (2 * slack + 2 * wide) + 6)
    found = _best(strip, offsets, slack, wide)
    return replace(_told(strip, offsets, kept, found, blur, wide), share=share)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Found:
    """Where a way through the strip stands out most: sign 1 dark, -1 bright; against the ways beside it."""

    sign: int
    path: Array
    lost: float
    noise: float
    usual: float


def _inside(points: Array, shape: tuple[int, ...], margin: float) -> NDArray[np.bool_]:
    limit = np.array([shape[1], shape[0]]) - 1 - margin
    return np.asarray(((points >= margin) & (points <= limit)).all(axis=1))


def _longest(points: Array, inside: NDArray[np.bool_]) -> Array:
    steps = np.diff(np.concatenate([[0], inside.astype(int), [0]]))
    starts, stops = np.nonzero(steps == 1)[0], np.nonzero(steps == -1)[0]
    if len(starts) == 0:
        return points[:0]
    k = int(np.argmax(stops - starts))
    return points[starts[k] : stops[k]]


def _length(points: Array) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def _strip(light: NDArray[np.float32], points: Array, reach: float) -> tuple[Array, Array]:
    """Light along (rows) and across (columns) the line, over its own local mean; and the places across [px]."""
    offsets = np.arange(-reach, reach + 0.01, HALF_STEP)
    smooth = ndimage.gaussian_filter1d(points, 5, axis=0, mode="nearest") if len(points) > 20 else points
    places = points[:, None, :] + offsets[None, :, None] * normals(smooth)[:, None, :]
    x, y = places[..., 0], places[..., 1]
    left, top = max(0, int(x.min()) - 8), max(0, int(y.min()) - 8)
    part = light[top : int(y.max()) + 9, left : int(x.max()) + 9]
    # Straight interpolation would itself blur a line by about half a pixel.
    values = ndimage.map_coordinates(part, [y - top, x - left], order=3, mode="nearest").astype(float)
    mean = ndimage.gaussian_filter1d(np.median(values, axis=1), 20, mode="nearest")
    return values / np.maximum(mean, 1e-3)[:, None], offsets


def _best(strip: Array, offsets: Array, slack: float, wide: float) -> _Found:
    """The way near the middle that stands out most, dark or bright, and what ways beside it reach by chance."""
    count = max(1, len(strip) // CHUNK)
    rows = np.stack([part.mean(axis=0) for part in np.array_split(strip, count)])
    across = ndimage.gaussian_filter1d(rows, 0.42 * wide / HALF_STEP, axis=1, mode="nearest")
    beside = ndimage.uniform_filter1d(rows, round(3.2 * wide / HALF_STEP) | 1, axis=1, mode="nearest")
    lost = ndimage.gaussian_filter1d(beside - across, 1.0, axis=0, mode="nearest")
    tried = []
    for sign in (1, -1):
        lane = 2 * slack + 2 * wide
        peaks = [_lane(sign * lost, offsets, k * lane, slack) for k in (-4, -3, -2, -1, 0, 1, 2, 3, 4)]
        sums = np.array([peak for peak, _ in peaks])
        others = np.delete(sums, [3, 4, 5])
        # The lanes next to the line hold its flanks; only those further off tell what chance does.
        noise = max(1.48 * float(np.median(np.abs(others - np.median(others)))), 0.5 * float(others.std()), 1e-4)
        path = np.interp(np.arange(len(strip)), (np.arange(count) + 0.5) * len(strip) / count - 0.5, peaks[4][1])
        tried.append(_Found(sign=sign, path=path, lost=float(sums[4]), noise=noise, usual=float(np.median(others))))
    # The flanks of a dark line stand out bright, but less than the line does dark.
    return max(tried, key=lambda one: one.lost - one.usual)


def _lane(lost: Array, offsets: Array, middle: float, slack: float) -> tuple[float, Array]:
    """Mean of the best smooth way within `slack` of a lane's middle, and that way [px across]."""
    near = np.nonzero(np.abs(offsets - middle) <= slack + 1e-6)[0]
    part = lost[:, near]
    # One shift for the whole line first: what is left after that is small.
    centre = int(np.argmax(part.mean(axis=0)))
    room = max(1, round(1.0 / HALF_STEP))
    low, high = max(0, centre - room), min(len(near), centre + room + 1)
    way = low + part[:, low:high].argmax(axis=1)
    return float(part[np.arange(len(part)), way].mean()), offsets[near[way]]


def _told(strip: Array, offsets: Array, points: Array, found: _Found, blur: float, wide: float) -> Sighting:
    strength = (found.lost - found.usual) / found.noise
    detectable = max(CLEAR * found.noise + found.usual, FAINT)
    if strength < CLEAR or found.lost < FAINT:
        empty = _nothing("not seen", "nothing stands out at its place", 1.0, points)
        return replace(empty, strength=float(strength), detectable=detectable)
    aligned = _aligned(strip, offsets, found.path)
    x, mean = offsets[np.abs(offsets) <= 40], aligned.mean(axis=0)[np.abs(offsets) <= 40]
    mean = mean if found.sign > 0 else 2 * float(np.median(mean)) - mean
    near = np.abs(x) <= min(reach_of(x, mean, blur), 3.0 * wide + 4.0 * blur + 3.0)
    width, limit, rise, contrast = _fitted(x[near], mean[near], blur, found.noise)
    shift = ndimage.gaussian_filter1d(found.path, 8, mode="nearest")
    return Sighting(
        look="dark" if found.sign > 0 else "bright", why="", share=1.0,
        points=points + shift[:, None] * normals(points), width=width, width_limit=limit, contrast=contrast, rise=rise,
        strength=float(strength), detectable=detectable,
    )  # fmt: skip


def _aligned(strip: Array, offsets: Array, path: Array) -> Array:
    at = (offsets[None, :] + path[:, None] - offsets[0]) / HALF_STEP
    rows = np.broadcast_to(np.arange(len(strip))[:, None], at.shape)
    return np.asarray(ndimage.map_coordinates(strip, [rows, at], order=3, mode="nearest"))


def _fitted(x: Array, mean: Array, blur: float, noise: float) -> tuple[Quantity, Quantity, Quantity, Quantity]:
    """Width, its upper bound, the rise of its edge and its contrast."""
    sharp, soft = fit_profile(x, mean, blur), fit_profile(x, mean, blur, free_blur=True)
    gain = len(x) * np.log(max(sharp.noise, 1e-9) ** 2 / max(soft.noise, 1e-9) ** 2)
    best = soft if gain > np.log(len(x)) + 4 else sharp
    value = half_width(best.width, float(np.sqrt(max(best.blur**2 - blur**2, 0)))) if best is soft else best.width
    # The blur is known to about a tenth; what that moves the width by is part of u.
    spread = 0.5 * abs(fit_profile(x, mean, 0.9 * blur).width - fit_profile(x, mean, 1.1 * blur).width)
    u = float(np.sqrt(min(best.u_width, 10 * blur) ** 2 + spread**2 + LEAST_U**2))
    resolved = u < COARSEST * value and value > 0.6 * blur
    too_fine = Absent(reason="it is narrower than this picture resolves; see its upper bound")
    width: Quantity = Measured(value=value, u=u, unit="px") if resolved else too_fine
    contrast = best.depth * float(bar(np.zeros(1), best.width, best.blur)[0]) / max(best.level, 1e-6)
    return (
        width,
        Measured(value=value + 2 * u, u=0.0, unit="px"),
        Measured(value=best.rise, u=float(np.sqrt((0.1 * best.rise) ** 2 + 0.2**2)), unit="px"),
        Measured(value=contrast, u=max(noise, 0.05 * contrast), unit=""),
    )


def _nothing(look: Look, why: str, share: float, points: Array) -> Sighting:
    none = Absent(reason=why)
    return Sighting(
        look=look, why=why, share=share, points=points, width=none, width_limit=none, contrast=none, rise=none,
        strength=0.0, detectable=1.0,
    )  # fmt: skip


def blur_of(rise: float | None) -> float:
    """Standard deviation of a picture's blur [px] from the rise of its sharper edges; 1.2 px where there are none."""
    return float(np.clip((rise or 3.0) / RISE, 0.45, 6.0))
