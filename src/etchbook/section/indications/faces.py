"""The members' faces as the rim of the metal shows them, where the outline has taken a line in the metal for one."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import LineFit, fit_line
from etchbook.picture.sharpness import Edge
from etchbook.section.indications.members import Member, labels_at
from etchbook.section.records import HAZ, PLATE, Outline, Regions

Array = NDArray[np.float64]
FEWEST = 5
NEAR = 2.5
"""Edges that lie this near to a line belong to it [px]."""
TURN_DEGREES = 6.0
ALIKE_DEGREES = 2.5
SAME = 6.0
"""Two faces nearer than this are one [px]."""
BESIDE = (9.0, 15.0, 22.0)
WITHIN = 0.75
THINNEST, LEAST_LONG = 25.0, 80.0
METAL = (PLATE, HAZ)


def true_members(
    members: tuple[Member, ...], outline: Outline, regions: Regions, edges: Sequence[Edge], *, lapped: bool
) -> tuple[Member, ...]:
    """The outline's members, put right by the rim of the metal.

    A far face with plate on both its sides is a line in the metal and is forgotten; a pair of faces that the rim shows
    and no member has becomes one.

    Parameters
    ----------
    edges : clear straight edges of the metal's rim
    lapped : whether plates lie on each other, so that a face may well have metal on both sides
    """
    if lapped and members:
        return members
    found = [_without_line(member, regions) for member in members]
    lines = _rim_lines(edges)
    for pair in _pairs(lines, regions):
        same = next((k for k, member in enumerate(found) if _has(member, pair)), None)
        if same is not None:
            found[same] = _put_right(found[same], pair, outline)
        elif not any(_shares(member, pair) for member in found):
            found.append(_named(pair, outline))
    return tuple(found) or tuple(_of_one_face(line, outline, regions) for line in lines[:2])


def _shares(member: Member, pair: tuple[LineFit, LineFit]) -> bool:
    """Whether a member has one of these faces: one face belongs to one plate."""
    return any(_one(own, face) for own in (member.surface, member.back) if own is not None for face in pair)


def _of_one_face(face: LineFit, outline: Outline, regions: Regions) -> Member:
    """A member of which only the rim's longest line is known: enough to look along it, not to tell a depth by."""
    line, size = face.line, float(sum(regions.labels.shape)) * regions.factor
    run = np.arange(-size, size, 12.0)
    plate = [
        int(np.isin(labels_at(regions, line.anchor + run[:, None] * line.direction + off * line.normal), METAL).sum())
        for off in (-BESIDE[1], BESIDE[1])
    ]
    inward = line.normal if plate[1] > plate[0] else -line.normal
    return Member(
        name=f"member_{_number(line.anchor, outline)}", surface=face, back=None, way=line.direction, inward=inward
    )


def _put_right(member: Member, pair: tuple[LineFit, LineFit], outline: Outline) -> Member:
    """A member with the faces that the rim shows, its own surface still the surface."""
    ordered = pair if _one(member.surface, pair[0]) else pair[::-1]
    return replace(_named(ordered, outline), name=member.name, side=member.side)


def _without_line(member: Member, regions: Regions) -> Member:
    if member.back is None or not in_metal(member.back, regions):
        return member
    return replace(member, back=None)


def in_metal(face: LineFit, regions: Regions) -> bool:
    """Whether plate lies on both sides of nearly all that the picture shows of a face."""
    size = np.array(regions.labels.shape[::-1]) * regions.factor
    run = np.arange(-float(size.sum()), float(size.sum()), 8.0)
    line = face.line
    both, either = np.ones(len(run), bool), np.zeros(len(run), bool)
    for away in BESIDE:
        for sign in (-1.0, 1.0):
            points = line.anchor + run[:, None] * line.direction + sign * away * line.normal
            plate = np.isin(labels_at(regions, points), METAL)
            both &= plate
            either |= plate
    return bool(either.sum() * 8.0 > LEAST_LONG and both.sum() > WITHIN * either.sum())


def _rim_lines(edges: Sequence[Edge]) -> list[LineFit]:
    """Straight runs of the rim, those with most edges first."""
    if len(edges) < FEWEST:
        return []
    at, normal = np.array([edge.at for edge in edges]), np.array([edge.normal for edge in edges])
    free = np.ones(len(edges), bool)
    lines: list[LineFit] = []
    for _ in range(8):
        best = np.zeros(len(edges), bool)
        for k in np.nonzero(free)[0]:
            for near in _through(at, normal, int(k), free):
                best = near if near.sum() > best.sum() else best
        if best.sum() < FEWEST:
            break
        fit = fit_line(at[best], 0.4)
        if np.ptp(fit.line.along(at[best])) > LEAST_LONG:
            lines.append(fit)
        free &= ~best
    return lines


def _through(at: Array, normal: Array, k: int, free: NDArray[np.bool_]) -> list[NDArray[np.bool_]]:
    """Edges on lines through one edge and a few others that run its way."""
    alike = free & (normal @ normal[k] > np.cos(np.radians(TURN_DEGREES)))
    off = at - at[k]
    far = np.hypot(*off.T)
    partners = np.nonzero(alike & (far > 60) & (np.abs(off @ normal[k]) < 0.1 * far))[0]
    found = []
    for partner in partners[:: max(1, len(partners) // 6)]:
        across = np.array([-off[partner][1], off[partner][0]]) / far[partner]
        found.append(alike & (np.abs(off @ across) < NEAR))
    return found


def _pairs(lines: list[LineFit], regions: Regions) -> list[tuple[LineFit, LineFit]]:
    """Two faces of one plate: parallel, with nothing but plate between them."""
    found: list[tuple[LineFit, LineFit]] = []
    for k, one in enumerate(lines):
        for other in lines[k + 1 :]:
            turn = abs(float(np.sin(one.line.heading - other.line.heading)))
            apart = abs(float(one.line.across(other.line.anchor)[0]))
            if turn < np.sin(np.radians(ALIKE_DEGREES)) and apart > THINNEST and _plate_between(one, other, regions):
                found.append((one, other))
    return found


def _plate_between(one: LineFit, other: LineFit, regions: Regions) -> bool:
    size = float(sum(regions.labels.shape)) * regions.factor
    run = np.arange(-size, size, 12.0)
    a = one.line.anchor + run[:, None] * one.line.direction
    foot = other.line.anchor + other.line.along(a)[:, None] * other.line.direction
    step = foot - a
    width = np.hypot(*step.T)[:, None]
    plate = [np.isin(labels_at(regions, a + share * step), METAL) for share in (0.12, 0.3, 0.5, 0.7, 0.88)]
    beyond = [
        ~np.isin(labels_at(regions, a + (share * width + sign * 12.0) * step / np.maximum(width, 1e-9)), METAL)
        for share, sign in ((0.0, -1.0), (1.0, 1.0))
    ]
    whole = np.all(plate, axis=0)
    return bool(whole.sum() * 12.0 > LEAST_LONG and (whole & np.all(beyond, axis=0)).sum() > 0.6 * whole.sum())


def _has(member: Member, pair: tuple[LineFit, LineFit]) -> bool:
    """Whether a member has these faces, or one of them and none that speaks against the other."""
    for one, other in (pair, pair[::-1]):
        if _one(member.surface, one):
            return member.back is None or _one(member.back, other)
    return False


def _one(face: LineFit, other: LineFit) -> bool:
    turn = abs(float(np.sin(face.line.heading - other.line.heading)))
    away = abs(float(face.line.across(other.line.anchor)[0]))
    return turn < np.sin(np.radians(ALIKE_DEGREES)) and away < SAME


def _named(pair: tuple[LineFit, LineFit], outline: Outline) -> Member:
    """A member of two faces; the fusion line or surface that lies nearest to them gives its number."""
    surface, back = pair
    way, inward = surface.line.direction, surface.line.normal
    if surface.line.across(back.line.anchor)[0] < 0:
        inward = -inward
    number = _number(0.5 * (surface.line.anchor + back.line.anchor), outline)
    return Member(name=f"member_{number}", surface=surface, back=back, way=way, inward=inward)


def _number(middle: Array, outline: Outline) -> str:
    """Number of the member whose traced parts lie nearest to a place."""
    near = {"1": np.inf, "2": np.inf}
    for name, part in outline.boundaries.items():
        if name.startswith(("surface_", "back_", "fusion_line_", "haz_edge_")) and len(part.points):
            number = "2" if "_2" in name else "1"
            near[number] = min(near[number], float(np.hypot(*(part.points - middle).T).min()))
    return "2" if near["2"] < near["1"] else "1"
