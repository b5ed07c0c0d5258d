"""What happens at the toes: undercut, overlap, toe angle."""

import numpy as np

from etchbook.geometry import Line, arc_length
from etchbook.section.shape import Shape

Value = float | str
NEAR = 0.30
"""Undercut is looked for within this share of the face's length from the toe."""
SAG = 0.02
"""A stretch that bends away from its chord by less than this share of the face's length holds no groove."""
RISE = 0.004
"""A hollow counts where the face comes up again by this share of its length, well above the noise of a trace."""


def undercut_1(shape: Shape) -> Value:
    """Depth of the groove beside toe 1."""
    return _undercut(shape, "1")


def undercut_2(shape: Shape) -> Value:
    """Depth of the groove beside toe 2."""
    return _undercut(shape, "2")


def _undercut(shape: Shape, toe: str) -> Value:
    line, out = shape.lines.get(shape.surface_of_toe(toe)), shape.out_of_toe(toe)
    if line is None or out is None:
        return f"the plate surface line at toe {toe} was not found"
    face = shape.face if toe == "1" else shape.face[::-1]
    run = arc_length(face)
    reach = NEAR * run[-1]
    height = line.across(face[run <= reach]) * np.sign(line.normal @ out)
    if shape.family in ("butt", "bead", "corner"):
        # A face may lie low without any groove, underfilled or over a melted edge: a groove comes up again.
        hollow = _first_hollow(height, RISE * float(run[-1]))
        if shape.family == "corner" and hollow == 0.0 and _sag(face[run <= reach]) > SAG * float(run[-1]):
            return "the weld face falls away hollow over the edge of the plate, where a groove cannot be told from it"
    else:
        hollow = float((-height).max())
    return max(0.0, hollow, _groove_depth(shape, toe, line, out, reach))


def _sag(part: np.ndarray) -> float:
    """How far a stretch of the face bends away from its own chord."""
    chord = part[-1] - part[0]
    normal = np.array([-chord[1], chord[0]]) / max(float(np.hypot(*chord)), 1e-9)
    return float(np.abs((part - part[0]) @ normal).max())


def _first_hollow(height: np.ndarray, rise: float) -> float:
    """Depth of the first hollow that is followed by a rise; 0 where the face only rises or only falls."""
    lowest = np.minimum.accumulate(height)
    up = np.nonzero((height - lowest > rise) & (lowest < -rise))[0]
    return -float(lowest[up[0]]) if len(up) else 0.0


def _groove_depth(shape: Shape, toe: str, line: Line, out: np.ndarray, reach: float) -> float:
    """Depth of a groove in the plate beside a toe; the coarse rim counts only where it goes well below the surface."""
    rim = shape.rims.get(toe, np.zeros((0, 2)))
    start = shape.toes[0] if toe == "1" else shape.toes[1]
    rim = rim[np.hypot(*(rim - start).T) <= reach]
    if len(rim) < 5:
        return 0.0
    depth = -line.across(rim) * np.sign(line.normal @ out)
    step = float(np.median(np.hypot(*np.diff(rim, axis=0).T)))
    return float(depth.max()) if depth.max() > 2.0 * step and depth[-1] < 0.5 * depth.max() else 0.0


def overlap_1(shape: Shape) -> Value:
    """Length of weld metal lying unfused on the plate beyond toe 1."""
    return _overlap(shape, "1")


def overlap_2(shape: Shape) -> Value:
    """Length of weld metal lying unfused on the plate beyond toe 2."""
    return _overlap(shape, "2")


def _overlap(shape: Shape, toe: str) -> Value:
    away = shape.away_from_weld(toe)
    if away is None:
        return f"the plate surface line at toe {toe} was not found"
    face = shape.face if toe == "1" else shape.face[::-1]
    run = arc_length(face)
    beyond = (face[run <= NEAR * run[-1]] - face[0]) @ away
    return max(0.0, float(beyond.max()))


def toe_angle_1(shape: Shape) -> Value:
    """Angle between plate surface and weld face at toe 1, through the air."""
    return _toe_angle(shape, "1")


def toe_angle_2(shape: Shape) -> Value:
    """Angle between plate surface and weld face at toe 2, through the air."""
    return _toe_angle(shape, "2")


def _toe_angle(shape: Shape, toe: str) -> Value:
    away, up = shape.away_from_weld(toe), shape.out_of_toe(toe)
    if away is None or up is None:
        return f"the plate surface line at toe {toe} was not found"
    face = shape.face if toe == "1" else shape.face[::-1]
    run = arc_length(face)
    near = run <= max(0.09 * run[-1], float(run[min(7, len(run) - 1)]))
    if near.sum() < 5:
        return f"the weld face near toe {toe} is too short to have a tangent"
    # The tangent at the toe itself: a parabola in the distance run, so that the curve of the face does not tilt it.
    s = run[near]
    tangent = np.polyfit(s, face[near], 2)[1]
    return float(np.degrees(np.arctan2(tangent @ up, tangent @ away))) % 360
