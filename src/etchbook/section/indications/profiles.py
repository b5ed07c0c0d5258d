"""The grey profile across a line: a bar of some width behind the picture's blur, fitted and undone."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Array = NDArray[np.float64]
Halo = tuple[float, float]
"""Share that sharpening adds and takes away again beside, and how much further that reaches than the blur [px]."""
NO_HALO: Halo = (0.0, 1.0)
RISE = 2.563
"""10 to 90 % rise of a Gaussian edge over its standard deviation: twice 1.2816."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LineProfile:
    """A fitted profile, px and grey.

    Parameters
    ----------
    width : of the bar; u_width : its standard uncertainty from noise alone
    blur : standard deviation of the blur that was fitted or held
    place, depth, level, slope : of the bar, its darkness behind no blur, and the grey beside it
    noise : standard deviation of what the fit leaves
    rise : 10 to 90 % rise of the profile as it is seen
    halo : what sharpening has added, as it was given
    """

    width: float
    u_width: float
    blur: float
    place: float
    depth: float
    level: float
    slope: float
    noise: float
    rise: float
    halo: Halo = NO_HALO

    @property
    def seen(self) -> float:
        """Contrast as it is seen: light lost at the darkest place over light beside."""
        return float(self.depth * bar(np.zeros(1), self.width, self.blur, self.halo)[0]) / max(self.level, 1e-6)


def bar(x: Array, width: float, blur: float, halo: Halo = NO_HALO) -> Array:
    """A bar of height 1 and full width `width` about 0, blurred with a Gaussian (and its halo), at places x."""
    plain = ndtr((x + 0.5 * width) / blur) - ndtr((x - 0.5 * width) / blur)
    if not halo[0]:
        return np.asarray(plain)
    return np.asarray((1 + halo[0]) * plain - halo[0] * bar(x, width, float(np.hypot(blur, halo[1]))))


def design(
    x: Array, width: float, blur: float, place: float, depth: float, *, free_blur: bool, halo: Halo = NO_HALO
) -> Array:
    """Derivatives of a profile by level, slope, depth, place, width (and blur), (n, 5 or 6)."""
    wide = float(np.hypot(blur, halo[1]))
    by_place, by_width, by_blur = (1 + halo[0]) * _slopes(x - place, width, blur)
    if halo[0]:
        more = halo[0] * _slopes(x - place, width, wide)
        by_place, by_width, by_blur = by_place - more[0], by_width - more[1], by_blur - more[2] * blur / wide
    columns = [
        np.ones_like(x), x, -bar(x - place, width, blur, halo), depth * by_place, -depth * by_width,
    ]  # fmt: skip
    if free_blur:
        columns.append(depth * by_blur)
    return np.stack(columns, axis=1)


def _slopes(x: Array, width: float, blur: float) -> Array:
    """How a blurred bar changes with x, with its width and (turned about) with its blur, (3, n)."""
    right, left = (x + 0.5 * width) / blur, (x - 0.5 * width) / blur
    high, low = (np.exp(-0.5 * z**2) / np.sqrt(2 * np.pi) / blur for z in (right, left))
    return np.stack([high - low, 0.5 * (high + low), right * high - left * low])


def fit_profile(
    x: Array, grey: Array, blur: float, *, free_blur: bool = False, halo: Halo = NO_HALO, rounds: int = 40
) -> LineProfile:
    """Fit a dark bar behind a blur to a grey profile by least squares (Gauss-Newton with damping).

    Parameters
    ----------
    x, grey : (n,) places [px] and light
    blur : standard deviation of the blur [px]; the least it may be where `free_blur`
    halo : what sharpening has added to it
    """
    p = _start(x, grey, blur)
    damping, cost = 1e-3, np.inf
    for _ in range(rounds):
        matrix = design(x, p[4], p[5], p[3], p[2], free_blur=free_blur, halo=halo)
        left = grey - _model(x, p, halo)
        square = matrix.T @ matrix
        step = np.linalg.solve(
            square + damping * np.diag(np.diag(square)) + 1e-12 * np.eye(len(square)), matrix.T @ left
        )
        # Steps of width and place are held short: far from the answer the model is anything but straight.
        step[3:] = np.clip(step[3:], -0.4 * (p[4] + blur), 0.4 * (p[4] + blur))
        trial = _bounded(p + np.pad(step, (0, 6 - len(step))), x, blur, free_blur)
        new = float(((grey - _model(x, trial, halo)) ** 2).sum())
        if new < cost:
            done = cost - new < 1e-9 * max(new, 1e-15)
            p, cost, damping = trial, new, max(0.3 * damping, 1e-7)
            if done:
                break
        else:
            damping *= 6
            if damping > 1e6:
                break
    return _told(x, grey, p, free_blur, halo)


def _model(x: Array, p: Array, halo: Halo) -> Array:
    return np.asarray(p[0] + p[1] * x - p[2] * bar(x - p[3], p[4], p[5], halo))


def _start(x: Array, grey: Array, blur: float) -> Array:
    edge = max(2, len(x) // 5)
    level = 0.5 * float(grey[:edge].mean() + grey[-edge:].mean())
    slope = float(grey[-edge:].mean() - grey[:edge].mean()) / max(float(x[-edge:].mean() - x[:edge].mean()), 1e-9)
    place, half, peak = _dip(x, level + slope * x - grey)
    width = float(np.sqrt(max(half**2 - (2.355 * blur) ** 2, (0.6 * blur) ** 2)))
    depth = peak / max(float(bar(np.zeros(1), width, blur)[0]), 0.05)
    return np.array([level, slope, depth, place, width, blur])


def _dip(x: Array, dip: Array) -> tuple[float, float, float]:
    """Place, full width at half depth and depth of the dip nearest the middle."""
    inner = np.nonzero(np.abs(x) <= max(4.0, 0.25 * float(x[-1])))[0]
    top = int(inner[np.argmax(dip[inner])])
    peak = max(float(dip[top]), 1e-6)
    low, high = top, top
    while low > 0 and dip[low - 1] > 0.5 * peak:
        low -= 1
    while high < len(dip) - 1 and dip[high + 1] > 0.5 * peak:
        high += 1
    return float(x[top]), float(x[high] - x[low]) + float(x[1] - x[0]), peak


def reach_of(x: Array, grey: Array, blur: float) -> float:
    """How far to each side a profile need be looked at to know its dip: what lies beyond would only mislead the fit."""
    level = float(np.percentile(grey, 75))
    _, half, _ = _dip(x, level - grey)
    return float(max(8.0, 1.1 * half + 4.0 * blur + 3.0))


def _bounded(p: Array, x: Array, blur: float, free_blur: bool) -> Array:
    reach = float(x[-1])
    p[0] = max(p[0], 1e-4)
    # A line cannot be darker than black: that bounds how narrow a dark one may be.
    p[2] = np.clip(p[2], 1e-6, p[0])
    p[3] = np.clip(p[3], -0.6 * reach, 0.6 * reach)
    p[4] = np.clip(p[4], 0.02, 1.6 * reach)
    p[5] = np.clip(p[5], blur, 0.6 * reach) if free_blur else blur
    return p


def _told(x: Array, grey: Array, p: Array, free_blur: bool, halo: Halo) -> LineProfile:
    left = grey - _model(x, p, halo)
    matrix = design(x, p[4], p[5], p[3], p[2], free_blur=free_blur, halo=halo)
    noise = float(np.sqrt((left**2).sum() / max(len(x) - matrix.shape[1], 1)))
    u = float(bound(x, p[4], p[5], p[3], p[2], noise, free_blur=free_blur, halo=halo))
    return LineProfile(
        width=float(p[4]), u_width=u, blur=float(p[5]), place=float(p[3]), depth=float(p[2]), level=float(p[0]),
        slope=float(p[1]), noise=noise, rise=_rise(float(p[4]), float(p[5])), halo=halo,
    )  # fmt: skip


def bound(
    x: Array, width: float, blur: float, place: float, depth: float, noise: float, *, free_blur: bool = False,
    halo: Halo = NO_HALO,
) -> float:  # fmt: skip
    """Smallest standard deviation with which white noise lets the width be known [px].

    Source: Cramér–Rao bound, H. Cramér, Mathematical Methods of Statistics (1946), 32.3 (from memory).
    """
    matrix = design(x, width, blur, place, depth, free_blur=free_blur, halo=halo)
    information = matrix.T @ matrix / max(noise, 1e-12) ** 2
    return float(np.sqrt(np.linalg.pinv(information, hermitian=True)[4, 4]))


def _rise(width: float, blur: float) -> float:
    """10 to 90 % of the way from beside the line to its darkest place, on one flank."""
    x = np.linspace(-(0.5 * width + 4 * blur), 0, 400)
    shape = bar(x, width, blur)
    shape = shape / shape[-1]
    return float(np.interp(0.9, shape, x) - np.interp(0.1, shape, x))


def half_width(width: float, soft: float) -> float:
    """Full width at half depth of a bar whose own edges have the standard deviation `soft`."""
    if soft < 1e-3 * max(width, 1e-3):
        return width
    x = np.linspace(0, 0.5 * width + 4 * soft, 600)
    shape = bar(x, width, soft)
    return 2 * float(np.interp(0.5 * shape[0], shape[::-1], x[::-1])) if shape[0] > 0 else width
