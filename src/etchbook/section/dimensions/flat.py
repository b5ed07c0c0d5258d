"""Widths, heights and depths of butt welds and beads, and plate thickness."""

import numpy as np

from etchbook.geometry.lines import through
from etchbook.section.shape import Shape

Value = float | str


def thickness_1(shape: Shape) -> Value:
    """Distance between the two surface lines of member 1."""
    return _thickness(shape, "1")


def thickness_2(shape: Shape) -> Value:
    """Distance between the two surface lines of member 2."""
    return _thickness(shape, "2")


def _thickness(shape: Shape, member: str) -> Value:
    top = "top_2" if shape.family == "lap" and member == "2" else f"surface_{member}"
    if top not in shape.lines:
        return f"the surface line of member {member} was not found"
    if f"back_{member}" not in shape.lines:
        return f"the far side of member {member} was not found in the picture"
    near, far = shape.lines[top], shape.lines[f"back_{member}"]
    # The two lines are never quite parallel; both distances are taken at the middle of the shorter reach.
    there = abs(float(near.across(far.anchor)[0]))
    back = abs(float(far.across(near.anchor)[0]))
    return (there + back) / 2


def weld_width(shape: Shape) -> Value:
    """Toe to toe."""
    return float(np.hypot(*(shape.toes[1] - shape.toes[0])))


def excess_weld_metal(shape: Shape) -> Value:
    """Largest height of the face above the line from toe to toe."""
    chord = through(shape.toes[0], shape.toes[1])
    away = chord.across(shape.face)
    out = shape.outward["1"]
    return max(0.0, float((away * np.sign(chord.normal @ out)).max()))


def incompletely_filled(shape: Shape) -> Value:
    """Depth of the lowest point of the face below the plate surface line."""
    depth = []
    for toe in ("1", "2"):
        line, out = shape.lines.get(f"surface_{toe}"), shape.outward.get(toe)
        if line is None or out is None:
            return f"the surface line of member {toe} was not found"
        depth.append(-line.across(shape.face) * np.sign(line.normal @ out))
    # Each half of the face is held against the nearer plate.
    return max(0.0, float(np.minimum(depth[0], depth[1]).max()))


def misalignment(shape: Shape) -> Value:
    """Offset of the two members' surface lines at the joint."""
    if "surface_1" not in shape.lines or "surface_2" not in shape.lines:
        return "the surface lines of both members are needed and were not both found"
    middle = (shape.toes[0] + shape.toes[1]) / 2
    offsets = [
        float(shape.lines[name].across(middle)[0] * np.sign(shape.lines[name].normal @ shape.outward["1"]))
        for name in ("surface_1", "surface_2")
    ]
    return abs(offsets[0] - offsets[1])


NO_ROOT_SIDE = "no weld metal was found on the root side"


def root_width(shape: Shape) -> Value:
    """Toe to toe on the root side."""
    if shape.root_toes is None:
        return NO_ROOT_SIDE
    return float(np.hypot(*(shape.root_toes[1] - shape.root_toes[0])))


def excess_penetration(shape: Shape) -> Value:
    """Largest height of the root bead beyond the root-side surface line."""
    return _root_side(shape, -1.0)


def root_concavity(shape: Shape) -> Value:
    """Largest depth of the root surface inside the root-side surface line."""
    return _root_side(shape, 1.0)


def _root_side(shape: Shape, sign: float) -> Value:
    if shape.root_face is None:
        return NO_ROOT_SIDE
    heights = []
    for member in ("1", "2"):
        line = shape.lines.get(f"back_{member}")
        if line is None:
            return f"the root-side surface of member {member} was not found"
        # Both members face the same way; the way out of member 2 is not known where its surface was not found.
        out = shape.outward.get(member, shape.outward["1"])
        heights.append(line.across(shape.root_face) * np.sign(line.normal @ out))
    inside = np.minimum(heights[0], heights[1]) if sign > 0 else np.maximum(heights[0], heights[1])
    return max(0.0, float((sign * inside).max()))
