"""Curves that sections are made of."""

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline
from scipy.ndimage import gaussian_filter1d

Array = NDArray[np.float64]


def spline(points: list[tuple[float, float]] | Array, count: int = 240) -> Array:
    """A smooth chain of `count` points through a few."""
    knots = np.array(points, float)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(knots, axis=0).T) ** 0.7)])
    return np.asarray(CubicSpline(run, knots)(np.linspace(0, run[-1], count)))


def normals(chain: Array) -> Array:
    """Unit normals, a quarter turn on from the running direction, (n, 2)."""
    slope = np.gradient(chain, axis=0)
    return np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.maximum(np.hypot(*slope.T), 1e-9)[:, None]


def wavy(chain: Array, size: float, rng: np.random.Generator) -> Array:
    """A chain with a wave of this standard deviation on it that dies out at both ends."""
    wave = gaussian_filter1d(rng.standard_normal(len(chain)), rng.uniform(3, 12))
    wave *= size / max(float(wave.std()), 1e-9) * np.sin(np.linspace(0, np.pi, len(chain)))
    return np.asarray(chain + wave[:, None] * normals(chain))


def beyond(chain: Array, inside: Array, width: float, rng: np.random.Generator) -> Array:
    """Points at a varying distance outside a chain: the HAZ edge opposite each point."""
    out = gaussian_filter1d(normals(chain), 6, axis=0, mode="nearest")
    out /= np.maximum(np.hypot(*out.T), 1e-9)[:, None]
    if float((out * (chain - inside)).sum()) < 0:
        out = -out
    u = np.linspace(0, 1, len(chain))
    vary = 1 + rng.uniform(0, 0.3) * np.sin(2 * np.pi * (rng.uniform(0.3, 1.6) * u + rng.uniform()))
    vary *= 1 + rng.uniform(-0.4, 0.4) * (u - 0.5)
    return np.asarray(chain + (width * vary)[:, None] * out)


def bulged(a: Array, b: Array, bulge: float, skew: float, out: Array) -> Array:
    """A weld face from `a` to `b`, standing `bulge` out of its chord."""
    u = np.linspace(0, 1, 240)[:, None]
    return np.asarray(a + (b - a) * u + out * bulge * 4 * u * (1 - u) * (1 + skew * (u - 0.5)))


def with_toe(face: Array, away: Array, up: Array, undercut: float, overlap: float) -> Array:
    """The face with a groove or a lap at its first point.

    away : unit vector along the plate, away from the weld; up : out of the metal
    undercut : depth of the groove [mm]; overlap : length of the lap [mm]; 0 for none
    """
    length = float(np.hypot(*(face[-1] - face[0])))
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(face, axis=0).T))])
    if undercut > 0:
        wide = min(0.25 * length, max(2.2 * undercut, 0.06 * length))
        join = int(np.argmax(run > wide))
        bottom = face[0] - 0.45 * wide * away - undercut * up
        return np.concatenate([spline([face[0], bottom, face[join], face[join + 8]], 60)[:-1], face[join + 8 :]])
    if overlap > 0:
        join = int(np.argmax(run > 0.16 * length))
        nose = face[0] + overlap * away + 0.35 * overlap * up
        back = face[0] + 0.5 * overlap * away + 0.05 * overlap * up
        return np.concatenate([spline([face[0], back, nose, face[join], face[join + 8]], 80)[:-1], face[join + 8 :]])
    return face
