"""The upper plate of a lap joint: its top, its underside beyond the gap, and its welded edge."""

from typing import TYPE_CHECKING

import numpy as np

from etchbook.geometry import Line, LineFit, arc_length
from etchbook.picture import Picture
from etchbook.picture.reduce import sample
from etchbook.section.arcs import Arcs
from etchbook.section.edges import Trace
from etchbook.section.rims import parallel_cluster
from etchbook.section.strips import Array
from etchbook.section.tracing import trace_straight

if TYPE_CHECKING:
    from etchbook.section.looking import Look

MOST_GAP = 0.3
"""A gap wider than this share of the plate's height is no gap that a lap joint has."""


def lap_lines(
    picture: Picture,
    seen: "Look",
    rim: Array,
    rims: dict[str, Trace],
    lines: dict[str, LineFit],
    reach: float,
    along: float,
) -> None:
    """Top, underside and edge of the upper plate, from the rim beside toe 2 in the near view's pixels."""
    if "surface_1" not in lines:
        return
    lower = lines["surface_1"].line
    walk = seen.near.to_picture(rim)
    level = np.abs(np.sin(_headings(walk) - lower.heading)) < 0.3
    top_points = walk[level][3:]
    top_points = parallel_cluster(top_points, lower, 2.0 * seen.near.factor)
    found = trace_straight(picture, top_points, reach=reach, along_px=along)
    if found is None:
        return
    rims["top"], lines["top_2"] = found
    lines["back_2"] = underside(picture, lines["surface_1"], lines["top_2"].line, seen.arcs)
    edge = walk[: int(np.argmax(level))] if level.any() else walk
    lines["surface_2"] = _edge_line(picture, edge, lines["top_2"].line, lower, seen.arcs, reach, along, rims)


def underside(picture: Picture, surface: LineFit, top: Line, arcs: Arcs) -> LineFit:
    """Where the upper plate begins above the gap; the lower plate's surface itself when no gap shows.

    Light is averaged along the plates behind the weld, so that a slit of a pixel or two still stands out.
    """
    line = surface.line
    height = float(line.across(top.at(float(top.along(arcs.face[-1])[0])))[0])
    up = np.sign(height) * line.normal
    # Behind the weld: away from toe 1, beyond the deepest weld metal.
    away = np.sign(line.along(arcs.face[-1])[0] - line.along(arcs.face[0])[0])
    runs = line.along(arcs.fusion) * away
    behind = float(runs.max()) + 3.0
    spots = np.arange(behind, behind + 0.6 * abs(height), 1.0)
    rows, columns = picture.rgb.shape[:2]
    feet = np.array([line.at(float(away * run)) for run in spots])
    inside = (feet > 4).all(axis=1) & (feet[:, 0] < columns - 5) & (feet[:, 1] < rows - 5)
    feet = feet[inside]
    if len(feet) < 12:
        return surface
    offsets = np.arange(-0.15 * abs(height), MOST_GAP * abs(height), 0.5)
    light = np.stack([np.median(sample(picture, feet + off * up), axis=0) for off in offsets]).astype(float)
    gap = _upper_step(light, offsets)
    if gap is None:
        return surface
    shift = gap * up
    return LineFit(
        line=Line(x=line.x + float(shift[0]), y=line.y + float(shift[1]), heading=line.heading),
        u_shift=float(np.hypot(surface.u_shift, 1.0)),
        u_turn=surface.u_turn,
        rms=surface.rms,
        used=surface.used,
    )


def _upper_step(light: Array, offsets: Array) -> float | None:
    """Offset of the upper end of the slit's light, half-way between slit and upper plate; None without a slit."""
    calm = offsets > 0.7 * offsets[-1]
    plate = np.median(light[calm], axis=0)
    noise = 1.5 * np.median(np.abs(light[calm] - plate), axis=0).max() + 1e-3
    unlike = np.abs(light - plate).max(axis=1)
    near = (offsets > -3.0) & (offsets < offsets[-1] * 0.7)
    strength = float(unlike[near].max())
    lower = float(np.abs(np.median(light[offsets < 0.6 * offsets[0]], axis=0) - plate).max())
    if strength < max(6.0 * noise, 1.5 * lower, 0.04):
        return None
    over = np.nonzero(near & (unlike > 0.5 * strength))[0]
    step = float(offsets[over[-1]]) + 0.25
    return step if step > 1.0 else None


def _headings(walk: Array) -> Array:
    slope = np.gradient(walk, axis=0) if len(walk) > 2 else np.ones((len(walk), 2))
    return np.asarray(np.arctan2(slope[:, 1], slope[:, 0]))


def _edge_line(
    picture: Picture,
    edge: Array,
    top: Line,
    lower: Line,
    arcs: Arcs,
    reach: float,
    along: float,
    rims: dict[str, Trace],
) -> LineFit:
    """The welded edge: fitted where enough of it still stands, else square to the plate through the upper toe."""
    toe = arcs.face[-1]
    height = abs(float(top.across(lower.anchor)[0]))
    if len(edge) >= 8 and float(arc_length(edge)[-1]) > 0.25 * height:
        found = trace_straight(picture, edge[2:-2], reach=reach, along_px=along)
        if found is not None and abs(np.cos(found[1].line.heading - lower.heading)) < 0.15:
            rims["beside_2"] = found[0]
            return found[1]
    heading = lower.heading + np.pi / 2
    return LineFit(
        line=Line(x=float(toe[0]), y=float(toe[1]), heading=heading),
        u_shift=0.05 * height,
        u_turn=0.02,
        rms=1.0,
        used=1,
    )
