"""Lines on and beside the fusion line: the metal along it laid flat, and what only a part of it shows."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import resample
from etchbook.section.indications.bands import Band, gains, standing_out
from etchbook.section.indications.candidates import Candidate, apart, widest_line
from etchbook.section.indications.describing import member_at
from etchbook.section.indications.gaps import on_gap
from etchbook.section.indications.paths import Path, strong_ways
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.sieve import at_rim, inked
from etchbook.section.indications.traces import LineTrace, trace_line
from etchbook.section.records import SURROUNDINGS
from etchbook.section.strips import Strip, take_strip

Array = NDArray[np.float64]
Map = NDArray[np.float32]
CELL = 6
"""Pixels along the fusion line that one cell averages over."""
OUTWARD_MM, INWARD_MM = 1.1, 0.25
"""How far into the plate and into the weld metal is looked [mm]."""
USUAL = 0.35
"""Share of the stations that are no darker at an offset than what counts as usual there."""
LEAST, BEND, MOST, REACH = 24.0, 0.2, 3, 5
LEAST_MM, LEAST_PX = 0.5, 22.0
LEAST_MEAN, LEAST_SEEN, LEAST_CONTINUITY = 1.5, 0.22, 0.6
WIDEST_MM, MOST_OF_IT = 0.25, 0.75
"""A crack or a seam that is no fusion is finer; what runs along nearly all of the line cannot be told from it."""
PLAIN_MEAN = 2.3
"""A way this dark in every cell is looked at however light others are."""
ABOVE_USUAL, ABOVE_RIVALS = 2.2, 1.8
MOST_STATIONS = 4000


@dataclass(frozen=True, kw_only=True, slots=True)
class _Flat:
    """The metal along a fusion line: rows are offsets, columns are cells along it."""

    strip: Strip
    light: Map

    def place(self, way: Path) -> Array:
        """Where a way runs in the picture, (n, 2)."""
        station = np.clip((way.first + np.arange(len(way.rows))) * CELL + CELL // 2, 0, len(self.strip.curve) - 1)
        return np.asarray(
            self.strip.curve[station] + self.strip.offsets[way.rows][:, None] * self.strip.across[station]
        )


def beside_fusion(scene: Scene) -> list[Candidate]:
    """Candidates on and beside the fusion line: lack of fusion, cracks of the HAZ."""
    found: list[Candidate] = []
    for name, part in scene.outline.boundaries.items():
        if name.startswith("fusion_line") and len(part.points) > 5:
            flat = _laid_flat(scene, resample(part.points, 1.0))
            found += [] if flat is None else _lines(scene, flat)
    return found


def _laid_flat(scene: Scene, chain: Array) -> _Flat | None:
    if not 12 * CELL < len(chain) < MOST_STATIONS:
        return None
    soft = np.stack([ndimage.gaussian_filter1d(chain[:, k], 4.0, mode="nearest") for k in (0, 1)], axis=1)
    reach = float(np.clip(OUTWARD_MM * scene.mm, 16.0, 120.0))
    strip = take_strip(scene.light[..., None], soft, reach, 1.0)
    count = len(soft) // CELL
    values = strip.values[: count * CELL, :, 0].reshape(count, CELL, -1).mean(axis=1)
    light = np.asarray(values.T, np.float32)
    light[~_allowed(scene, strip, count)] = np.nan
    return _Flat(strip=strip, light=light) if np.isfinite(light).mean() > 0.2 else None


def _allowed(scene: Scene, strip: Strip, count: int) -> NDArray[np.bool_]:
    """Cells in the metal, off its rim, and not deep in the weld metal."""
    middle = np.arange(count) * CELL + CELL // 2
    places = strip.curve[middle, None, :] + strip.offsets[None, :, None] * strip.across[middle, None, :]
    label = scene.label(places.reshape(-1, 2)).reshape(count, -1)
    rim = scene.from_rim(places.reshape(-1, 2)).reshape(count, -1)
    good = (label != SURROUNDINGS) & (rim > 3.0 * scene.blur + 2.0 * scene.regions.factor + 2.0)
    weld = scene.in_weld(places.reshape(-1, 2)).reshape(count, -1)
    inward = max(INWARD_MM * scene.mm, 5.0)
    good &= ~(weld & (np.abs(strip.offsets) > inward)[None, :])
    return np.asarray(good.T)


def _lines(scene: Scene, flat: _Flat) -> list[Candidate]:
    still = np.zeros(2)
    band = Band(light=flat.light, origin=still, way=still, inward=still, cell=CELL)
    dark, light = (_unusual(standing_out(band, sign)[0], np.isfinite(flat.light)) for sign in (1.0, -1.0))
    rival = max((way.score for way in strong_ways(gains(light), LEAST, most=1, reach=REACH, bend=BEND)), default=0.0)
    ways = strong_ways(gains(dark), LEAST, most=MOST, reach=REACH, bend=BEND, jump=2)
    found = []
    for way in ways:
        if len(way.rows) > MOST_OF_IT * np.isfinite(flat.light).any(axis=0).sum():
            continue
        mean = way.score / len(way.rows)
        if mean < LEAST_MEAN or (way.score < ABOVE_RIVALS * rival and mean < PLAIN_MEAN):
            continue
        trace = trace_line(
            scene.light, flat.place(way), blur=scene.blur, width=3.0, along=float(CELL), widest=widest_line(scene)
        )
        if trace is not None and not _no_line(scene, trace, flat, way):
            found.append(_candidate(scene, trace, way))
    return apart(found)


def _unusual(score: Map, good: NDArray[np.bool_]) -> Map:
    """What stands out beyond what the same offset mostly shows: a seam or a band of the HAZ goes all along."""
    held = np.where(good, score, np.nan)
    usual = np.zeros(score.shape[0], np.float32)
    enough = good.sum(axis=1) > 8
    usual[enough] = _quantiles(held[enough], USUAL)
    near = ndimage.maximum_filter1d(np.maximum(usual, 0), 3)
    return np.where(good, score - near[:, None], np.float32(-9.0)).astype(np.float32)


def _quantiles(held: Map, share: float) -> Map:
    """Quantile of each row, what is nan left out; numpy's own goes row by row."""
    ordered = np.sort(held, axis=1)  # nan comes last
    place = share * (np.isfinite(held).sum(axis=1) - 1)
    low = place.astype(np.intp)
    rows = np.arange(len(held))
    first, second = ordered[rows, low], ordered[rows, np.minimum(low + 1, np.ceil(place).astype(np.intp))]
    return np.asarray(first + (place - low) * (second - first), np.float32)


def _no_line(scene: Scene, trace: LineTrace, flat: _Flat, way: Path) -> str:
    """Why a trace is no indication; "" where it may be one."""
    profile = trace.profile
    if trace.length < max(LEAST_MM * scene.mm, LEAST_PX) or trace.continuity < LEAST_CONTINUITY:
        return "it is short or broken"
    if profile.seen < max(LEAST_SEEN, ABOVE_USUAL * _lost_elsewhere(scene, flat, way)):
        return "the rest of the fusion line is as dark at this distance"
    if profile.width > max(WIDEST_MM * scene.mm, 6.0) or trace.length < 4.0 * profile.width:
        return "it is wider than a line"
    return inked(scene, trace) or at_rim(scene, trace) or on_gap(scene, trace)


def _lost_elsewhere(scene: Scene, flat: _Flat, way: Path) -> float:
    """Light that is mostly lost at the way's offset where the way does not run."""
    rows, side = int(np.median(way.rows)), int(np.ceil(3.0 * scene.blur + 3.0))
    low, high = rows - side, rows + side
    if low < 0 or high >= flat.light.shape[0]:
        return 0.0
    rest = np.ones(flat.light.shape[1], bool)
    rest[way.first : way.first + len(way.rows)] = False
    near = flat.light[max(rows - 3, 0) : rows + 4, rest]
    good = np.isfinite(near).all(axis=0)
    if good.sum() < 6:
        return 0.0
    beside = np.fmin(flat.light[low, rest][good], flat.light[high, rest][good])
    lost = 1 - near[:, good].min(axis=0) / np.maximum(beside, 1e-3)
    return max(float(np.nanmedian(lost)), 0.0)


def _candidate(scene: Scene, trace: LineTrace, way: Path) -> Candidate:
    return Candidate(
        trace=trace, member=member_at(scene, trace.points), score=way.score, mean=way.score / len(way.rows), rival=0.0,
        share=0.0, height=way.score / float(np.sqrt(len(way.rows))),
    )  # fmt: skip
