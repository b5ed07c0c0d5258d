"""How wide a line is with the picture's blur taken out, or what it is surely below."""

from dataclasses import dataclass

import numpy as np

from etchbook.section.indications.kernels import Kernel
from etchbook.section.indications.profiles import Halo, LineProfile, fit_profile, half_width, reach_of
from etchbook.section.indications.traces import LineTrace

COARSEST = 0.25
"""A width known no better than this share of itself is not told; its upper bound is."""
LEAST_PX = 0.08


@dataclass(frozen=True, kw_only=True, slots=True)
class Width:
    """Full width at half depth of the profile without the picture's blur [px].

    Parameters
    ----------
    value, u : the estimate and its standard uncertainty
    limit : what it is surely below (two standard uncertainties above the estimate)
    resolved : whether the picture resolves it
    """

    value: float
    u: float
    limit: float
    resolved: bool


def width_of(trace: LineTrace, kernel: Kernel) -> Width:
    """The width of a traced line.

    Two models are fitted: a bar with edges as sharp as the picture, and one with softer edges; the second counts
    where the profile is better told by it. What the blur's own uncertainty moves the width by is part of u.
    """
    blur, u_blur, halo = kernel.blur, kernel.u, kernel.halo
    near = np.abs(trace.x) <= reach_of(trace.x, trace.mean, blur)
    x, mean = trace.x[near], trace.mean[near]
    value, statistical = _fitted(x, mean, blur, halo)
    sharper, _ = _fitted(x, mean, max(blur - u_blur, 0.3), halo)
    softer, _ = _fitted(x, mean, blur + u_blur, halo)
    shared = 0.5 * abs(sharper - softer)
    u = float(np.sqrt(statistical**2 + shared**2 + LEAST_PX**2))
    limit = max(value, sharper) + 2.0 * u
    return Width(value=value, u=u, limit=limit, resolved=u < COARSEST * value and value > 0.6 * blur)


def _fitted(x: np.ndarray, mean: np.ndarray, blur: float, halo: Halo) -> tuple[float, float]:
    """Width and its statistical standard uncertainty by the better of the two models."""
    sharp = fit_profile(x, mean, blur, halo=halo)
    soft = fit_profile(x, mean, blur, free_blur=True, halo=halo)
    if not _better(sharp, soft, len(x)):
        return sharp.width, sharp.u_width
    edges = float(np.sqrt(max(soft.blur**2 - blur**2, 0.0)))
    return half_width(soft.width, edges), soft.u_width if soft.u_width < soft.width else sharp.u_width


def _better(sharp: LineProfile, soft: LineProfile, count: int) -> bool:
    """Whether a free blur tells the profile enough better: Schwarz's criterion for one more parameter.

    Source: G. Schwarz, Ann. Statist. 6 (1978) 461 (from memory).
    """
    gain = count * np.log(max(sharp.noise, 1e-9) ** 2 / max(soft.noise, 1e-9) ** 2)
    return bool(gain > np.log(count) + 4.0)
