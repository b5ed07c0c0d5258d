"""The groove beside a toe: the net ends the weld at its bottom, the weld face ends where it comes up to the plate."""

import numpy as np

from etchbook.geometry import Line, LineFit
from etchbook.section.edges import Trace
from etchbook.section.strips import Array


def groove_wall(line: Line, out: Array, rim: Trace | None, guess: Array, size: float, pixel: float) -> Array | None:
    """The coarse rim from the bottom of a groove up to the plate surface, (n, 2); None where there is no groove.

    Parameters
    ----------
    line, out : plate surface line and its unit normal out of the metal
    rim : the rim from the first guess's toe onwards
    guess : (2,) the first guess's toe
    size : length of the weld face [px]
    pixel : size of the first guess's pixel [px]
    """
    if rim is None:
        return None
    run = np.hypot(*(rim.points - guess).T)
    depth = -((rim.points - line.anchor) @ out)
    near = run < 0.3 * size
    if near.sum() < 5 or float(depth[near].max()) < 2.5 * pixel:
        return None
    deepest = int(np.argmax(np.where(near, depth, -np.inf)))
    back = np.nonzero(near & (np.arange(len(depth)) > deepest) & (depth < 0.6 * pixel))[0]
    return rim.points[1 : back[0] + 1] if len(back) else None


def carried_on(
    rough: Array,
    surfaces: list[LineFit | None],
    reach: float,
    walls: tuple[Array | None, Array | None] = (None, None),
) -> Array:
    """A rough face carried on beyond both its ends: up the wall of a groove, then along the plate surface."""
    ends = []
    for surface, wall, end in zip(surfaces, walls, (rough[0], rough[-1]), strict=True):
        wall = np.zeros((0, 2)) if wall is None else wall
        end = wall[-1] if len(wall) else end
        ends.append(np.concatenate([wall, _along(surface, end, rough[len(rough) // 2], reach)]))
    return np.concatenate([ends[0][::-1], rough, ends[1]])


def _along(surface: LineFit | None, end: Array, middle: Array, reach: float) -> Array:
    """Places along a plate surface from below an end of the face, away from its middle."""
    if surface is None:
        return np.zeros((0, 2))
    line = surface.line
    way = line.direction if line.direction @ (end - middle) > 0 else -line.direction
    foot = line.at(float(line.along(end)[0]))
    if np.hypot(*(foot - end)) >= reach:
        return np.zeros((0, 2))
    steps = np.linspace(1.0, reach, max(4, int(reach / 2)))
    return np.asarray(foot + steps[:, None] * way)
