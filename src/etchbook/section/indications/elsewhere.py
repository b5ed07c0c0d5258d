"""Lines of any other direction: cracks, laps, single scratches, what lies on or beside the fusion line."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from etchbook.quantity import Measured, Quantity
from etchbook.section.indications.candidates import Candidate
from etchbook.section.indications.describing import from_faying, member_at
from etchbook.section.indications.gaps import on_gap
from etchbook.section.indications.ridges import Ridge, linked, rough_line
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.scratches import Population, nearest_angle
from etchbook.section.indications.sieve import at_rim, bent_on, haz_band, inked, printed, seam
from etchbook.section.indications.traces import LineTrace, trace_line

Array = NDArray[np.float64]
MOST, MOST_LINKED = 40, 80
"""Ridges that are looked at, and that may be pieces of one line."""
STEP = 6.0
LEAST_MM, LEAST_PX = 0.8, 24.0
LEAST_SEEN = 0.12
LEAST_CONTINUITY = 0.55
DARK = 0.4
"""A line this dark is one however uneven what lies beside it is."""
WIDEST_MM = 0.4
ABOVE_RIVALS = 1.6
ABOVE_SCRATCHES = 2.0
CLOSE = 6.0
ALONG_DEGREES = 3.0
MOST_ASLANT = 2.0
PLAIN_MEAN, PLAIN_CONTRAST = 2.2, 0.3
"""A line this dark in every cell, with no light one near its strength, is more than a scratch of a population."""
PLAIN_SEEN, PLAIN_HEIGHT = 0.25, 20.0
"""What a line on a scratched face must have of contrast or of height above the grain."""
LEAST_STRENGTH = 60.0
CLEAR_OF_SCRATCHES, ROLLED_DEGREES, LEAST_ROLLED, ROLLED_SCORE, ROLLED_RATIO = 10.0, 1.0, 0.3, 60.0, 2.5
"""Angle from all scratches and to the plate [°], share of the plate, score, and score over the strongest light line's,
from which a faint line on a scratched face is the plate's own."""


def elsewhere(
    scene: Scene, ridges: Sequence[Ridge], scratches: Sequence[Population], known: Sequence[LineTrace]
) -> list[Candidate]:
    """Candidates that are not along a plate, strongest first.

    Parameters
    ----------
    ridges : of the whole metal, strongest first
    scratches : populations that single scratches belong to
    known : lines that were found already
    """
    found: list[Candidate] = []
    held = [trace.points for trace in known]
    grain = grain_of(scene, ridges)
    long = [one for one in linked(ridges[:MOST_LINKED]) if one.sign > 0 and one.length >= _least(scene)]
    for ridge in long[:MOST]:
        if why_not(scene, ridge, grain, scratches) or _known(ridge.points, held):
            continue
        trace = trace_line(scene.light, rough_line(ridge, STEP), blur=scene.blur, width=4.0, along=STEP)
        if trace is None or no_line(scene, trace, scratched=bool(scratches)):
            continue
        held.append(trace.points)
        found.append(_candidate(scene, ridge, trace))
    return found


def _least(scene: Scene) -> float:
    return float(max(LEAST_MM * scene.mm, LEAST_PX))


def _known(points: Array, held: list[Array]) -> bool:
    return any(float((cKDTree(other).query(points)[0] < CLOSE).mean()) > 0.5 for other in held)


def why_not(scene: Scene, ridge: Ridge, ridges: Sequence[Ridge], scratches: Sequence[Population]) -> str:
    """Why a ridge need not be looked at; "" where it should be."""
    if _along_plate(scene, ridge):
        return "lines along a plate are looked for over its whole length"
    if ridge.strength < LEAST_STRENGTH:
        return "it hardly stands out of the grain"
    if ridge.breadth > 0.22 * ridge.length:
        return "it is no line"
    for one in scratches:
        gap = nearest_angle([one], ridge.way)
        near = isinstance(gap, Measured) and gap.value < 3.0 + 2.0 * one.spread
        if near and ridge.strength < ABOVE_SCRATCHES * one.strength:
            return "it is one of many scratches"
    rivals = [one.strength for one in ridges if _rival(one, ridge)]
    if rivals and ridge.strength < ABOVE_RIVALS * max(rivals):
        return "others in the same metal are as strong"
    return ""


def _along_plate(scene: Scene, ridge: Ridge) -> bool:
    """Whether a ridge runs along the plate it lies in, off its faces."""
    member = member_at(scene, ridge.points)
    if member is None or abs(float(ridge.way @ member.way)) < np.cos(np.radians(ALONG_DEGREES)):
        return False
    deep, height = member.depth(ridge.points), member.height(ridge.points)
    nearest = deep if height is None else np.minimum(deep, height)
    return bool(nearest.min() > 0.12 * (member.thickness or 8 * scene.mm))


def grain_of(scene: Scene, ridges: Sequence[Ridge]) -> list[Ridge]:
    """The ridges that are the metal's own grain or scratches: those off the edges of HAZ, weld metal and section."""
    slim = [one for one in ridges if one.breadth < 0.2 * one.length]
    if not slim:
        return []
    on_edge = _on_edges(scene, np.concatenate([one.points for one in slim]))
    parts = np.split(on_edge, np.cumsum([len(one.points) for one in slim])[:-1])
    return [one for one, part in zip(slim, parts, strict=True) if part.mean() < 0.4]


def _on_edges(scene: Scene, points: Array) -> NDArray[np.bool_]:
    near = max(0.15 * scene.mm, 3 * scene.blur + 3.0)
    edge = np.zeros(len(points), bool)
    for tree in (scene.fusion, scene.haz):
        if tree is not None:
            edge |= tree.query(points, distance_upper_bound=near)[0] < near
    edge |= (scene.from_rim(points) < near + 2 * scene.regions.factor) | (from_faying(scene, points) < near)
    return edge


def _rival(one: Ridge, ridge: Ridge) -> bool:
    """Whether a ridge speaks of the same grain: a light one in the plate, any other in the weld metal."""
    if one is ridge or (one.weld > 0.5) != (ridge.weld > 0.5):
        return False
    if one.sign > 0 and (ridge.weld <= 0.5 or abs(float(one.way @ ridge.way)) >= 0.9):
        return False
    return float(np.hypot(*(one.middle - ridge.middle))) >= 25


def no_line(scene: Scene, trace: LineTrace, *, scratched: bool = False) -> str:
    """Why a trace is no indication; "" where it may be one."""
    profile = trace.profile
    straight = float(np.hypot(*(trace.points[-1] - trace.points[0])))
    if trace.length > 1.5 * straight and trace.length > 3 * scene.mm:
        return "it winds about"
    if trace.length < _least(scene) or trace.continuity < LEAST_CONTINUITY:
        return "it is short or broken"
    if profile.seen < max(LEAST_SEEN, min(4 * trace.noise, 1.0 if scratched else DARK)):
        return "it is faint"
    if profile.width > max(WIDEST_MM * scene.mm, 6.0):
        return "it is wider than a line"
    return (
        inked(scene, trace) or haz_band(scene, trace) or at_rim(scene, trace) or bent_on(scene, trace)
        or printed(trace) or _on_edge(scene, trace)
    )  # fmt: skip


def _on_edge(scene: Scene, trace: LineTrace) -> str:
    """The fusion line's own seam, the gap and the faces of the plates are edges of the joint."""
    points = trace.points
    gap = on_gap(scene, trace)
    if gap:
        return gap
    for member in scene.members:
        height = member.height(points)
        faces = np.abs(member.depth(points)) if height is None else np.minimum(
            np.abs(member.depth(points)), np.abs(height)
        )  # fmt: skip
        if np.median(faces) < max(2.5 * scene.blur, 3.0):
            return "it is a face of a plate"
    edges = (scene.from_haz_edge(points) < max(0.1 * scene.mm, 4.0)) | (
        scene.from_rim(points) < 3 * scene.blur + scene.regions.factor + 2
    )
    if edges.mean() > 0.5:
        return "it follows edges of the section"
    return seam(scene, trace)


def _candidate(scene: Scene, ridge: Ridge, trace: LineTrace) -> Candidate:
    return Candidate(
        trace=trace, member=member_at(scene, trace.points), score=ridge.strength, mean=ridge.mean, rival=0.0, share=0.0,
        height=ridge.mean * float(np.sqrt(max(trace.length, 1.0) / STEP)) / 3.0,
    )  # fmt: skip


def without_scratches(found: list[Candidate], scratches: Sequence[Population]) -> list[Candidate]:
    """Candidates along plates, less those that are single scratches of many of that direction."""
    return [one for one in found if not _scratch(one, scratches)]


def _scratch(one: Candidate, scratches: Sequence[Population]) -> bool:
    """Whether a line along a plate may be one of the scratches of a scratched face: those are light as well as dark."""
    if not scratches:
        return False
    way = one.trace.points[-1] - one.trace.points[0]
    way = way / max(float(np.hypot(*way)), 1e-9)
    gap = nearest_angle(scratches, way)
    widest = max(3.0 + 2.0 * each.spread for each in scratches)
    along = isinstance(gap, Measured) and gap.value < widest
    plain = one.mean > PLAIN_MEAN and one.height > PLAIN_HEIGHT and one.trace.profile.seen > PLAIN_CONTRAST
    if plain and one.score > 3.0 * one.strict:
        return False
    if along and one.share < 0.9 and one.score < 60 + 2.0 * one.strict:
        return True
    aslant = one.member is not None and abs(float(way @ one.member.way)) < np.cos(np.radians(MOST_ASLANT))
    faint = one.trace.profile.seen < PLAIN_SEEN and one.height < PLAIN_HEIGHT and not _rolled_alone(one, way, gap)
    return bool(one.score < 1.5 * one.strict or faint or (aslant and one.trace.profile.seen < 0.3))


def _rolled_alone(one: Candidate, way: Array, gap: Quantity) -> bool:
    """Whether a long line runs the way of the rolling and no scratches run its way."""
    if one.member is None or not isinstance(gap, Measured) or gap.value < CLEAR_OF_SCRATCHES:
        return False
    true = abs(float(way @ one.member.way)) > np.cos(np.radians(ROLLED_DEGREES))
    return bool(true and one.share > LEAST_ROLLED and one.score > max(ROLLED_SCORE, ROLLED_RATIO * one.strict))
