"""The root gap and the line where plates touch unfused: edges of the joint, never indications."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import fit_line
from etchbook.section.indications.describing import from_faying
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.traces import LineTrace
from etchbook.section.records import SURROUNDINGS

Array = NDArray[np.float64]
ON_MM, BESIDE_MM = 0.15, 0.5
"""How near a line must lie to the drawing's faying line to be on it, and to be beside it [mm]."""
MOST, MOST_WITH_FUSION, MOST_JOINT = 0.5, 0.25, 0.7
"""Share of a line that may lie on the faying line; with the rest on the fusion line; with other edges of the joint."""
OPEN, ALONG_DEGREES = 0.6, 4.0
"""As dark as this, and along the faying line within so much [°], a line beside it is the gap itself."""
AHEAD_MM, LEAST_AHEAD, FURTHER_MM, MOSTLY = 1.5, 12, 12.0, 0.75
"""How much of a face must lie ahead of a line [mm] and [px], and how far on at most [mm]."""


def on_gap(scene: Scene, trace: LineTrace) -> str:
    """Why a line is the joint's own gap; "" where it may be an indication."""
    points = trace.points
    away = from_faying(scene, points)
    faying = away < max(ON_MM * scene.mm, 5.0)
    joint = faying | (scene.from_fusion(points) < max(ON_MM * scene.mm, 5.0))
    share = float(faying.mean())
    # What runs a quarter of its way where plates meet is that edge, taken on along a scratch or through the weld.
    if share > MOST or (share > MOST_WITH_FUSION and (joint.mean() > MOST_JOINT or _through_weld(scene, trace))):
        return "it is where the plates lie on each other"
    plates_meet = scene.family in ("tee", "lap") and "surface_1" in scene.outline.lines
    beside = trace.profile.seen > OPEN and np.median(away) < BESIDE_MM * scene.mm
    if plates_meet and (beside or _from_root(scene, points)) and _along(scene, points):
        return "it is the gap between the plates"
    if scene.family in ("tee", "lap") and any(_goes_on_as_face(scene, *end) for end in _ends(points)):
        return "it goes on as a face of a plate, as the line between two plates does"
    return ""


def _through_weld(scene: Scene, trace: LineTrace) -> bool:
    weld = scene.in_weld(trace.points)
    return bool(weld.any())


def _from_root(scene: Scene, points: Array) -> bool:
    """Whether a line, taken on, comes from the joint root, where the gap ends: a traced face may turn."""
    root = scene.outline.landmarks.get("joint_root")
    if root is None:
        return False
    line = fit_line(points[:: max(1, len(points) // 100)]).line
    return abs(float(line.across(root.point)[0])) < max(BESIDE_MM * scene.mm, 8.0)


def _along(scene: Scene, points: Array) -> bool:
    way = fit_line(points[:: max(1, len(points) // 100)]).line.direction
    line = scene.outline.lines["surface_1"].line
    return bool(abs(float(way @ line.normal)) < np.sin(np.radians(ALONG_DEGREES)))


def _ends(points: Array) -> list[tuple[Array, Array]]:
    """Both ends, each with the unit direction in which the line would go on."""
    few = max(2, len(points) // 3)
    ends = []
    for end, inner in ((points[0], points[few - 1]), (points[-1], points[-few])):
        ends.append((end, (end - inner) / max(float(np.hypot(*(end - inner))), 1e-9)))
    return ends


def _goes_on_as_face(scene: Scene, end: Array, way: Array) -> bool:
    """Whether the straight continuation runs along the metal's rim: metal on the one side and none on the other."""
    side = 2.5 * scene.regions.factor + 2.0
    long = int(max(AHEAD_MM * scene.mm, LEAST_AHEAD))
    places = end + np.arange(side, side + long + FURTHER_MM * scene.mm)[:, None] * way
    places = places[scene.in_picture(places, side + 2.0)]  # beyond the picture nothing is known
    if len(places) < long:
        return False
    across = np.array([-way[1], way[0]])
    left, right = (scene.label(places + sign * side * across) != SURROUNDINGS for sign in (-1, 1))
    rims = ((left & ~right).astype(float), (right & ~left).astype(float))
    return max(float(np.convolve(rim, np.full(long, 1 / long), "valid").max()) for rim in rims) > MOSTLY
