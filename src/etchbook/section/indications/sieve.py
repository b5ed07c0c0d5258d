"""What is no indication: bands of the HAZ, ink, lettering, single scratches of many, and what hardly stands out."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import arc_length, fit_line, normals, resample
from etchbook.section.indications.candidates import Candidate, widest_line
from etchbook.section.indications.gaps import on_gap
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.traces import LineTrace, cubic
from etchbook.section.records import PLATE

Array = NDArray[np.float64]
WINDS_MM, WINDS_SEEN = 0.1, 0.3
PEN_MM = 0.12
"""A finer line than this is no pen stroke [mm]."""
LEAST_SHARE = 0.1
LEAST_SCORE = 18.0
LEAST_MEAN = 0.75
LEAST_HEIGHT = 8.0
LEAST_PLAIN = 4.0
"""The same for a line that is plain to see where it is."""
EVEN_HEIGHT, EVEN_MEAN, EVEN_SCORE, EVEN_RATIO = 6.0, 1.9, 60.0, 2.5
"""The same for a line that is dark in nearly every cell, far beyond what any light line has."""
LIGHTER, FAINT_SEEN = 0.8, 0.15
LEAST_VALLEY, LEAST_VALLEY_ON_FUSION = 0.1, 0.35
"""Rise on the lower side over that on the higher: a step from dark metal to light is no line."""
LONGEST_ON_FUSION = 0.75
LACK_MM, LACK_SEEN = 0.2, 0.35
SHORT_SEEN, SHORT_MEAN, SHORT_HEIGHT, SHORT_SLENDER = 0.35, 2.2, 10.0, 12.0
"""What a line must have that is short beside its plate: a terrace of a tear, a stringer."""
SLENDER, LEAST_ROLLED, ROLLED_DEGREES = 25.0, 0.2, 2.0
"""Length over width, share of the member and angle to the plate [°] that tell a rolled line from a drawn one."""
BURNT = 0.97
"""Light from which a colour is burnt out and says nothing of what lies on it."""
VALLEY_APART, VALLEY_WIDE = 2.5, 8.0
"""How far from a line's edge its sides are looked at, and over what width [px]."""
LEVEL_PX, MOSTLY_LEVEL = 0.7, 0.6
LEAST_AREA = 0.0036
"""Width times contrast that a line must have [mm]: 40 µm at 0.15, less what a camera's tone may take from it."""


def refused(scene: Scene, found: Candidate) -> str:
    """Why a candidate along a plate is no indication; "" where it may be one."""
    trace = found.trace
    return (
        _faint(found) or _short(scene, found) or _wide(scene, trace) or _uncertain(scene, trace) or inked(scene, trace)
        or haz_band(scene, trace) or at_rim(scene, trace) or ("" if rolled(found) else bent_on(scene, trace))
        or printed(trace) or seam(scene, trace) or on_gap(scene, trace)
    )  # fmt: skip


def rolled(found: Candidate) -> bool:
    """Whether a line is as long, fine and true to the plate's direction as rolling makes it and no hand does."""
    points, member = found.trace.points, found.member
    if member is None:
        return False
    way = points[-1] - points[0]
    along = abs(float(way @ member.way)) / max(float(np.hypot(*way)), 1e-9)
    fine = found.trace.length > SLENDER * found.trace.profile.width
    return bool(fine and found.share > LEAST_ROLLED and along > np.cos(np.radians(ROLLED_DEGREES)))


def _faint(found: Candidate) -> str:
    if found.score < LEAST_SCORE or found.mean < LEAST_MEAN:
        return "it hardly stands out of the grain"
    if found.height and found.height < _least_height(found):
        return "it stands out no more than the grain does elsewhere"
    # Grain and scratches are light as often as dark: what light lines are as long and clear as is one of them.
    common = found.trace.profile.seen < FAINT_SEEN and found.strict > LIGHTER * found.score
    return "lighter lines are as strong as it" if common or found.score < 1.5 * found.rival else ""


def _least_height(found: Candidate) -> float:
    if found.trace.profile.seen > max(0.2, 8 * found.trace.noise) and found.mean > 1.2:
        return LEAST_PLAIN
    even = found.mean > EVEN_MEAN and found.score > max(EVEN_SCORE, EVEN_RATIO * found.strict)
    return EVEN_HEIGHT if even else LEAST_HEIGHT


def _short(scene: Scene, found: Candidate) -> str:
    trace = found.trace
    dark = trace.profile.seen > SHORT_SEEN and found.mean > SHORT_MEAN and found.height > SHORT_HEIGHT
    plain = dark and trace.length > SHORT_SLENDER * trace.profile.width
    short = found.share < LEAST_SHARE and not plain
    return "it is short" if short or trace.length < 0.8 * scene.mm else ""


def _wide(scene: Scene, trace: LineTrace) -> str:
    if trace.profile.width > widest_line(scene):
        return "it is wider than a line"
    winds = fit_line(trace.points[::4]).rms > max(WINDS_MM * scene.mm, 4.0)
    return "it winds about as grain does" if winds and trace.profile.seen < WINDS_SEEN else ""


def _uncertain(scene: Scene, trace: LineTrace) -> str:
    profile = trace.profile
    if valley(trace) < LEAST_VALLEY:
        return "it is a step from dark to light and no line"
    if profile.depth * profile.width < LEAST_AREA * scene.mm * profile.level:
        return "it takes up hardly any light"
    return "its profile shows no dip" if profile.seen < 0.02 or profile.seen < 0.5 * trace.noise else ""


def valley(trace: LineTrace) -> float:
    """How two-sided a line's dip is: rise to the darker side over rise to the lighter one, 0 to 1."""
    off = trace.x - trace.profile.place
    core = max(0.5 * trace.profile.width, 1.0)
    far = core + VALLEY_APART
    sides = [trace.mean[(sign * off > far) & (sign * off <= far + VALLEY_WIDE)] for sign in (-1, 1)]
    if min(len(side) for side in sides) < 2:
        return 1.0
    lowest = float(trace.mean[np.abs(off) <= core].min(initial=float(trace.mean.max())))
    low, high = sorted(float(np.median(side)) - lowest for side in sides)
    return max(low, 0.0) / max(high, 1e-6)


def inked(scene: Scene, trace: LineTrace) -> str:
    """Ink has a colour of its own; a dark line is the plate with less light, and what it has beyond that is colour."""
    points = trace.points[:: max(1, len(trace.points) // 200)]
    line = fit_line(points).line
    reach = 0.5 * trace.profile.width + 3 * scene.blur + 2
    beside = _colour(scene, np.concatenate([points + reach * line.normal, points - reach * line.normal]))
    on = _colour(scene, points)
    good = beside < BURNT
    if good.sum() < 2:
        return ""
    on, beside = on[good], beside[good]
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
    metal = np.all([scene.label(ring) == PLATE for ring in rings], axis=0)
    level = trace.profile.level * (1 - 0.6 * trace.profile.seen)
    return bool((metal & (dark < level)).any())


def printed(trace: LineTrace) -> str:
    """A scale bar is black or white, level to a part of a pixel, and thick for its blur."""
    row = trace.points[:, 1]
    flat = len(row) > 30 and (np.ptp(row) < 1.0 or (np.abs(row - np.median(row)) < LEVEL_PX).mean() > MOSTLY_LEVEL)
    return "it is printed on the picture" if flat and trace.profile.seen > 0.8 and trace.profile.width > 3 else ""


def seam(scene: Scene, trace: LineTrace) -> str:
    """A seam that runs along much of the fusion line is its own: what is no fusion is a part of it, and stands out."""
    points = trace.points
    if (scene.from_fusion(points) < max(0.2 * scene.mm, 4.0)).mean() < 0.6:
        return ""
    chains = [part.points for name, part in scene.outline.boundaries.items() if name.startswith("fusion_line")]
    whole = sum(float(arc_length(chain)[-1]) for chain in chains)
    profile = trace.profile
    if valley(trace) < LEAST_VALLEY_ON_FUSION:
        return "it is the step from plate to weld metal"
    plain = trace.length > LONGEST_ON_FUSION * whole or profile.width > max(LACK_MM * scene.mm, 3.0)
    if plain or profile.seen < LACK_SEEN or profile.seen < 2.5 * _usual_loss(scene, chains):
        return "it is the fusion line's own seam"
    return ""


def _usual_loss(scene: Scene, chains: list[Array]) -> float:
    """Light lost on the fusion line over light on both sides, as it mostly is."""
    lost = []
    for chain in chains:
        curve = resample(chain, 3.0)
        if len(curve) < 5:
            continue
        across = normals(curve)
        reach = 3.0 * scene.blur + 3.0
        near = np.stack([cubic(scene.light, curve + off * across) for off in np.arange(-3.0, 3.1, 1.0)]).min(axis=0)
        sides = np.minimum(*(cubic(scene.light, curve + sign * reach * across) for sign in (-1, 1)))
        lost.append(1 - near / np.maximum(sides, 1e-3))
    return max(float(np.median(np.concatenate(lost))), 0.0) if lost else 0.0
