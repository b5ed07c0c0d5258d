"""Each graduation of a straightened strip: where it stands, how strong and how long it is."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.picture.scale.comb import FEWEST, Strip, phasor

Array = NDArray[np.float64]
MOST_MISSING = 0.15
"""Share of graduations along the way that may be hidden by glare, dirt or scratches."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Ticks:
    """Graduations found on one rule.

    Parameters
    ----------
    index : (n,) running number
    place : (n,) along the strip [samples]
    length : (n,) [pitches]; nan where a graduation runs out of the picture
    lean : how far they still lean, along per across
    finer : whether there are finer graduations between these
    clarity : height of a graduation over the noise beside it
    """

    index: NDArray[np.intp]
    place: Array
    length: Array
    lean: float
    finer: bool
    clarity: float


def find_ticks(strip: Strip, column: float) -> Ticks | None:
    """Follow the graduations both ways from where they were seen; None when there is no rule after all.

    Parameters
    ----------
    strip : straightened picture
    column : where along the strip they were seen
    """
    pitch = strip.pitch
    start, sign = _strongest(strip, column)
    values = strip.values * sign
    profile = _band(values, start, 0.4 * pitch)
    found = _walk(profile, pitch, column)
    if found is None:
        return None
    index, place = found
    heights = _heights(values, place, pitch)
    rows = _common_rows(heights, start, pitch)
    if rows is None:
        return None
    profile = values[rows[0] : rows[1] + 1].mean(axis=0)
    found = _walk(profile, pitch, float(place[len(place) // 2]))
    if found is None:
        return None
    index, place = found
    heights = _heights(values, place, pitch)
    common = np.median(heights[rows[0] : rows[1] + 1], axis=0)
    return Ticks(
        index=index,
        place=place,
        length=_lengths(heights, common, rows, strip.inside[:, np.round(place).astype(int)]) / pitch,
        lean=_lean(values, rows, pitch, place),
        finer=_finer(values, place, pitch, float(np.median(common))),
        clarity=float(np.median(common) / max(_beside(profile, place, pitch), 1e-6)),
    )


def _strongest(strip: Strip, column: float) -> tuple[int, float]:
    """The row in which the repeating is strongest near the seed, and +1 for light or -1 for dark graduations."""
    near = slice(max(0, int(column - 8 * strip.pitch)), int(column + 8 * strip.pitch) + 1)
    wave = np.abs(phasor(strip.values[:, near], strip.pitch, 6.0)).mean(axis=1)
    wave = ndimage.gaussian_filter1d(wave, 0.35 * strip.pitch, mode="constant")
    best = int(np.argmax(wave))
    band = _band(strip.values[:, near], best, 0.4 * strip.pitch)
    return best, 1.0 if float((band**3).sum()) >= 0 else -1.0


def _band(values: Array, row: int, half: float) -> Array:
    reach = max(1, round(half))
    return np.asarray(values[max(0, row - reach) : row + reach + 1].mean(axis=0))


def _walk(profile: Array, pitch: float, column: float) -> tuple[NDArray[np.intp], Array] | None:
    """Numbers and places of the graduations, walking both ways from a column."""
    smooth = ndimage.gaussian_filter1d(profile, 0.06 * pitch)
    low, high = int(max(0, column - 6 * pitch)), int(column + 6 * pitch) + 1
    if high - low < 4 * pitch:
        return None
    columns = np.arange(low, min(high, len(smooth)))
    phase = np.angle((smooth[columns] * np.exp(-2j * np.pi * columns / pitch)).sum())
    first = -phase * pitch / (2 * np.pi)
    first += np.round((column - first) / pitch) * pitch
    typical = float(np.quantile(smooth[columns], 0.97))
    if typical <= 0:
        return None
    places: dict[int, float] = {}
    for way in (1, -1):
        places |= _one_way(smooth, pitch, first, way, typical)
    index = np.array(sorted(places), np.intp)
    if len(index) < FEWEST or len(index) < (1 - MOST_MISSING) * (index[-1] - index[0] + 1):
        return None
    place = np.array([places[k] for k in index])
    rest = place - np.polyval(np.polyfit(index, place, 2), index)
    return None if float(np.sqrt((rest**2).mean())) > 0.07 * pitch else (index, place)


def _one_way(profile: Array, pitch: float, first: float, way: int, typical: float) -> dict[int, float]:
    places: dict[int, float] = {}
    step, expected, number, missed = pitch, first, 0, 0
    while missed < 3:
        found = _peak(profile, expected, 0.3 * pitch, 0.33 * typical)
        if found is None:
            missed += 1
        else:
            if places:
                last = places[max(places, key=abs)]
                gap = abs(number - max(places, key=abs))
                step = 0.9 * step + 0.1 * abs(found - last) / max(gap, 1)
            places[number], expected, missed = found, found, 0
            typical = 0.9 * typical + 0.1 * float(profile[round(found)])
        number += way
        expected += way * step
    return places


def _peak(profile: Array, expected: float, reach: float, least: float) -> float | None:
    """Sub-pixel place of the highest sample near an expected one."""
    low, high = int(np.ceil(expected - reach)), int(np.floor(expected + reach)) + 1
    if low < 2 or high > len(profile) - 2 or high <= low:
        return None
    best = low + int(np.argmax(profile[low:high]))
    if profile[best] < least or profile[best] < max(profile[best - 1], profile[best + 1]):
        return None
    width = max(1, round(0.5 * reach))
    part = np.arange(max(0, best - width), min(len(profile), best + width + 1))
    floor = min(profile[part[0]], profile[part[-1]])
    weight = np.clip(profile[part] - floor, 0, None)
    return float((weight * part).sum() / weight.sum()) if weight.sum() > 0 else float(best)


def _heights(values: Array, place: Array, pitch: float) -> Array:
    """Height of each graduation over what lies midway to its neighbours, (rows, n), smoothed a little across."""

    def at(shift: float, width: int) -> Array:
        near = np.round(place + shift).astype(int)[None, :] + np.arange(-width, width + 1)[:, None]
        return np.asarray(values[:, np.clip(near, 0, values.shape[1] - 1)].mean(axis=1))

    thin = max(0, round(0.06 * pitch))
    between = 0.5 * (at(0.5 * pitch, round(0.1 * pitch)) + at(-0.5 * pitch, round(0.1 * pitch)))
    return np.asarray(ndimage.gaussian_filter1d(at(0.0, thin) - between, max(0.5, 0.12 * pitch), axis=0))


def _common_rows(heights: Array, start: int, pitch: float) -> tuple[int, int] | None:
    """The rows round the start in which all graduations stand."""
    level = np.quantile(heights[start], 0.6)
    everyone = (heights > 0.35 * level).mean(axis=1) >= 0.88
    rows = np.nonzero(everyone)[0]
    rows = rows[np.abs(rows - start) < 4 * pitch]
    if level <= 0 or not len(rows):
        return None
    labels, _ = ndimage.label(everyone)
    sizes = np.bincount(labels[rows])
    best = int(np.argmax(sizes))
    own = np.nonzero(labels == best)[0]
    return (int(own[0]), int(own[-1])) if len(own) >= max(2.0, 0.4 * pitch) else None


def _lean(values: Array, rows: tuple[int, int], pitch: float, place: Array) -> float:
    """How the places of the graduations shift from row to row: the two halves of the common rows compared."""
    middle = (rows[0] + rows[1] + 1) // 2
    if middle - rows[0] < 1:
        return 0.0
    shifts = []
    for part in (slice(rows[0], middle), slice(middle, rows[1] + 1)):
        profile = ndimage.gaussian_filter1d(values[part].mean(axis=0), 0.06 * pitch)
        shifts.append([_peak(profile, float(at), 0.4 * pitch, 0.0) for at in place])
    gaps = [two - one for one, two in zip(*shifts, strict=True) if one is not None and two is not None]
    return float(np.median(gaps)) / (0.5 * (rows[1] + 1 - rows[0])) if len(gaps) >= 5 else 0.0


def _lengths(heights: Array, common: Array, rows: tuple[int, int], inside: NDArray[np.bool_]) -> Array:
    """How far each graduation reaches from the rows in which all stand, end to end [samples]."""
    present = heights > 0.5 * common[None, :]
    present = ndimage.binary_closing(present, np.ones((3, 1), bool))
    middle = (rows[0] + rows[1]) // 2
    below = present[middle:]
    above = present[middle::-1]

    def run(part: NDArray[np.bool_]) -> Array:
        return np.where(part.all(axis=0), len(part), np.argmin(part, axis=0)).astype(float)

    down, up = run(below), run(above)
    each = np.arange(heights.shape[1])
    ends = np.clip(np.stack([middle + down, middle - up]), 0, len(heights) - 1).astype(int)
    whole = inside[ends[0], each] & inside[ends[1], each]
    return np.where(whole, down + up - 1.0, np.nan)


def _finer(values: Array, place: Array, pitch: float, height: float) -> bool:
    """Whether further graduations stand at even places between these, in any rows."""
    phases = np.arange(0.12, 0.8801, 0.02)
    inner = place[:-1]
    columns = np.clip(np.round(inner[None, :] + phases[:, None] * pitch).astype(int), 0, values.shape[1] - 1)
    folded = np.median(values[:, columns], axis=2)
    folded = ndimage.gaussian_filter1d(folded, max(0.5, 0.25 * pitch), axis=0)
    for parts in (2, 4, 5):
        on = [int(np.argmin(np.abs(phases - k / parts))) for k in range(1, parts)]
        off = [int(np.argmin(np.abs(phases - (k + 0.5) / parts))) for k in range(1, parts - 1)] or [0, len(phases) - 1]
        lift = folded[:, on].min(axis=1) - folded[:, off].max(axis=1)
        if float(lift.max()) > 0.2 * height:
            return True
    return False


def _beside(profile: Array, place: Array, pitch: float) -> float:
    """Restlessness midway between graduations."""
    columns = np.clip(np.round(place[:-1] + 0.5 * pitch).astype(int), 0, len(profile) - 1)
    return float(1.4826 * np.median(np.abs(profile[columns] - np.median(profile[columns]))))
