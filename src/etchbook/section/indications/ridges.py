"""Dark and light ridges of any direction, on a picture made small enough to be quick."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.section.indications.scene import Scene
from etchbook.section.records import SURROUNDINGS, WELD

Array = NDArray[np.float64]
Map = NDArray[np.float32]
MOST_PIXELS = 3_000_000
SMOOTH = 1.2
HIGH, LOW = 7.0, 3.5
"""A piece must pass HIGH somewhere and LOW throughout, in standard deviations of its kind of metal."""
FEWEST = 14
"""Pixels of the small picture that a piece must have."""
MOST = 400
LINK_DEGREES, LINK_ACROSS = 8.0, 3.0
"""How far two pieces of one line may turn [°] and lie apart across it [px]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Ridge:
    """One connected dark (sign 1) or light (-1) ridge, in picture pixels.

    Parameters
    ----------
    points : (n, 2) of its pixels; weight : (n,) how far each stands out
    middle, way : (2,) and unit direction of its longer axis
    length, breadth : along and across by its pixels' scatter
    mean : how far it stands out on average; sign : 1 dark, -1 light; weld : share of it that lies in the weld metal
    """

    points: Array
    weight: Array
    middle: Array
    way: Array
    length: float
    breadth: float
    mean: float
    sign: int
    weld: float

    @property
    def strength(self) -> float:
        """How far it stands out as a whole."""
        return self.mean * float(np.sqrt(self.length))


def ridges_of(scene: Scene) -> list[Ridge]:
    """All ridges in the metal, strongest first."""
    small, factor, left, top = _small(scene)
    if min(small.shape) < 16:
        return []
    dark, light = _curved(small)
    kind = _kinds(scene, small.shape, factor, left, top)
    found: list[Ridge] = []
    for sign, map_ in ((1, dark), (-1, light)):
        found += _pieces(_standing(map_, kind), kind, sign, factor, left, top)
    return sorted(found, key=lambda one: -one.strength)


def _small(scene: Scene) -> tuple[Map, int, int, int]:
    """The part of the picture that holds the metal, by block means."""
    row, column = np.nonzero(scene.regions.labels != SURROUNDINGS)
    if len(row) == 0:
        return np.zeros((0, 0), np.float32), 1, 0, 0
    scale = scene.regions.factor
    top, left = int(row.min() * scale), int(column.min() * scale)
    bottom = min(int((row.max() + 1) * scale), scene.light.shape[0])
    right = min(int((column.max() + 1) * scale), scene.light.shape[1])
    factor = max(1, int(np.ceil(np.sqrt((bottom - top) * (right - left) / MOST_PIXELS))))
    rows, columns = (bottom - top) // factor, (right - left) // factor
    part = scene.light[top : top + rows * factor, left : left + columns * factor]
    if factor == 1:
        return part, 1, left, top
    return part.reshape(rows, factor, columns, factor).mean(axis=(1, 3)), factor, left, top


def _curved(small: Map) -> tuple[Map, Map]:
    """Largest curvature of the light across each place, for dark and for light ridges, over the light there."""
    soft = ndimage.gaussian_filter(small, SMOOTH)
    xx, yy, xy = np.zeros_like(soft), np.zeros_like(soft), np.zeros_like(soft)
    xx[:, 1:-1] = soft[:, 2:] - 2 * soft[:, 1:-1] + soft[:, :-2]
    yy[1:-1] = soft[2:] - 2 * soft[1:-1] + soft[:-2]
    xy[1:-1, 1:-1] = 0.25 * (soft[2:, 2:] + soft[:-2, :-2] - soft[2:, :-2] - soft[:-2, 2:])
    # In place: these maps are as large as the metal, and there are many of them.
    middle, half = 0.5 * (xx + yy), 0.5 * (xx - yy)
    np.add(np.square(half, out=half), np.square(xy, out=xy), out=half)
    spread = np.sqrt(half, out=half)
    level = np.maximum(ndimage.uniform_filter(small, 15, output=soft), 0.02, out=soft)
    dark, light = np.add(middle, spread, out=xx), np.subtract(spread, middle, out=yy)
    return np.divide(dark, level, out=dark), np.divide(light, level, out=light)


def _kinds(scene: Scene, shape: tuple[int, int], factor: int, left: int, top: int) -> NDArray[np.uint8]:
    """0 where nothing is looked for, 1 plate and HAZ, 2 weld metal."""
    labels, scale = scene.regions.labels, scene.regions.factor
    row, column = (
        np.clip(((np.arange(count) + 0.5) * factor + first) // scale, 0, most - 1).astype(np.intp)
        for count, first, most in zip(shape, (top, left), labels.shape, strict=True)
    )
    label = labels[row[:, None], column]
    kind = np.where(label == WELD, 2, np.minimum(label, 1)).astype(np.uint8)
    margin = int(np.ceil((2.5 * scene.blur + 2.0 * scene.regions.factor + 3.0) / factor))
    inside = ndimage.minimum_filter(label != SURROUNDINGS, 2 * margin + 1)
    return np.where(inside, kind, 0).astype(np.uint8)


def _standing(curved: Map, kind: NDArray[np.uint8]) -> Map:
    """Curvature in standard deviations of its kind of metal."""
    score = np.zeros_like(curved)
    for each in (1, 2):
        where = kind == each
        if where.sum() < 200:
            continue
        values = curved[where]
        some = values[:: max(1, len(values) // 50_000)]
        middle = float(np.median(some))
        spread = 1.4826 * float(np.median(np.abs(some - middle)))
        score[where] = (values - middle) / max(spread, 1e-5)
    return score


def _pieces(score: Map, kind: NDArray[np.uint8], sign: int, factor: int, left: int, top: int) -> list[Ridge]:
    marked, count = ndimage.label(score > LOW, np.ones((3, 3), int))
    if count == 0:
        return []
    row, column = np.nonzero(marked)
    owner, weight = marked[row, column], score[row, column]
    size = np.bincount(owner, minlength=count + 1)
    best = np.zeros(count + 1, np.float32)
    np.maximum.at(best, owner, weight)
    total = np.bincount(owner, weight, minlength=count + 1)
    good = np.nonzero((size >= FEWEST) & (best > HIGH))[0]
    good = good[good > 0]
    good = good[np.argsort(-total[good])][:MOST]
    order = np.argsort(owner, kind="stable")
    start = np.searchsorted(owner[order], good)
    stop = np.searchsorted(owner[order], good, side="right")
    place = np.array([left, top]) + 0.5 * (factor - 1)
    found = []
    for a, b in zip(start, stop, strict=True):
        pick = order[a:b]
        points = np.stack([column[pick], row[pick]], axis=1) * float(factor) + place
        weld = float((kind[row[pick], column[pick]] == 2).mean())
        found.append(_ridge(points, weight[pick].astype(float), sign, weld))
    return found


def _ridge(points: Array, weight: Array, sign: int, weld: float) -> Ridge:
    total = weight.sum()
    middle = weight @ points / total
    off = points - middle
    xx, yy = (float(weight @ off[:, k] ** 2) / total for k in (0, 1))
    xy = float(weight @ (off[:, 0] * off[:, 1])) / total
    # Axes of a 2 x 2 scatter by hand: there are hundreds of ridges, and a solver's call costs more than the sums.
    turn = 0.5 * float(np.arctan2(2 * xy, xx - yy))
    way = np.array([np.cos(turn), np.sin(turn)])
    least = 0.5 * (xx + yy) - float(np.hypot(0.5 * (xx - yy), xy))
    run = off @ way
    return Ridge(
        points=points, weight=weight, middle=middle, way=way, length=float(run.max() - run.min()),
        breadth=float(np.sqrt(max(least, 0.0))), mean=float(total) / len(weight), sign=sign, weld=weld,
    )  # fmt: skip


def linked(found: Sequence[Ridge]) -> list[Ridge]:
    """Ridges, those that carry one another straight on made one, strongest first: a line may be broken."""
    kept: list[Ridge] = []
    for one in found:
        last = next((k for k, other in enumerate(kept) if _carries_on(other, one)), None)
        if last is None:
            kept.append(one)
        else:
            other = kept[last]
            points, weight = np.concatenate([other.points, one.points]), np.concatenate([other.weight, one.weight])
            share = (len(other.points) * other.weld + len(one.points) * one.weld) / len(points)
            kept[last] = _ridge(points, weight, one.sign, share)
    return sorted(kept, key=lambda one: -one.strength)


def _carries_on(one: Ridge, other: Ridge) -> bool:
    """Whether two ridges of one sign lie on one straight line, end to end, with a gap shorter than they are."""
    if one.sign != other.sign or abs(float(one.way @ other.way)) < np.cos(np.radians(LINK_DEGREES)):
        return False
    off = other.middle - one.middle
    along, across = abs(float(off @ one.way)), abs(float(off @ np.array([-one.way[1], one.way[0]])))
    gap = along - 0.5 * (one.length + other.length)
    return -4.0 < gap < 0.6 * (one.length + other.length) and across < LINK_ACROSS + 0.03 * along


def rough_line(ridge: Ridge, step: float) -> Array:
    """The middle of a ridge along its longer axis, (n, 2)."""
    run = (ridge.points - ridge.middle) @ ridge.way
    bins = np.floor((run - run.min()) / step).astype(np.intp)
    total = np.bincount(bins, ridge.weight)
    good = total > 0
    middle = np.stack(
        [np.bincount(bins, ridge.weight * ridge.points[:, k])[good] / total[good] for k in (0, 1)], axis=1
    )
    return np.asarray(middle)
