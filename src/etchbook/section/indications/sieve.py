"""What is no indication: bands of the HAZ, ink, lettering, single scratches of many, and what hardly stands out."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import fit_line
from etchbook.section.indications.candidates import Candidate
from etchbook.section.indications.scene import Scene

Array = NDArray[np.float64]
WIDEST_MM = 0.4
LEAST_SHARE = 0.1
LEAST_SCORE = 18.0
LEAST_MEAN = 0.75
LEAST_HEIGHT = 8.0
LEAST_AREA = 0.0036
"""Width times contrast that a line must have [mm]: 40 µm at 0.15, less what a camera's tone may take from it."""


def refused(scene: Scene, found: Candidate) -> str:
    """Why a candidate along a plate is no indication; "" where it may be one."""
    for rule in (_faint, _short, _wide, _inked, _haz_band, _at_rim, _uncertain):
        reason = rule(scene, found)
        if reason:
            return reason
    return ""


def _faint(_: Scene, found: Candidate) -> str:
    if found.score < LEAST_SCORE or found.mean < LEAST_MEAN:
        return "it hardly stands out of the grain"
    if 0 < found.height < LEAST_HEIGHT:
        return "it stands out no more than the grain does elsewhere"
    return "lighter lines are as strong as it" if found.score < 1.5 * found.rival else ""


def _short(scene: Scene, found: Candidate) -> str:
    return "it is short" if found.share < LEAST_SHARE or found.trace.length < 0.8 * scene.mm else ""


def _wide(scene: Scene, found: Candidate) -> str:
    return "it is wider than a line" if found.trace.profile.width > max(WIDEST_MM * scene.mm, 6.0) else ""


def _uncertain(scene: Scene, found: Candidate) -> str:
    profile = found.trace.profile
    if profile.depth * profile.width < LEAST_AREA * scene.mm * profile.level:
        return "it takes up hardly any light"
    return "its profile shows no dip" if profile.seen < 0.02 or profile.seen < 0.5 * found.trace.noise else ""


def _inked(scene: Scene, found: Candidate) -> str:
    """Ink has a colour of its own, or the tone of nothing else."""
    on, beside = _colours(scene, found)
    # A dark line is the plate with less light: what it has beyond that is colour.
    odd = np.abs(on - beside * on.sum() / max(beside.sum(), 1e-6)).max()
    return "it has a colour of its own" if odd > 0.06 else ""


def _colours(scene: Scene, found: Candidate) -> tuple[Array, Array]:
    points = found.trace.points[:: max(1, len(found.trace.points) // 200)]
    line = fit_line(points).line
    reach = 0.5 * found.trace.profile.width + 3 * scene.blur + 2
    sides = np.concatenate([points + reach * line.normal, points - reach * line.normal])
    return _mean(scene, points), _mean(scene, sides)


def _mean(scene: Scene, points: Array) -> Array:
    height, width = scene.light.shape
    at = np.round(points).astype(np.intp)
    return np.asarray(
        np.median(scene.rgb[np.clip(at[:, 1], 0, height - 1), np.clip(at[:, 0], 0, width - 1)], axis=0) / 65535.0
    )


def _haz_band(scene: Scene, found: Candidate) -> str:
    """A band of the HAZ, and its edge, keep their distance from the fusion line; a line of the plate keeps straight."""
    points = found.trace.points
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


def _at_rim(scene: Scene, found: Candidate) -> str:
    inside = scene.from_rim(found.trace.points)
    return "it lies at the rim of the metal" if np.median(inside) < 3 * scene.blur + scene.regions.factor else ""
