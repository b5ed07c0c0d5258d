"""Where exactly the toes are: the point at which the rim, coming along the plate, leaves the plate surface line."""

from dataclasses import dataclass

import numpy as np

from etchbook.geometry import LineFit, arc_length
from etchbook.section.draft import ToeFit
from etchbook.section.strips import Array


@dataclass(frozen=True, kw_only=True, slots=True)
class Trust:
    """How far each witness of a toe is to be believed; all of these from simulated sections (moderate, tuning seeds).

    Parameters
    ----------
    guess : standard deviation of the first guess along the surface [its pixels]
    kink_wider, kink_far : the kink's own standard deviation times this; farther from the guess it is another [pixels]
    fused_wider, fused_far : the same for the end of the fusion line
    """

    guess: float
    kink_wider: float
    kink_far: float
    fused_wider: float
    fused_far: float


STEEP = Trust(guess=2.0, kink_wider=2.0, kink_far=6.0, fused_wider=2.6, fused_far=8.0)
"""From 60 sections, seeds 100 to 111."""
FLUSH = Trust(guess=4.0, kink_wider=3.0, kink_far=12.0, fused_wider=2.0, fused_far=20.0)
"""A weld that runs out flush ends in a thin tip, which the first guess rounds off and where no kink is to be seen; the
fusion line, carried on, tells best. From 56 such toes, seeds from 300000: 95th percentile of the error 8.5 pixels with
STEEP, 6.3 with this; of error over uncertainty 4.8 and 3.0."""
SLOPE = 0.4
"""Up to this slope of the weld face beside a toe, against the plate surface, it runs out flush."""
KINK_LEAST = 0.8
"""A kink is never known better than this [pixels of the first guess]."""


def find_toe(line: LineFit, out: Array, chain: Array, fusion: Array, guess: Array, size: float, pixel: float) -> ToeFit:
    """Place a toe from three witnesses: the rim's kink, the fusion line's end and the first guess.

    Parameters
    ----------
    line : plate surface line
    out : (2,) unit normal out of the metal
    chain : (n, 2) rim from the plate beyond this toe onto the weld face
    fusion : (n, 2) fusion line from this toe on
    guess : (2,) where the first guess has the toe
    size : length of the weld face [px]
    pixel : size of the first guess's pixel [px]
    """
    away = line.line.direction
    inner = chain[len(chain) // 2]
    away = away if away @ (guess - inner) > 0 else -away
    u_across = line.u_across(float(line.line.along(guess)[0]))
    trust = FLUSH if _slope(line, out, away, chain, guess, size) < SLOPE else STEEP
    witnesses = [(0.0, trust.guess * pixel)]
    kink = _kink(line, out, away, chain, guess, size, u_across)
    least = KINK_LEAST * pixel
    witnesses += [(at, max(trust.kink_wider * u, least)) for at, u in kink if abs(at) < trust.kink_far * pixel]
    end = _fused_end(line, out, away, fusion, guess, size, 2 * STEEP.guess * pixel, u_across)
    witnesses += [(at, trust.fused_wider * u) for at, u in end if abs(at) < trust.fused_far * pixel]
    shift, u_along = _agreed(witnesses)
    foot = float((guess - line.line.anchor) @ away)
    return ToeFit(point=line.line.anchor + (foot + shift) * away, u_along=u_along, u_across=u_across)


def _slope(line: LineFit, out: Array, away: Array, chain: Array, guess: Array, size: float) -> float:
    """Slope of the weld face a little inside a toe against the surface line, infinite where too little is seen."""
    along, height = (chain - guess) @ away, (chain - line.line.anchor) @ out
    beside = (np.hypot(*(chain - guess).T) < 0.18 * size) & (along < -0.04 * size) & (along > -0.14 * size)
    if beside.sum() < 4:
        return float("inf")
    return abs(float(np.median(height[beside]) / np.median(along[beside])))


def _agreed(witnesses: list[tuple[float, float]]) -> tuple[float, float]:
    """Weighted mean of places and its standard deviation; where they disagree, the scatter counts instead.

    Source: ratio of R. T. Birge, Phys. Rev. 40 (1932) 207 (from memory).
    """
    place = np.array([w[0] for w in witnesses])
    weight = np.array([w[1] for w in witnesses]) ** -2.0
    mean = float((weight * place).sum() / weight.sum())
    own = float(weight.sum() ** -0.5)
    if len(witnesses) < 2:
        return mean, own
    birge = float((weight * (place - mean) ** 2).sum() / (len(place) - 1))
    return mean, own * max(1.0, birge) ** 0.5


def _kink(
    line: LineFit, out: Array, away: Array, chain: Array, guess: Array, size: float, u_across: float
) -> list[tuple[float, float]]:
    """Where the rim leaves the surface line, as (shift from the guess, standard deviation); empty when not seen."""
    near = chain[np.hypot(*(chain - guess).T) <= 0.22 * size + 14.0]
    if len(near) < 16:
        return []
    height = (near - line.line.anchor) @ out
    along = (near - guess) @ away
    level = max(3.0 * line.rms, 1.2)
    start = _leaves(height, level)
    if start is None or start < 3:
        return []
    steep = float(
        np.abs(
            np.gradient(height[start : start + 6]).mean()
            / max(np.abs(np.gradient(along[start : start + 6]).mean()), 1e-6)
        )
    )
    if steep > 1.5:
        found = _back_to_zero(along[start:], height[start:], level, 0.14 * size)
        if found is None:
            return []
        shift, slope, scatter = found
        return [(shift, float(np.hypot(scatter, u_across) / max(slope, 0.3)) + 0.4)]
    return _hinge(along, height, u_across)


def _hinge(along: Array, height: Array, u_across: float) -> list[tuple[float, float]]:
    """Least-squares hinge: level up to a place, then a parabola; its place and standard deviation.

    Every point on both sides counts, so the smoothing that rounds the kink does not shift it.
    """
    inward = -along
    turned = int(np.argmax(np.abs(height) * (np.arange(len(height)) > 4)))
    keep = np.arange(len(height)) <= max(turned, 12)
    inward, height = inward[keep], height[keep]
    places = np.linspace(inward.min() + 2.0, inward.max() - 4.0, 160)
    if places[-1] <= places[0]:
        return []
    misfit, slopes = np.empty(len(places)), np.empty(len(places))
    for k, place in enumerate(places):
        t = np.clip(inward - place, 0.0, None)
        design = np.stack([t, t**2], axis=1)
        solved, *_ = np.linalg.lstsq(design, height, rcond=None)
        misfit[k] = float(((height - design @ solved) ** 2).sum())
        slopes[k] = abs(float(solved[0]))
    best = int(misfit.argmin())
    if best in (0, len(places) - 1):
        return []
    noise = float(np.sqrt(misfit[best] / max(len(height) - 3, 1)))
    slope = max(slopes[best], 0.02)
    # Neighbouring points of a smoothed trace share their error: about one in eight is news.
    own = noise / slope * np.sqrt(8.0 / max(len(height) / 4, 1)) + u_across / slope
    return [(-float(places[best]), float(own) + 0.3)]


def _fused_end(
    line: LineFit, out: Array, away: Array, fusion: Array, guess: Array, size: float, guess_sd: float, u_across: float
) -> list[tuple[float, float]]:
    """Where the fusion line, carried on from a little below, meets the surface line."""
    depth = -((fusion - line.line.anchor) @ out)
    along = (fusion - guess) @ away
    run = arc_length(fusion)
    below = (depth > 0.4 * guess_sd) & (run < 0.22 * size) & (depth < 0.16 * size)
    if below.sum() < 6:
        return []
    order = 2 if below.sum() >= 14 else 1
    fit = np.polyfit(depth[below], along[below], order)
    scatter = float(np.std(along[below] - np.polyval(fit, depth[below])))
    steep = abs(float(fit[-2]))
    if steep > 4.0:
        return []
    return [(float(fit[-1]), float(np.hypot(scatter, steep * u_across)) + 0.12 * guess_sd * (0.5 + steep) + 0.5)]


def _leaves(height: Array, level: float) -> int | None:
    """First index from which the chain is off the line by more than `level`, and stays off for a while."""
    off = np.abs(height) > level
    for index in range(len(off) - 4):
        if off[index : index + 5].all():
            return index
    return None


def _back_to_zero(along: Array, height: Array, level: float, reach: float) -> tuple[float, float, float] | None:
    """Extrapolate the first flank back to the surface line: place along, slope, scatter; None when it is too short."""
    flank = np.abs(along - along[0]) <= max(reach, 4.0)
    turned = np.nonzero(np.sign(height) != np.sign(height[0]))[0]
    if len(turned):
        flank &= np.arange(len(along)) < turned[0]
    flank &= np.abs(height) <= max(np.abs(height[0]) * 8, 6 * level)
    if flank.sum() < 5:
        return None
    # Along as a function of height, a parabola: a steep flank is no trouble that way; its crossing is the value at 0.
    h, a = np.abs(height[flank]), along[flank]
    order = 2 if flank.sum() >= 12 else 1
    fit = np.polyfit(h, a, order)
    scatter = float(np.std(a - np.polyval(fit, h)) / np.sqrt(max(flank.sum() / 4, 1)))
    slope = 1.0 / fit[-2] if abs(fit[-2]) > 1e-6 else 1e6
    return float(fit[-1]), float(abs(slope)), min(scatter, 5.0) * min(abs(slope), 1.0)
