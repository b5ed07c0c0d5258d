"""Where exactly the toes are: the point at which the rim, coming along the plate, leaves the plate surface line."""

import numpy as np

from etchbook.geometry import LineFit
from etchbook.section.draft import ToeFit
from etchbook.section.edges import Trace
from etchbook.section.strips import Array


def find_toe(
    line: LineFit, out: Array, rim: Trace | None, face: Array, guess: Array, size: float, guess_sd: float
) -> ToeFit:
    """Place a toe.

    Parameters
    ----------
    line : plate surface line
    out : (2,) unit normal out of the metal
    rim : the plate surface beside the toe, from the toe outwards; None when it was not traced
    face : (n, 2) weld face from this toe on
    guess : (2,) where the first guess has the toe
    size : length of the weld face [px]
    guess_sd : how far the first guess may be off along the surface [px]
    """
    away = line.line.direction if line.line.direction @ (guess - face[len(face) // 2]) > 0 else -line.line.direction
    chain = _chain(rim, face, guess, 0.25 * size)
    height = (chain - line.line.anchor) @ out
    along = (chain - guess) @ away
    start = _leaves(height, level := max(3.0 * line.rms, 1.2))
    found = None if start is None else _back_to_zero(along[start:], height[start:], level, 0.14 * size)
    u_across = line.u_across(float(line.line.along(guess)[0]))
    foot = float(((guess - line.line.anchor) @ away))
    if found is None:
        return ToeFit(point=line.line.anchor + foot * away, u_along=guess_sd, u_across=u_across)
    shift, slope, scatter = found
    own = float(np.hypot(scatter, u_across) / max(abs(slope), 0.05)) + 0.3
    weight = own**-2 / (own**-2 + guess_sd**-2)
    if abs(shift) > 4 * np.hypot(own, guess_sd):
        return ToeFit(point=line.line.anchor + foot * away, u_along=abs(shift) / 2, u_across=u_across)
    return ToeFit(
        point=line.line.anchor + (foot + weight * shift) * away,
        u_along=float((own**-2 + guess_sd**-2) ** -0.5),
        u_across=u_across,
    )


def _chain(rim: Trace | None, face: Array, guess: Array, reach: float) -> Array:
    """The rim from outside towards the weld: plate surface, then weld face."""
    near = face[np.hypot(*(face - guess).T) <= reach]
    if rim is None:
        return near
    plate = rim.points[np.hypot(*(rim.points - guess).T) <= reach]
    return np.concatenate([plate[::-1], near])


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
    # Along as a function of height, a parabola: a steep flank is no trouble that way, and its crossing is the value at 0.
    h, a = np.abs(height[flank]), along[flank]
    order = 2 if flank.sum() >= 12 else 1
    fit = np.polyfit(h, a, order)
    scatter = float(np.std(a - np.polyval(fit, h)) / np.sqrt(max(flank.sum() / 4, 1)))
    slope = 1.0 / fit[-2] if abs(fit[-2]) > 1e-6 else 1e6
    return float(fit[-1]), float(abs(slope)), min(scatter, 5.0) * min(abs(slope), 1.0)
