"""What is no indication: bands of the HAZ, ink, lettering, single scratches of many, and what hardly stands out."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import fit_line
from etchbook.section.indications.candidates import Candidate
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.traces import LineTrace, cubic

Array = NDArray[np.float64]
WIDEST_MM = 0.4
PEN_MM = 0.12
"""A finer line than this is no pen stroke [mm]."""
LEAST_SHARE = 0.1
LEAST_SCORE = 18.0
LEAST_MEAN = 0.75
LEAST_HEIGHT = 8.0
LEAST_AREA = 0.0036
"""Width times contrast that a line must have [mm]: 40 µm at 0.15, less what a camera's tone may take from it."""


def refused(scene: Scene, found: Candidate) -> str:
    """Why a candidate along a plate is no indication; "" where it may be one."""
    trace = found.trace
    rules = (
        lambda: _faint(found),
        lambda: _short(scene, found),
        lambda: _wide(scene, trace),
        lambda: _uncertain(scene, trace),
        lambda: inked(scene, trace),
        lambda: haz_band(scene, trace),
        lambda: at_rim(scene, trace),
        lambda: bent_on(scene, trace),
    )
    return next((reason for rule in rules if (reason := rule())), "")


def _faint(found: Candidate) -> str:
    if found.score < LEAST_SCORE or found.mean < LEAST_MEAN:
        return "it hardly stands out of the grain"
    if 0 < found.height < LEAST_HEIGHT:
        return "it stands out no more than the grain does elsewhere"
    return "lighter lines are as strong as it" if found.score < 1.5 * found.rival else ""


def _short(scene: Scene, found: Candidate) -> str:
    return "it is short" if found.share < LEAST_SHARE or found.trace.length < 0.8 * scene.mm else ""


def _wide(scene: Scene, trace: LineTrace) -> str:
    return "it is wider than a line" if trace.profile.width > max(WIDEST_MM * scene.mm, 6.0) else ""


def _uncertain(scene: Scene, trace: LineTrace) -> str:
    profile = trace.profile
    if profile.depth * profile.width < LEAST_AREA * scene.mm * profile.level:
        return "it takes up hardly any light"
    return "its profile shows no dip" if profile.seen < 0.02 or profile.seen < 0.5 * trace.noise else ""


def inked(scene: Scene, trace: LineTrace) -> str:
    """Ink has a colour of its own; a dark line is the plate with less light, and what it has beyond that is colour."""
    points = trace.points[:: max(1, len(trace.points) // 200)]
    line = fit_line(points).line
    reach = 0.5 * trace.profile.width + 3 * scene.blur + 2
    beside = _colour(scene, np.concatenate([points + reach * line.normal, points - reach * line.normal]))
    on = _colour(scene, points)
    odd = np.abs(on - beside * on.sum() / max(beside.sum(), 1e-6)).max()
    return "it has a colour of its own" if odd > 0.06 else ""


def _colour(scene: Scene, points: Array) -> Array:
    height, width = scene.light.shape
    at = np.round(points).astype(np.intp)
    return np.asarray(
        np.median(scene.rgb[np.clip(at[:, 1], 0, height - 1), np.clip(at[:, 0], 0, width - 1)], axis=0) / 65535.0
    )


def haz_band(scene: Scene, trace: LineTrace) -> str:
    """A band of the HAZ, and its edge, keep their distance from the fusion line; a line of the plate keeps straight."""
    points = trace.points
    near = scene.in_haz(points) | (scene.from_haz_edge(points) < 0.12 * scene.mm + 3)
    if near.mean() < 0.75 or scene.fusion is None:
        return ""
    away = scene.from_fusion(points)
    edge = scene.from_haz_edge(points)
    bent = fit_line(points).rms
    follows = min(float(away.std()), float(edge.std()))
    if follows < max(1.2 * bent, 1.0) or bent > max(1.0, 0.03 * scene.mm):
        return "it keeps its distance from the fusion line as a band of the HAZ does"
    return ""


def at_rim(scene: Scene, trace: LineTrace) -> str:
    """Whether it lies along the metal's border."""
    inside = scene.from_rim(trace.points)
    return "it lies at the rim of the metal" if np.median(inside) < 3 * scene.blur + scene.regions.factor else ""


def bent_on(scene: Scene, trace: LineTrace) -> str:
    """A pen stroke goes on round a corner at its end; a line of the metal ends or goes straight on."""
    if trace.profile.width < max(PEN_MM * scene.mm, 4.0):
        return ""
    points = trace.points
    few = min(len(points) - 1, 30)
    for end, inner in ((points[0], points[few]), (points[-1], points[-1 - few])):
        way = (end - inner) / max(float(np.hypot(*(end - inner))), 1e-9)
        if _corner(scene, trace, end, way):
            return "it goes on round a corner as a pen stroke does"
    return ""


def _corner(scene: Scene, trace: LineTrace, end: Array, way: Array) -> bool:
    reach = 1.5 * trace.profile.width + 3.0 * scene.blur + 2.0
    turn = np.radians(np.concatenate([np.arange(-140, -29, 10), np.arange(30, 141, 10)]))
    c, s = np.cos(turn), np.sin(turn)
    ways = np.stack([c * way[0] - s * way[1], s * way[0] + c * way[1]], axis=1)
    rings = [end + share * reach * ways for share in (0.8, 1.0, 1.2)]
    dark = np.mean([cubic(scene.light, ring) for ring in rings], axis=0)
    metal = np.all([(scene.label(ring) > 0) & (scene.label(ring) < 3) for ring in rings], axis=0)
    level = trace.profile.level * (1 - 0.6 * trace.profile.seen)
    return bool((metal & (dark < level)).any())
