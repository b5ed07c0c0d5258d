"""What a line does where it comes to the HAZ edge and to the fusion line."""

import numpy as np
from numpy.typing import NDArray

from etchbook.section.indications.scene import Scene
from etchbook.section.indications.traces import LineTrace, cubic
from etchbook.section.records import HAZ, PLATE, WELD, Behaviour

Array = NDArray[np.float64]
NEAR_MM = 0.3
LEAST_MM = 0.25
BEND_DEGREES = 8.0


def at_fusion(scene: Scene, trace: LineTrace) -> Behaviour:
    """What it does at the fusion line."""
    if scene.fusion is None:
        return "unknown"
    weld = scene.in_weld(trace.points)
    least = _least(scene)
    if min(int(weld.sum()), int((~weld).sum())) > 2 * least:
        return "passes"
    near = [end for end in _ends(trace) if scene.from_fusion(end[0][None])[0] < _near(scene)]
    if not near:
        return "does not reach"
    return "passes" if any(_goes_on(scene, trace, end, WELD) for end in near) else "stops"


def at_haz(scene: Scene, trace: LineTrace) -> Behaviour:
    """What it does at the edge of the HAZ."""
    if scene.haz is None:
        return "unknown"
    label = scene.label(trace.points)
    plate, haz = label == PLATE, label == HAZ
    least = _least(scene)
    if min(int(plate.sum()), int(haz.sum())) > least:
        return "bends" if _bent(trace.points, plate, haz) else "passes"
    near = [end for end in _ends(trace) if scene.from_haz_edge(end[0][None])[0] < _near(scene)]
    return "stops" if near else "does not reach"


def _least(scene: Scene) -> int:
    return int(max(LEAST_MM * scene.mm, 2 * scene.regions.factor, 8.0))


def _near(scene: Scene) -> float:
    return float(max(NEAR_MM * scene.mm, 2 * scene.regions.factor, 6.0))


def _ends(trace: LineTrace) -> list[tuple[Array, Array]]:
    """Both ends, each with the unit direction in which the line would go on."""
    points = trace.points
    few = min(len(points) - 1, 40)
    ends = []
    for end, inner in ((points[0], points[few]), (points[-1], points[-1 - few])):
        way = (end - inner) / max(float(np.hypot(*(end - inner))), 1e-9)
        ends.append((end, way))
    return ends


def _goes_on(scene: Scene, trace: LineTrace, end: tuple[Array, Array], beyond: int) -> bool:
    """Whether the metal beyond an end shows the line as well, on its straight continuation."""
    point, way = end
    steps = np.arange(2.0, _near(scene) + max(0.6 * scene.mm, 20.0))
    places = point + steps[:, None] * way
    there = (scene.label(places) == beyond) & scene.in_picture(places, 2.0)
    if there.sum() < 10:
        return False
    places = places[there]
    across = np.array([-way[1], way[0]])
    half = 0.5 * trace.profile.width + 0.8 * scene.blur
    # The line may bend a little as it goes on: the darkest of three near places counts.
    dark = max(_lost(scene, places + off * across, across, half) for off in (-1.5, 0.0, 1.5))
    return dark > 0.5 * trace.profile.seen


def _lost(scene: Scene, places: Array, across: Array, half: float) -> float:
    middle = float(cubic(scene.light, places).mean())
    sides = [float(cubic(scene.light, places + sign * (half + 3.0) * across).mean()) for sign in (-1, 1)]
    return 1 - middle / max(min(sides), 1e-3)


def _bent(points: Array, first: NDArray[np.bool_], second: NDArray[np.bool_]) -> bool:
    """Whether the line runs in two directions on the two sides of the edge."""
    ways = []
    for side in (first, second):
        part = points[side]
        part = part[: len(part)]
        if len(part) < 30:
            return False
        _, _, axes = np.linalg.svd(part - part.mean(axis=0), full_matrices=False)
        ways.append(axes[0])
    return bool(np.degrees(np.arccos(min(1.0, abs(float(ways[0] @ ways[1]))))) > BEND_DEGREES)
