"""The faces of a plate beside a line: a face told from the whole member may be off where the line lies."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import LineFit, fit_line
from etchbook.section.indications.members import Member
from etchbook.section.indications.scene import Scene
from etchbook.section.records import HAZ, PLATE, SURROUNDINGS
from etchbook.section.strips import take_strip

Array = NDArray[np.float64]
STEP = 3.0
BLOCK = 4
"""Places along a face, so far apart [px], of which so many are averaged."""
BESIDE = 60.0
"""How far beyond the line's ends a face is looked at [px]."""
REACH, LEAST_REACH, MOST_REACH = 0.05, 8.0, 30.0
"""How far off a face may be: share of the thickness, within limits [px]."""
FEWEST = 8
STEEPEST = 6
"""How much more a face may be off at one end than at the other [px]."""
SAME = 2
"""A step this near to the face as it was is the face [px]."""
CLEARER = 1.25
"""How much stronger a step elsewhere must be than the one on the face as it was."""
LEAST_STEP = 0.04
SEAM = 0.5
"""A rim that turns back by this much of its step has a seam along it."""
LEAST_BEND = 0.01
MOST_RMS = 1.2
LEAST_KEPT = 0.6


def with_near_faces(scene: Scene, member: Member, points: Array) -> Member:
    """A member with its faces as the rim of the metal shows them beside a line.

    Parameters
    ----------
    points : (n, 2) of the line [px]
    """
    if member.thickness is None or member.back is None:
        return member
    reach = float(np.clip(REACH * member.thickness, LEAST_REACH, MOST_REACH))
    surface = _near(scene, member.surface, member.inward, points, reach)
    back = _near(scene, member.back, -member.inward, points, reach)
    return replace(member, surface=surface, back=back)


def _near(scene: Scene, face: LineFit, inward: Array, points: Array, reach: float) -> LineFit:
    curve = _beside(face, points)
    if len(curve) < FEWEST * BLOCK:
        return face
    strip = take_strip(scene.light[..., None], curve, reach, 1.0)
    sign = 1.0 if float(strip.across[0] @ inward) > 0 else -1.0
    good = _rim(scene, curve, sign * strip.across, reach)
    if good.sum() < FEWEST * BLOCK:
        return face
    rise = _rise(scene, strip.values[..., 0][good] * sign)
    if rise is None:
        return face
    middles = curve[good][: len(rise) * BLOCK].reshape(len(rise), BLOCK, 2).mean(axis=1)
    places = _places(rise, len(strip.offsets) // 2)
    kept = np.isfinite(places)
    if kept.sum() < max(FEWEST, LEAST_KEPT * len(places)):
        return face
    across = strip.across[0]
    fit = fit_line(middles[kept] + places[kept, None] * across, 0.4)
    return fit if fit.rms < MOST_RMS else face


def _beside(face: LineFit, points: Array) -> Array:
    """Places on a face beside a line, evenly spaced."""
    run = face.line.along(points)
    at = np.arange(float(run.min()) - BESIDE, float(run.max()) + BESIDE, STEP)
    return np.asarray(face.line.anchor + at[:, None] * face.line.direction)


def _rim(scene: Scene, curve: Array, inward: Array, reach: float) -> NDArray[np.bool_]:
    """Where plate lies on the one side and none on the other, in the picture."""
    far = reach + 1.5 * scene.regions.factor
    inner, outer = curve + far * inward, curve - far * inward
    rim = np.isin(scene.label(inner), (PLATE, HAZ)) & (scene.label(outer) == SURROUNDINGS)
    return np.asarray(rim & scene.in_picture(inner, 2.0) & scene.in_picture(outer, 2.0))


def _rise(scene: Scene, values: Array) -> Array | None:
    """How clearly the rim shows, (blocks, offsets): how fast the light turns to the metal's, or where its seam lies.

    None where both sides are alike. A polished rim is rounded and often shows a dark or a light seam along the very
    edge; where there is one, its middle is the edge and not the steeper of its two flanks.
    """
    count = len(values) // BLOCK
    blocks = values[: count * BLOCK].reshape(count, BLOCK, -1).mean(axis=1)
    few = max(2, blocks.shape[1] // 6)
    step = float(np.median(blocks[:, -few:].mean(axis=1) - blocks[:, :few].mean(axis=1)))
    size = max(scene.blur, 1.0)
    slope = np.sign(step) * ndimage.gaussian_filter1d(blocks, size, axis=1, order=1, mode="nearest")
    along = np.median(slope, axis=0)
    if -float(along.min()) > SEAM * float(along.max()):
        bend = ndimage.gaussian_filter1d(blocks, size, axis=1, order=2, mode="nearest")
        usual = np.median(bend, axis=0)
        dark = float(usual.max()) > -float(usual.min())
        return np.asarray(np.maximum(bend if dark else -bend, 0.0)) if np.abs(usual).max() > LEAST_BEND else None
    return np.asarray(np.maximum(slope, 0.0)) if abs(step) > LEAST_STEP else None


def _places(rise: Array, middle: int) -> Array:
    """Offset of the step in each block, nan where it is not on the straight way that gathers most."""
    best = _straight(rise, middle)
    rows = np.arange(len(rise))
    near = np.stack([np.clip(best + off, 1, rise.shape[1] - 2) for off in range(-SAME, SAME + 1)], axis=1)
    top = near[rows, rise[rows[:, None], near].argmax(axis=1)]
    a, b, c = rise[rows, top - 1], rise[rows, top], rise[rows, top + 1]
    bend = a - 2 * b + c
    peak = (b >= a) & (b >= c) & (bend < 0)
    return np.where(peak, top - middle + 0.5 * (a - c) / np.where(peak, bend, -1.0), np.nan)


def _straight(rise: Array, middle: int) -> NDArray[np.intp]:
    """Column in each block of the straight way that gathers most; the face as it was where that is nearly as good."""
    # The square root keeps a few dazzling blocks from outweighing all others.
    gain = np.sqrt(ndimage.maximum_filter1d(rise, 3, axis=1))
    share = np.linspace(0, 1, len(gain))
    rows, columns = np.arange(len(gain)), gain.shape[1]
    best, held = (0.0, middle, middle), (0.0, middle, middle)
    for first in range(columns):
        for last in range(max(0, first - STEEPEST), min(columns, first + STEEPEST + 1)):
            way = np.round(first + (last - first) * share).astype(np.intp)
            total = float(gain[rows, way].sum())
            best = max(best, (total, first, last))
            if max(abs(first - middle), abs(last - middle)) <= SAME:
                held = max(held, (total, first, last))
    _, first, last = best if best[0] > np.sqrt(CLEARER) * held[0] else held
    return np.asarray(np.round(first + (last - first) * share), np.intp)
