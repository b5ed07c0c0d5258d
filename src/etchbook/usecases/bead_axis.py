"""Whether a line lies along the middle of the bead, from its face to its depth."""

import numpy as np

from etchbook.section import Outline
from etchbook.section.records import Points

LEAN = 25.0
"""Largest angle between the line and the bead's axis [°]."""
OFF = 0.2
"""Largest distance of the line's middle from the axis, over the width of the bead."""


def along_axis(outline: Outline, points: Points) -> bool | None:
    """Whether a traced line lies in the middle of the bead along its depth.

    The axis runs from the middle between the toes square into the weld metal.

    Parameters
    ----------
    outline : with toes
    points : (n, 2) of the line [px]

    Returns
    -------
    bool or None
        None where there are no toes, or no line.
    """
    toes = [outline.landmarks.get(name) for name in ("toe_1", "toe_2")]
    first, second = toes
    if first is None or second is None or len(points) < 2:
        return None
    chord = second.point - first.point
    width = float(np.hypot(*chord))
    run = points[-1] - points[0]
    length = float(np.hypot(*run))
    if width == 0 or length == 0:
        return None
    way = chord / width
    lean = np.degrees(np.arcsin(min(abs(float(run @ way)) / length, 1.0)))
    off = abs(float((points.mean(axis=0) - (first.point + second.point) / 2) @ way)) / width
    return bool(lean <= LEAN and off <= OFF)
