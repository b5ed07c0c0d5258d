"""Which pixel is what: the refined outline laid over the first guess."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import normals, rasterise, resample
from etchbook.section.arcs import other_welds, weld_share
from etchbook.section.draft import Draft
from etchbook.section.guess import Guess, on_grid
from etchbook.section.looking import Look
from etchbook.section.measuring import shape_of
from etchbook.section.records import HAZ, PLATE, SURROUNDINGS, WELD, Reading, Regions
from etchbook.section.strips import Array
from etchbook.section.tracing import softened

BESIDE = 3
"""Width of the strip round the outline in which its own edge counts [px of the reduced picture]."""


def regions_of(draft: Draft | None, seen: Look | None, shape: tuple[int, int], factor: float) -> Regions:
    """Labels on the reduced picture of `shape` (rows, columns)."""
    if seen is None:
        return Regions(labels=np.zeros(shape, np.uint8), factor=factor)
    labels = np.zeros(shape, np.uint8)
    share, haz = _shares(seen, shape, factor)
    metal = _whole(share > (0.5 if draft is None else _bar(draft, shape, factor)), share)
    labels[metal] = PLATE
    if draft is None or draft.haz or not draft.pinned:
        labels[metal & (haz > 0.5)] = HAZ
    if draft is not None:
        labels = _with_outline(labels, draft, factor)
        labels[(labels != SURROUNDINGS) & (labels != WELD) & _elsewhere(seen, draft, shape, factor)] = WELD
    return Regions(labels=labels, factor=factor)


def _elsewhere(seen: Look, draft: Draft, shape: tuple[int, int], factor: float) -> NDArray[np.bool_]:
    """Weld metal that is not part of the weld that is read, and stays clear of it."""
    found = np.zeros(shape, bool)
    for guess in (seen.whole,) if seen.near is seen.whole else (seen.whole, seen.near):
        rows, columns = _places(guess, shape, factor)
        low_r, high_r, low_c, high_c = _covered(guess, rows, columns)
        other = on_grid(other_welds(guess), rows[low_r:high_r], columns[low_c:high_c])
        found[low_r:high_r, low_c:high_c] = other > 0.5
    return found & ~_beside_weld(rasterise(_small(_ring(draft), factor), shape))


def _beside_weld(weld: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The weld that is read and a narrow strip round it, where the coarse labels give way to the traced outline."""
    return np.asarray(ndimage.binary_dilation(weld, np.ones((3, 3), bool), iterations=BESIDE))


def _ring(draft: Draft) -> Array:
    return np.concatenate([draft.face.points, draft.fusion.points[::-1]])


def _bar(draft: Draft, shape: tuple[int, int], factor: float) -> NDArray[np.float32]:
    """How sure the first guess must be of metal at each pixel: less between a member's traced sides, more outside."""
    x, y = ((np.arange(count) + 0.5) * factor - 0.5 for count in shape[::-1])
    outward = shape_of(draft).outward
    inside, known = np.zeros(shape, bool), False
    for member in ("1", "2"):
        name, key = (f"surface_{member}", member) if f"{draft.family}{member}" != "lap2" else ("top_2", "top_2")
        if name not in draft.lines or key not in outward:
            continue
        known = True
        line, out = draft.lines[name].line, outward[key]
        depth = (line.x - x) * out[0] + ((line.y - y) * out[1])[:, None]
        strip = depth > 0
        if f"back_{member}" in draft.lines:
            strip &= depth < abs(float(line.across(draft.lines[f"back_{member}"].line.anchor)[0]))
        inside |= strip
    return np.where(inside, np.float32(0.3), np.float32(0.8)) if known else np.full(shape, 0.5, np.float32)


def _whole(metal: NDArray[np.bool_], share: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Metal without stray islands far from the weld and without holes of a few pixels' doubt."""
    pieces, count = ndimage.label(metal)
    if count == 0:
        return metal
    sizes = np.bincount(pieces.ravel())[1:]
    keep = np.concatenate([[False], sizes > 0.08 * sizes.max()])
    metal = keep[pieces]
    holes, count = ndimage.label(~metal)
    sizes = np.bincount(holes.ravel(), minlength=count + 1)[1:]
    small = np.concatenate([[False], sizes < 0.01 * metal.size])
    return np.asarray(metal | (small[holes] & (share > 0.12)))


def _shares(seen: Look, shape: tuple[int, int], factor: float) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Chance of metal, and of HAZ or weld within it, on the reduced picture; the close look counts where it reaches."""
    metal, hot = np.zeros(shape, np.float32), np.zeros(shape, np.float32)
    for guess in (seen.whole,) if seen.near is seen.whole else (seen.whole, seen.near):
        rows, columns = _places(guess, shape, factor)
        low_r, high_r, low_c, high_c = _covered(guess, rows, columns)
        grid = (rows[low_r:high_r], columns[low_c:high_c])
        air = on_grid(guess.share[0], *grid)
        warm = on_grid(guess.share[3] + guess.share[4] + weld_share(guess), *grid)
        metal[low_r:high_r, low_c:high_c] = 1 - air
        hot[low_r:high_r, low_c:high_c] = warm / np.maximum(1 - air, 0.2)
    return metal, hot


def _places(guess: Guess, shape: tuple[int, int], factor: float) -> tuple[Array, Array]:
    """Window rows and columns of the reduced picture's pixel centres."""
    x = (np.arange(shape[1]) + 0.5) * factor - 0.5
    y = (np.arange(shape[0]) + 0.5) * factor - 0.5
    rows = np.asarray((y + 0.5 - guess.top) / guess.factor - 0.5, float)
    return rows, np.asarray((x + 0.5 - guess.left) / guess.factor - 0.5, float)


def _covered(guess: Guess, rows: Array, columns: Array) -> tuple[int, int, int, int]:
    height, width = guess.share.shape[1:]
    r = np.nonzero((rows > -0.6) & (rows < height - 0.4))[0]
    c = np.nonzero((columns > -0.6) & (columns < width - 0.4))[0]
    return int(r[0]), int(r[-1]) + 1, int(c[0]), int(c[-1]) + 1


def _with_outline(labels: NDArray[np.uint8], draft: Draft, factor: float) -> NDArray[np.uint8]:
    """Weld and HAZ as traced: the weld's contour filled, the HAZ edge drawn sharp where it was traced."""
    shape = (labels.shape[0], labels.shape[1])
    metal = labels != SURROUNDINGS
    for member, trace in draft.haz.items():
        fusion = draft.fusion.points[draft.beside == int(member)]
        if len(fusion) < 3 or len(trace.points) < 5:
            continue
        inner, outer = _strips(trace.points, fusion, 2.0 * draft.pixel)
        labels = np.where(rasterise(_small(outer, factor), shape) & metal, PLATE, labels)
        labels = np.where(rasterise(_small(inner, factor), shape) & metal, HAZ, labels)
    weld = rasterise(_small(_ring(draft), factor), shape)
    labels = np.where(~weld & (labels == WELD), PLATE, labels)
    return np.where(weld, WELD, labels).astype(np.uint8)


def _strips(edge: Array, fusion: Array, width: float) -> tuple[Array, Array]:
    """Closed strips of this width on both sides of a HAZ edge: towards the fusion line, and away from it."""
    across = normals(softened(edge, 6.0))
    middle = len(edge) // 2
    nearest = fusion[int(np.argmin(np.hypot(*(fusion - edge[middle]).T)))]
    if across[middle] @ (nearest - edge[middle]) < 0:
        across = -across
    return np.concatenate([edge, (edge + width * across)[::-1]]), np.concatenate([edge, (edge - width * across)[::-1]])


def _small(points: Array, factor: float) -> Array:
    return np.asarray((points + 0.5) / factor - 0.5)


def region_labels(reading: Reading) -> NDArray[np.uint8]:
    """Labels at the size of the photo, (height, width): 0 surroundings, 1 plate, 2 HAZ, 3 weld metal."""
    small, factor = reading.regions.labels, reading.regions.factor
    height, width = reading.picture.height, reading.picture.width
    rows = np.clip(((np.arange(height) + 0.5) / factor).astype(int), 0, small.shape[0] - 1)
    columns = np.clip(((np.arange(width) + 0.5) / factor).astype(int), 0, small.shape[1] - 1)
    labels = small[rows][:, columns]
    for ring in reading.outline.weld:
        coarse = _beside_weld(rasterise(_small(ring, factor), (small.shape[0], small.shape[1])))
        weld = rasterise(resample(np.concatenate([ring, ring[:1]]), 1.0), (height, width))
        labels[(labels == WELD) & coarse[rows][:, columns] & ~weld] = HAZ
        labels[weld] = WELD
    return np.ascontiguousarray(labels, np.uint8)
