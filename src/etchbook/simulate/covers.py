"""Which part of which pixel is what: exact covers of weld, plates and gaps, and distances from the fusion line."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from etchbook.simulate.cases import Case
from etchbook.simulate.hazedge import nearest_of
from etchbook.simulate.placing import Placing
from etchbook.simulate.raster import Cover, cover_of, enlarged

FAR = 600.0
FLOAT = NDArray[np.float32]


@dataclass(frozen=True, kw_only=True, slots=True)
class Covers:
    """Shares of each pixel, (h, w), that add up to 1 with the surroundings.

    Parameters
    ----------
    weld : weld metal; plates : one a member; slit : faying line and gap (lies over the surroundings and the plates)
    pores : pores (a part of `weld`)
    """

    weld: Cover
    plates: tuple[Cover, ...]
    slit: Cover
    pores: Cover

    @property
    def metal(self) -> Cover:
        """All metal."""
        return np.asarray(np.clip(self.weld + sum(self.plates), 0, 1), np.float32)


def draw_covers(case: Case, placing: Placing, width: int, height: int) -> Covers:
    """Covers of a case in a picture."""

    def cover(ring: NDArray[np.float64]) -> Cover:
        return cover_of(placing.px(ring), width, height)

    weld, taken = cover(case.weld), cover(weld_and_air(case))
    if case.root_face is not None:
        taken = np.clip(taken + cover(_root_air(case)), 0, 1)
    if case.second is not None:
        weld = np.clip(weld + cover(case.second.weld), 0, 1)
        taken = np.clip(taken + cover(_weld_and_air_flipped(case.second)), 0, 1)
    plates: list[Cover] = []
    free = 1 - taken
    for member in case.members:
        plates.append(cover(member) * free)
        free = np.clip(free - plates[-1], 0, 1)
    slit = np.zeros_like(weld)
    for ring in case.slits:
        slit = np.maximum(slit, cover(ring) * (1 - weld))
    pores = np.zeros_like(weld)
    for pore in case.pores:
        pores = np.maximum(pores, cover(pore))
    return Covers(weld=weld, plates=tuple(plates), slit=slit, pores=pores)


def weld_and_air(case: Case) -> NDArray[np.float64]:
    """Weld metal and everything in front of its face: no plate is left there."""
    one, two = case.lines["toe_1"][2], case.lines["toe_2"][2]
    ends = [case.face[-1] + FAR * two, case.face[0] + FAR * one]
    return np.concatenate([case.fusion, ends])


def _weld_and_air_flipped(case: Case) -> NDArray[np.float64]:
    return np.concatenate([case.fusion, [case.face[-1] - [FAR, 0], case.face[0] + [0, FAR]]])


def _root_air(case: Case) -> NDArray[np.float64]:
    assert case.root_face is not None
    one, two = case.lines["back_1"][2], case.lines["back_2"][2]
    return np.concatenate([case.root_face, [case.root_face[-1] + FAR * two, case.root_face[0] + FAR * one]])


@dataclass(frozen=True, kw_only=True, slots=True)
class Fields:
    """Smooth fields in a window of the picture round the weld, in px.

    Parameters
    ----------
    rows, columns : the window
    deep : signed distance from the fusion line, negative inside the weld
    place : where along the fusion line the nearest point lies [px run]
    beyond : one a member: distance from its fusion line minus the HAZ's width there (negative inside the HAZ)
    share : one a member: that distance over the HAZ's width (1 at its edge)
    """

    rows: slice
    columns: slice
    deep: FLOAT
    place: FLOAT
    beyond: tuple[FLOAT, ...]
    share: tuple[FLOAT, ...]


def draw_fields(case: Case, placing: Placing, width: int, height: int) -> Fields:
    """Distances from the fusion line round the weld; made coarse, since they are smooth, and enlarged in register."""
    reach = 1.25 * float(case.haz.max()) + 0.5
    low, high = case.weld.min(axis=0) - reach, case.weld.max(axis=0) + reach
    if case.second is not None:
        low = np.minimum(low, case.second.weld.min(axis=0) - reach)
    corners = placing.px(np.array([low, [low[0], high[1]], high, [high[0], low[1]]]))
    x0, y0 = np.clip(np.floor(corners.min(axis=0)), 0, [width - 2, height - 2]).astype(int)
    x1, y1 = np.clip(np.ceil(corners.max(axis=0)) + 1, [x0 + 2, y0 + 2], [width, height]).astype(int)
    shape = (int(y1 - y0), int(x1 - x0))
    step = max(1.5, float(np.sqrt(shape[0] * shape[1] / 40_000)))
    y, x = np.mgrid[0 : shape[0] + step : step, 0 : shape[1] + step : step]
    grid = placing.mm(np.stack([x.ravel() + x0, y.ravel() + y0], axis=1))

    def grown(values: NDArray[np.float64]) -> FLOAT:
        return enlarged(values.reshape(x.shape).astype(np.float32), shape, step)

    scale = placing.px_per_mm
    away, place, inside = _signed(case, grid)
    beyond, share = [], []
    for number in range(1, len(case.members) + 1):
        gap, width_there = _haz_distance(case, number, grid)
        beyond.append(grown(np.minimum((gap - width_there) * scale, 1e6)))
        share.append(grown(np.minimum(gap / width_there, 50.0)))
    return Fields(
        rows=slice(int(y0), int(y1)), columns=slice(int(x0), int(x1)),
        deep=grown(np.where(inside, -away, away) * scale),
        place=grown(place * scale), beyond=tuple(beyond), share=tuple(share),
    )  # fmt: skip


def _signed(
    case: Case, grid: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.bool_]]:
    whole = nearest_of(case, 0)
    assert whole is not None
    away, index = whole.tree.query(grid, workers=1)
    run = float(np.hypot(*np.diff(whole.points, axis=0).T).sum())
    # Inside is told by the side of the nearest piece of fusion line; the far side of the face does not matter here.
    slope = np.gradient(whole.points, axis=0)[index]
    side = slope[:, 0] * (grid - whole.points[index])[:, 1] - slope[:, 1] * (grid - whole.points[index])[:, 0]
    middle = case.face[len(case.face) // 2]
    near = int(whole.tree.query(middle)[1])
    sense = np.gradient(whole.points, axis=0)[near]
    inner = sense[0] * (middle - whole.points[near])[1] - sense[1] * (middle - whole.points[near])[0]
    return away, whole.place[index] * run, side * np.sign(inner) > 0


def _haz_distance(
    case: Case, number: int, grid: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    parts = [nearest_of(one, number) for one in (case, case.second) if one is not None]
    found = [part for part in parts if part is not None]
    if not found:
        return np.full(len(grid), 1e3), np.ones(len(grid))
    points, widths = np.concatenate([p.points for p in found]), np.concatenate([p.widths for p in found])
    away, index = cKDTree(points).query(grid, workers=1)
    return away, widths[index]
