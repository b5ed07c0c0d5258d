"""A member laid flat: rows are depth, columns are cells along the plate, and what stands out dark in each cell."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.section.indications.members import Member, labels_at
from etchbook.section.records import HAZ, PLATE, Regions

Array = NDArray[np.float64]
Map = NDArray[np.float32]
CELL = 12
"""Pixels along the plate that one cell averages over."""
WIDTHS = (2, 4, 7, 12, 20)
"""Widths across that are looked for [px]."""
CLIP = 4.0
"""No cell counts for more than this many standard deviations: a line is long, dirt is dark."""
TOLL = 1.4
"""What each cell must stand out by for a way to gain in it, in standard deviations."""
LEAST_SPREAD = 0.002
"""No metal is taken to be more even than this share of its light: else its faintest shades would be lines."""
LEAST_SCORE_SPREAD = 0.5
MOST_PIXELS = 40_000_000


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """A member laid flat.

    Parameters
    ----------
    light : (depth, cells) mean light of each cell; nan outside the member
    origin : place in the picture of row 0, column 0's beginning [px]; way, inward : unit vectors along and across
    cell : pixels a cell is long
    """

    light: Map
    origin: Array
    way: Array
    inward: Array
    cell: int

    def place(self, row: NDArray[np.generic], column: NDArray[np.generic]) -> Array:
        """Places in the picture of the middles of cells, (n, 2)."""
        along = (np.asarray(column, float) + 0.5) * self.cell - 0.5
        return np.asarray(self.origin + along[:, None] * self.way + np.asarray(row, float)[:, None] * self.inward)


def lay_flat(light: Map, regions: Regions, member: Member, margin: float) -> Band | None:
    """A member sampled along and across, averaged over cells; None where the picture shows too little of it.

    Parameters
    ----------
    light : (h, w) grey
    margin : how far from its faces to keep off [px]
    """
    height, width = light.shape
    corners = np.array([[0, 0], [width - 1, 0], [width - 1, height - 1], [0, height - 1]], float)
    anchor = member.surface.line.anchor
    along, deep = (corners - anchor) @ member.way, (corners - anchor) @ member.inward
    low, high = _reach(regions, member, anchor)
    if high - low < 4 * CELL:
        return None
    bottom = min(float(deep.max()), (member.thickness or np.inf) + 3.0)
    rows = int(bottom) + 1
    columns = int((high - low) / CELL)
    if rows < 12 or columns < 4 or rows * columns * CELL > MOST_PIXELS:
        return None
    origin = anchor + max(low, float(along.min())) * member.way
    flat = _cells(light, origin, member, rows, columns)
    band = Band(light=flat, origin=origin, way=member.way, inward=member.inward, cell=CELL)
    flat[~_allowed(band, regions, member, margin)] = np.nan
    return band


def _reach(regions: Regions, member: Member, anchor: Array) -> tuple[float, float]:
    """First and last run along a member at which the picture shows its metal."""
    row, column = np.nonzero(np.isin(regions.labels, (PLATE, HAZ)))
    if len(row) == 0:
        return 0.0, 0.0
    points: Array = (np.stack([column, row], axis=1).astype(float) + 0.5) * regions.factor - 0.5
    points = points[member.holds(points)]
    if len(points) < 20:
        return 0.0, 0.0
    run = (points - anchor) @ member.way
    low, high = np.percentile(run, [0.2, 99.8])
    return float(low), float(high)


def _cells(light: Map, origin: Array, member: Member, rows: int, columns: int) -> Map:
    """Mean light of cells: the nearest pixel of each place, which is soft enough across and needs no weights."""
    height, width = light.shape
    flat = np.zeros((rows, columns), np.float32)
    long = columns * CELL
    s = np.arange(long, dtype=np.float32)
    x0 = (origin[0] + 0.5) + s * member.way[0]
    y0 = (origin[1] + 0.5) + s * member.way[1]
    pixels = light.ravel()
    for begin in range(0, rows, 64):
        d = np.arange(begin, min(begin + 64, rows), dtype=np.float32)[:, None]
        column = (x0 + d * np.float32(member.inward[0])).astype(np.int32)
        row = (y0 + d * np.float32(member.inward[1])).astype(np.int32)
        np.clip(column, 0, width - 1, out=column)
        np.clip(row, 0, height - 1, out=row)
        row *= width
        row += column
        flat[begin : begin + len(d)] = pixels[row].reshape(len(d), columns, CELL).mean(axis=2)
    return flat


def _allowed(band: Band, regions: Regions, member: Member, margin: float) -> NDArray[np.bool_]:
    """Cells that lie wholly in the member's plate or HAZ, off its faces, and inside the picture."""
    rows, columns = band.light.shape
    grid = np.mgrid[0:rows, 0:columns].reshape(2, -1)
    places = band.place(grid[0], grid[1])
    plate = np.isin(labels_at(regions, places), (PLATE, HAZ)) & member.holds(places)
    deep = member.depth(places) > margin
    height = member.height(places)
    if height is not None:
        deep &= height > margin
    good = (plate & deep).reshape(rows, columns)
    # A label may be a little off at the weld's edge and where something lies on the metal.
    reach = int(np.ceil(1.5 * regions.factor)) + 1
    return np.asarray(
        ndimage.binary_erosion(good, np.ones((2 * reach + 1, 1))) & ndimage.binary_erosion(good, np.ones((1, 3)))
    )


def standing_out(band: Band, sign: float = 1.0) -> tuple[Map, NDArray[np.intp]]:
    """How far each cell is darker (sign 1) or lighter (-1) than both its sides, in standard deviations; best width."""
    light = band.light
    good = np.isfinite(light)
    filled = _filled(light, good)
    best = np.full(light.shape, -9.0, np.float32)
    which = np.zeros(light.shape, np.intp)
    for index, width in enumerate(WIDTHS):
        if 4 * width > light.shape[0]:
            break
        z = _contrast(filled, good, width, sign)
        better = z > best
        best[better], which[better] = z[better], index
    best[~good] = -9.0
    return _normal(best, good, LEAST_SCORE_SPREAD), which


def _filled(light: Map, good: NDArray[np.bool_]) -> Map:
    """Light with the places outside the member given their nearest allowed neighbour's in the column."""
    if good.all():
        return light
    index = ndimage.distance_transform_edt(~good, return_distances=False, return_indices=True)
    return np.asarray(light[tuple(index)])


def _contrast(light: Map, good: NDArray[np.bool_], width: int, sign: float) -> Map:
    """Smaller of the two steps down from the sides, over the light there: a step alone is no line."""
    flank = max(3, width)
    gap = width // 2 + 2 + flank // 2
    middle = ndimage.uniform_filter1d(light, width, axis=0, mode="nearest")
    side = ndimage.uniform_filter1d(light, flank, axis=0, mode="nearest")
    above, below = _shifted(side, gap), _shifted(side, -gap)
    low = np.minimum(above, below) if sign > 0 else np.maximum(above, below)
    return _normal(sign * (low - middle) / np.maximum(side, 0.02), good, LEAST_SPREAD)


def _shifted(values: Map, rows: int) -> Map:
    """Row r holds what stood in row r - rows; the border goes on unchanged."""
    index = np.clip(np.arange(values.shape[0]) - rows, 0, values.shape[0] - 1)
    return np.asarray(values[index])


def _normal(values: Map, good: NDArray[np.bool_], least: float = 1e-4) -> Map:
    there = values[good]
    if len(there) < 50:
        return np.zeros_like(values)
    there = there[:: max(1, len(there) // 60_000)]
    middle = float(np.median(there))
    spread = 1.4826 * float(np.median(np.abs(there - middle)))
    return np.asarray((values - middle) / max(spread, least), np.float32)


def gains(score: Map) -> Map:
    """What a way gains in each cell."""
    return np.clip(score, -CLIP, CLIP) - np.float32(TOLL)
