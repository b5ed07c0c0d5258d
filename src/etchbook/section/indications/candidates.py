"""Lines along the plate: found by what stands out over the member's whole length, traced on the full picture."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from etchbook.section.indications.bands import CLIP, WIDTHS, Band, gains, lay_flat, standing_out
from etchbook.section.indications.members import Member
from etchbook.section.indications.paths import Path, joined, strong_ways
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.traces import LineTrace, trace_line

Array = NDArray[np.float64]
Map = NDArray[np.float32]
LEAST = 18.0
"""Score below which no way through a band is looked at."""
LEAST_MEAN = 0.5
LEAST_HEIGHT = 4.0
"""Figures below which a way is not even traced."""
MOST = 16
"""Ways that are looked at in one member."""
MARGIN_MM = 0.1
WIDEST_MM = 0.4
RIM = 25.0
"""A light line nearer than this may be the halo that a camera puts beside a dark one [px]."""
FAR_CLEARER = 5.0
"""A line this much clearer than a light one in every cell is not of its kind, however long that is."""
CLOSE = 4.0
"""Lines nearer than this are one [px]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Candidate:
    """A line that may be an indication.

    Parameters
    ----------
    trace : on the full picture
    member : the member it lies in, None for one found elsewhere
    score, mean : what it gathered in all, and a cell of its length, in standard deviations
    rival : score of the strongest light line in the member, its own rim left out
    strict : the same as `rival` with nothing left out but its own rim
    height : how far it stands out of the same way at other depths, in their standard deviations
    share : length over the member's length that the picture shows at that depth
    """

    trace: LineTrace
    member: Member | None
    score: float
    mean: float
    rival: float
    share: float
    height: float
    strict: float = 0.0


def along_member(scene: Scene, member: Member) -> list[Candidate]:
    """Candidates along one member, strongest first."""
    margin = max(4.0, 2.5 * scene.blur + 2.0, MARGIN_MM * scene.mm)
    band = lay_flat(scene.light, scene.regions, member, margin)
    if band is None:
        return []
    dark, which = standing_out(band)
    ways = joined(list(strong_ways(gains(dark), LEAST, most=MOST, reach=6)))
    if not ways:
        return []
    light, _ = standing_out(band, -1.0)
    rivals = list(strong_ways(gains(light), LEAST, most=6, reach=6))
    clear = [_clear(light, one) for one in rivals]
    found = []
    for way in ways:
        equal = [one for one, other in zip(rivals, clear, strict=True) if FAR_CLEARER * other > _clear(dark, way)]
        one = _candidate(scene, member, band, way, which, dark, equal, ways)
        found += [] if one is None else [one]
    return apart(found)


def _clear(score: Map, way: Path) -> float:
    """How far a way stands out in its middling cell, however far that is."""
    return float(np.median(score[way.rows, way.first + np.arange(len(way.rows))]))


def _candidate(
    scene: Scene, member: Member, band: Band, way: Path, which: NDArray[np.intp], dark: Map, rivals: list[Path],
    ways: list[Path],
) -> Candidate | None:  # fmt: skip
    count, rival = len(way.rows), _rival(way, rivals, ways)
    # A trace costs far more than these figures, which most ways fail by.
    if count < 3 or way.score < 1.5 * rival or way.score < LEAST_MEAN * count:
        return None
    height = _height(dark, way)
    if height and height < LEAST_HEIGHT:
        return None
    columns, width = way.first + np.arange(count), _width(way, which)
    trace = trace_line(
        scene.light, band.place(way.rows, columns), blur=scene.blur, width=width, along=float(band.cell),
        widest=widest_line(scene),
    )  # fmt: skip
    if trace is None:
        return None
    return Candidate(
        trace=trace, member=member, score=way.score, mean=way.score / count, rival=rival,
        strict=_rival(way, rivals, []), share=trace.length / max(_seen(band, way) * band.cell, 1), height=height,
    )  # fmt: skip


def _seen(band: Band, way: Path) -> int:
    """Cells of the member that the picture shows at a way's depth."""
    low, high = max(int(way.rows.min()) - 2, 0), int(way.rows.max()) + 3
    return int(np.isfinite(band.light[low:high]).any(axis=0).sum())


def widest_line(scene: Scene) -> float:
    """What is wider than this is no line [px]."""
    return max(WIDEST_MM * scene.mm, 6.0)


def _width(way: Path, which: NDArray[np.intp]) -> float:
    """The width that a way stands out by most [px]."""
    return float(np.median(np.array(WIDTHS)[which[way.rows, way.first + np.arange(len(way.rows))]]))


def _rival(way: Path, rivals: list[Path], ways: list[Path]) -> float:
    """Score of the strongest light line that is not the light rim of a dark one, nor the space between two."""
    near = [one for one in ways if one.score >= 0.5 * way.score] + [way]
    middles = np.array([float(np.median(one.rows)) for one in near])
    return max(
        (one.score for one in rivals if np.abs(middles - float(np.median(one.rows))).min() > RIM), default=0.0
    )  # fmt: skip


def _height(dark: Map, way: Path) -> float:
    """How far a way stands out of the same way moved to other depths, in their standard deviations."""
    columns = way.first + np.arange(len(way.rows))
    means = []
    for shift in range(-dark.shape[0], dark.shape[0], 3):
        rows = way.rows + shift
        inside = (rows >= 0) & (rows < dark.shape[0])
        if inside.mean() < 0.8 or abs(shift) < 8:
            continue
        values = dark[rows[inside], columns[inside]]
        values = values[values > -8]
        if len(values) > 0.6 * len(rows):
            means.append(float(np.clip(values, -CLIP, 3 * CLIP).mean()))
    if len(means) < 8:
        return 0.0
    own = float(np.clip(dark[way.rows, columns], -CLIP, 3 * CLIP).mean())
    spread = 1.4826 * float(np.median(np.abs(np.array(means) - np.median(means))))
    return (own - float(np.median(means))) / max(spread, 0.05)


def apart(found: list[Candidate]) -> list[Candidate]:
    """The same line only once: the longest trace of it, with the best score of them all."""
    kept: list[Candidate] = []
    for one in sorted(found, key=lambda each: -each.trace.length * each.trace.profile.seen):
        points = one.trace.points[::4]
        same = [k for k, other in enumerate(kept) if _one_line(points, other.trace.points)]
        if not same:
            kept.append(one)
        elif one.score > kept[same[0]].score:
            kept[same[0]] = replace(
                kept[same[0]], score=one.score, mean=one.mean, height=one.height, rival=one.rival,
                strict=one.strict,
            )  # fmt: skip
    return sorted(kept, key=lambda each: -each.score)


def once(members: list[list[Candidate]]) -> list[list[Candidate]]:
    """The lines of each member, less those that an earlier one has: two members may share a piece of metal."""
    kept: list[list[Candidate]] = []
    for found in members:
        kept.append(fresh(found, [one for member in kept for one in member]))
    return kept


def fresh(found: list[Candidate], held: list[Candidate]) -> list[Candidate]:
    """Those of some lines that are not among others."""
    return [one for one in found if not any(_one_line(one.trace.points[::4], other.trace.points) for other in held)]


def _one_line(points: Array, other: Array) -> bool:
    return bool((cKDTree(other).query(points)[0] < CLOSE).mean() >= 0.5)
