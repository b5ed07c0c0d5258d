"""How near the edge tracer comes to what noise and blur allow, on painted straight steps."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from etchbook.section.edges import Trace, trace
from etchbook.section.strips import take_strip

Array = NDArray[np.float64]
LENGTH = 300
ALONG, STIFF, PRIOR = 6.0, 24.0, 3.0
"""As for the face of a 10 mm weld at 40 px/mm [px]."""
REPEATS = 40
REACH = 50
"""Columns on either side whose weight is looked for."""
ANGLES = (0.0, 7.0, 31.0)
CASES = [(a, n, s) for s in (1.0, 2.0, 4.0) for a, n in ((0.3, 0.01), (0.2, 0.02), (0.1, 0.02), (0.1, 0.03))]


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """A straight edge of light `height` [0 to 1], `blur` [px], under white noise of standard deviation `noise`."""

    height: float
    noise: float
    blur: float
    angle: float = 0.0


def bound(step: Step, profiles: float) -> float:
    """Cramér–Rao bound of the place of a blurred step averaged over so many unit profiles [px].

    Source: 1.883 √σ σn / (A √N), derived and checked by Monte Carlo in the project's research notes.
    """
    return float(1.883 * np.sqrt(step.blur) * step.noise / (step.height * np.sqrt(profiles)))


def picture(step: Step, rng: np.random.Generator, bent: Array | None = None) -> tuple[Array, Array, Array]:
    """Light (h, w, 3), a point of the true edge and the direction along it; `bent` displaces single columns [px]."""
    way = np.array([np.cos(np.deg2rad(step.angle)), np.sin(np.deg2rad(step.angle))])
    wide = int(LENGTH * way[0]) + 80
    high = int(LENGTH * way[1]) + 2 * int(8 * step.blur) + 60
    point = np.array([wide / 2, high / 2]) + rng.uniform(-0.5, 0.5, 2)
    y, x = np.mgrid[:high, :wide]
    off = (y - point[1]) * way[0] - (x - point[0]) * way[1] - (0.0 if bent is None else bent)
    grey = 0.5 + step.height * (ndtr(off / step.blur) - 0.5) + step.noise * rng.normal(size=off.shape)
    return np.repeat(grey[..., None], 3, axis=2), point, way


def traced(step: Step, light: Array, point: Array, way: Array, guess: float) -> tuple[Array, Trace]:
    """Offsets of the traced edge from the true one, (n,) px, from a guess that lies off by `guess`."""
    across = np.array([-way[1], way[0]])
    run = np.arange(-LENGTH / 2, LENGTH / 2)[:, None]
    curve = point + run * way + guess * across
    strip = take_strip(light, curve, max(12.0, 7 * step.blur), 0.5)
    found = trace(strip, prior_sd=PRIOR, along_px=ALONG, stiffness_px=STIFF)
    return (found.points - point) @ across, found


def profiles_averaged(blur: float, repeats: int = 16) -> tuple[float, float]:
    """How many profiles one traced point averages, (Σw)²/Σw², and Σw, with the weights w found by shaking.

    Every column of a painted edge is displaced at random by a known little; what the traced points
    move by, correlated with those displacements, gives the weight of a column so many pixels away.
    """
    step, sd = Step(height=0.3, noise=0.02, blur=blur), 0.2
    weight = np.zeros(2 * REACH + 1)
    for k in range(repeats):
        light, point, way = picture(step, np.random.default_rng([7, k]))
        shaken: Array = sd * np.random.default_rng([8, k]).standard_normal((light.shape[1],))
        moved, _, _ = picture(step, np.random.default_rng([7, k]), shaken[None, :])
        after, before = [traced(step, one, point, way, 0.0)[0] for one in (moved, light)]
        columns = np.asarray(np.rint(point[0] + np.arange(-LENGTH / 2, LENGTH / 2)), np.intp)
        for place in range(REACH, LENGTH - REACH):
            near = shaken[columns[place] - REACH : columns[place] + REACH + 1]
            weight += (after - before)[place] * near
    weight /= repeats * (LENGTH - 2 * REACH) * sd**2
    return float(weight.sum() ** 2 / (weight**2).sum()), float(weight.sum())


def run_edges(repeats: int = REPEATS) -> dict[str, Any]:
    """Every case, traced many times at several angles."""
    averaged = {blur: profiles_averaged(blur) for blur in sorted({case[2] for case in CASES})}
    rows = [_measured(Step(height=a, noise=n, blur=s), averaged[s][0], repeats) for a, n, s in CASES]
    return {"rows": rows, "weights": {str(blur): found for blur, found in averaged.items()}, "repeats": repeats}


def _measured(case: Step, averaged: float, repeats: int) -> dict[str, float]:
    means, squares, said = [], [], []
    for angle in ANGLES:
        step = Step(height=case.height, noise=case.noise, blur=case.blur, angle=angle)
        for k in range(repeats):
            rng = np.random.default_rng([11, int(angle), k])
            light, point, way = picture(step, rng)
            off, found = traced(step, light, point, way, float(rng.uniform(-1.5, 1.5)))
            inner = off[LENGTH // 4 : -LENGTH // 4]
            means.append(float(off.mean()))
            squares.append(float((inner**2).mean()))
            said.append(float(np.median(found.sd)))
    rms = float(np.sqrt(np.mean(squares)))
    return {
        "height": case.height,
        "noise": case.noise,
        "blur": case.blur,
        "rms": rms,
        "point_ratio": rms / bound(case, averaged),
        "line_ratio": float(np.sqrt(np.mean(np.square(means)))) / bound(case, LENGTH),
        "bias": float(np.mean(means)),
        "bias_sd": float(np.std(means) / np.sqrt(len(means))),
        "said": float(np.mean(said)) / rms,
    }
