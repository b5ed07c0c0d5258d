"""The sub-pixel trace of one line: its middle, its darkness along the way, its pieces and its profile."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import arc_length, normals, resample
from etchbook.section.indications.profiles import LineProfile, fit_profile, reach_of
from etchbook.section.strips import Strip, best_path, take_strip, whittaker

Array = NDArray[np.float64]
Map = NDArray[np.float32]
LEAST_SHARE = 0.35
"""Of a line's usual darkness, what a stretch must have to count as dark: the detection level."""
NARROW = 4.0
"""Most lines are looked for as if this wide [px]."""
WIDEST = 40.0
"""A line wider than this is none [px]."""
CLEAR = 5.0
"""Standard deviations from which a stretch is told from the grain at a glance."""
SEARCH = 10.0
"""How far a rough line may be off [px]."""
THIN = 4
"""Every so many stations are enough to find the way."""
MOST_PROFILES = 500
"""Profiles that one mean is made of; more only cost time, since neighbours share their grain."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LineTrace:
    """One traced line.

    Parameters
    ----------
    points, sd : (n, 2) and (n,) about a pixel apart [px]
    dark : (n,) light lost over light beside, smoothed along
    level : detection level of `dark`
    pieces : (start, stop) of the dark stretches
    profile : of the mean across the dark stretches
    x, mean : that mean profile
    noise : standard deviation of `dark` where nothing is
    """

    points: Array
    sd: Array
    dark: Array
    level: float
    pieces: tuple[tuple[int, int], ...]
    profile: LineProfile
    x: Array
    mean: Array
    noise: float

    @property
    def length(self) -> float:
        """[px]"""
        return float(arc_length(self.points)[-1])

    @property
    def continuity(self) -> float:
        """Share of the length that is dark."""
        return sum(stop - start for start, stop in self.pieces) / max(len(self.points), 1)


def trace_line(
    light: Map, rough: Array, *, blur: float, width: float, along: float, widest: float = WIDEST
) -> LineTrace | None:
    """Trace a line near a rough one, twice where it turns out wider than thought; None where nothing dark is left.

    Parameters
    ----------
    light : (h, w) grey
    rough : (n, 2) [px]
    blur : of the picture, standard deviation [px]
    width : about how wide the line is [px]
    along : over what length to average for one place [px]
    widest : what is wider is only told where nothing finer is there [px]
    """
    if len(rough) < 2 or float(arc_length(rough)[-1]) < 8:
        return None
    tries = [_traced(light, rough, blur, guess, along) for guess in {min(width, NARROW), min(width, 3 * NARROW)}]
    seen = [one for one in tries if one is not None]
    fine = [one for one in seen if one.profile.width <= widest] or seen
    found = max(fine, key=_gathered, default=None)
    if found is None or not 1.6 * width < found.profile.width < WIDEST:
        return found
    wider = _traced(light, rough, blur, found.profile.width, along)
    return found if wider is None or _gathered(wider) < 0.9 * _gathered(found) else wider


def _gathered(found: LineTrace) -> float:
    """How much dark length a trace has taken up."""
    return float(sum(found.dark[start:stop].sum() for start, stop in found.pieces))


def _traced(light: Map, rough: Array, blur: float, width: float, along: float) -> LineTrace | None:
    curve = resample(_softened(resample(_run_on(rough, 1.5 * along), 1.0), along), 1.0)
    reach = float(np.clip(2.2 * width + 4.0 * blur + 3.0, SEARCH + 6.0, 60.0))
    strip = take_strip(light[..., None], curve, reach, 1.0)
    shift, sd = _middle(strip, blur, width, along)
    points = strip.at(shift)
    grid, aligned = _aligned(strip, shift, reach)
    soft = max(along / 4, 1.0)
    dark, noise = _darkness(aligned, grid, blur, width, soft)
    usual = _usual(dark)
    if usual < CLEAR * noise:
        # What hardly stands out of the grain is looked at over a longer stretch.
        soft *= float(np.clip((CLEAR * noise / max(usual, 1e-6)) ** 2, 1.0, 5.0))
        dark, noise = _darkness(aligned, grid, blur, width, soft)
    return _cut(light, points, sd, dark, noise, grid, blur, along)


def _run_on(chain: Array, more: float) -> Array:
    """A chain carried straight on at both ends."""
    few = min(len(chain) - 1, max(1, len(chain) // 4))
    ends = []
    for a, b in ((chain[0], chain[few]), (chain[-1], chain[-1 - few])):
        way = (a - b) / max(float(np.hypot(*(a - b))), 1e-9)
        ends.append(a + more * way)
    return np.concatenate([[ends[0]], chain, [ends[1]]])


def _softened(chain: Array, width: float) -> Array:
    soft = np.stack([ndimage.gaussian_filter1d(chain[:, k], width, mode="nearest") for k in (0, 1)], axis=1)
    soft[0], soft[-1] = chain[0], chain[-1]
    return soft


def _middle(strip: Strip, blur: float, width: float, along: float) -> tuple[Array, Array]:
    """Offset of the darkest place at each station, by matching a dark bar, and its standard deviation."""
    x = strip.offsets
    grey = strip.values[..., 0]
    smooth = ndimage.gaussian_filter1d(grey, along / 2.5, axis=0, mode="nearest")
    size = float(np.hypot(blur, 0.35 * width))
    matched = ndimage.gaussian_filter1d(smooth, size, axis=1, order=2, mode="nearest")
    near = np.abs(x) <= max(2.0 * size + 1.0, SEARCH)
    noise = 1.4826 * float(np.median(np.abs(matched - np.median(matched)))) + 1e-9
    rows = np.arange(len(matched))
    middle = _way(np.where(near[None, :], matched / noise, -50.0))
    window = np.abs(np.arange(len(x))[None, :] - middle[:, None]) <= 2
    top = np.clip(np.where(window, matched, -np.inf).argmax(axis=1), 1, len(x) - 2)
    a, b, c = matched[rows, top - 1], matched[rows, top], matched[rows, top + 1]
    bend = a - 2 * b + c
    part = np.where(bend < -1e-12, 0.5 * (a - c) / np.where(bend < -1e-12, bend, -1.0), 0.0)
    shift = x[top] + np.clip(part, -0.7, 0.7)
    strength = np.maximum(matched[rows, top], 0)
    ratio = strength / noise
    sd = np.clip(1.5 * size / np.maximum(ratio, 0.2), 0.02, 3.0) * np.sqrt(max(along, 1.0))
    sd = np.where(ratio < 2.0, 30.0, sd)
    stiffness = (2.5 * along) ** 4 / 40.0
    weight = 1.0 / sd**2
    smooth_shift, known = whittaker(shift, weight, stiffness * float(np.median(weight)))
    return smooth_shift, known


def _way(score: Array) -> Array:
    """Index of the line at each station: the best way through from end to end."""
    few = score[::THIN]
    path = best_path(-np.clip(few, -50.0, 12.0), bend=0.6, jump=2)
    return np.asarray(np.interp(np.arange(len(score)), np.arange(len(few)) * THIN, path))


def _aligned(strip: Strip, shift: Array, reach: float) -> tuple[Array, Array]:
    """The strip moved so that the line runs down its middle."""
    half = int(reach)
    grid = np.arange(-half, half + 1, dtype=float)
    at = np.clip(shift[:, None] + grid[None, :] - strip.offsets[0], 0, len(strip.offsets) - 1.001)
    low = at.astype(np.intp)
    share = at - low
    rows = np.arange(len(shift))[:, None]
    grey = strip.values[..., 0]
    return grid, np.asarray(grey[rows, low] * (1 - share) + grey[rows, low + 1] * share)


def _darkness(aligned: Array, grid: Array, blur: float, width: float, soft: float) -> tuple[Array, float]:
    """Light lost in the middle over light beside, along the line; and its noise, from places beside the line."""
    core = max(0.5 * width, 0.6 * blur, 0.5)
    far = core + 1.5 * blur + 2.0
    middle = np.abs(grid) <= core
    beside = (np.abs(grid) > far) & (np.abs(grid) <= far + max(4.0, 2 * core))
    level = aligned[:, beside].mean(axis=1)
    dark = 1 - aligned[:, middle].mean(axis=1) / np.maximum(level, 1e-3)
    dark = ndimage.gaussian_filter1d(dark, soft, mode="nearest")
    count = int(middle.sum())
    blanks = []
    for k in range(aligned.shape[1] - count + 1):
        if np.abs(grid[k : k + count]).min() > far:
            blanks.append(1 - aligned[:, k : k + count].mean(axis=1) / np.maximum(level, 1e-3))
    if not blanks:
        return dark, 1e-3
    blank = ndimage.gaussian_filter1d(np.stack(blanks, axis=1), soft, axis=0, mode="nearest")
    blank = blank - np.median(blank, axis=0)
    return dark, max(1.4826 * float(np.median(np.abs(blank))), 1e-4)


def _cut(
    light: Map, points: Array, sd: Array, dark: Array, noise: float, grid: Array, blur: float, along: float
) -> LineTrace | None:
    """What lies between the first and the last dark stretch."""
    usual = _usual(dark)
    level = max(LEAST_SHARE * usual, 2.0 * noise)
    # Half of the usual darkness is passed where a softened end lies exactly.
    runs = _runs(dark > max(level, 0.45 * usual), least=max(3, int(along / 3)), bridge=max(2, int(along / 4)))
    if not runs:
        return None
    first, last = runs[0][0], runs[-1][1]
    if last - first < 6:
        return None
    on = np.concatenate([np.arange(start, stop) for start, stop in runs])
    mean = _profile(light, points, on, grid)
    near = np.abs(grid) <= reach_of(grid, mean, blur)
    profile = fit_profile(grid[near], mean[near], blur)
    keep = slice(first, last)
    return LineTrace(
        points=points[keep], sd=sd[keep], dark=dark[keep], level=level,
        pieces=tuple((start - first, stop - first) for start, stop in runs),
        profile=profile, x=grid, mean=mean, noise=noise,
    )  # fmt: skip


def _usual(dark: Array) -> float:
    """Darkness of the darker half of a line."""
    inner = dark[len(dark) // 6 : len(dark) - len(dark) // 6]
    return float(np.median(inner[inner >= np.median(inner)])) if len(inner) > 3 else float(dark.max())


def _profile(light: Map, points: Array, on: NDArray[np.intp], grid: Array) -> Array:
    """Mean profile across the dark stretches, sampled so that the sampling itself does not widen it."""
    across = normals(points)
    keep = on[:: max(1, len(on) // MOST_PROFILES)]
    places = points[keep, None, :] + grid[None, :, None] * across[keep, None, :]
    return np.asarray(cubic(light, places.reshape(-1, 2)).reshape(len(keep), len(grid)).mean(axis=0))


def cubic(light: Map, points: Array) -> Array:
    """Light at sub-pixel places by Catmull-Rom weights, which keep the second moment of a blur as it is, (n,).

    Source: E. Catmull, R. Rom, A class of local interpolating splines (1974) (from memory).
    """
    height, width = light.shape
    column, row = np.floor(points[:, 0]).astype(np.intp), np.floor(points[:, 1]).astype(np.intp)
    across, down = _weights(points[:, 0] - column), _weights(points[:, 1] - row)
    total = np.zeros(len(points))
    for j in range(4):
        rows = np.clip(row + j - 1, 0, height - 1)
        for i in range(4):
            total += light[rows, np.clip(column + i - 1, 0, width - 1)] * (down[j] * across[i])
    return total


def _weights(t: Array) -> tuple[Array, Array, Array, Array]:
    return (
        0.5 * (-t + 2 * t**2 - t**3),
        0.5 * (2 - 5 * t**2 + 3 * t**3),
        0.5 * (t + 4 * t**2 - 3 * t**3),
        0.5 * (-(t**2) + t**3),
    )


def _runs(flags: NDArray[np.bool_], *, least: int, bridge: int) -> list[tuple[int, int]]:
    """Stretches that are true, small breaks bridged and short ones left out."""
    edges = np.diff(np.concatenate([[0], flags.astype(np.int8), [0]]))
    joined: list[tuple[int, int]] = []
    for start, stop in zip(np.nonzero(edges == 1)[0], np.nonzero(edges == -1)[0], strict=True):
        if joined and start - joined[-1][1] <= bridge:
            joined[-1] = (joined[-1][0], int(stop))
        else:
            joined.append((int(start), int(stop)))
    return [(start, stop) for start, stop in joined if stop - start >= least]
