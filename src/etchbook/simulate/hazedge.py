"""Where the HAZ ends: every point of a member as far from its fusion line as the HAZ is wide there."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from etchbook.geometry import contains
from etchbook.simulate.cases import Case
from etchbook.simulate.curves import Array, normals, run_of


@dataclass(frozen=True, kw_only=True, slots=True)
class HazEdge:
    """The HAZ edge in one member, in mm.

    Parameters
    ----------
    chains : (n, 2) pieces of the edge
    widths, weights : (m,) distance from the fusion line along its normal, and the run of fusion line it stands for
    share : part of the fusion line in this member whose normal meets the edge
    """

    chains: tuple[Array, ...]
    widths: Array
    weights: Array
    share: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Nearest:
    """The fusion line of one member made dense, for distances: points, HAZ width at each, place along (0 to 1)."""

    points: Array
    widths: Array
    place: Array
    tree: cKDTree


def nearest_of(case: Case, number: int, count: int = 800) -> Nearest | None:
    """The fusion line inside a member (0 for all of it), dense; None when the weld does not touch it."""
    use = case.beside == number if number else np.ones(len(case.fusion), bool)
    if use.sum() < 3:
        return None
    run = run_of(case.fusion)
    at = np.linspace(0, run[-1], count)
    inside = np.interp(at, run, use.astype(float)) > 0.5
    at = at[inside]
    points = np.stack([np.interp(at, run, case.fusion[:, k]) for k in (0, 1)], axis=1)
    return Nearest(points=points, widths=np.interp(at, run, case.haz), place=at / run[-1], tree=cKDTree(points))


def haz_edge(case: Case, number: int) -> HazEdge:
    """Trace the HAZ edge in a member."""
    near = nearest_of(case, number)
    if near is None:
        return HazEdge(chains=(), widths=np.zeros(0), weights=np.zeros(0), share=0.0)
    way = _outward(case, near.points)
    edge = near.points + near.widths[:, None] * way
    good = _valid(case, number, near, edge)
    step = np.gradient(near.place)
    caps = [_cap(case, number, near, way, end) for end in (0, -1)]
    chains = [edge[piece] for piece in _pieces(good) if len(piece) > 3]
    chains += [cap for cap in caps if len(cap) > 3]
    share = float((step * good).sum() / step.sum())
    return HazEdge(chains=tuple(chains), widths=near.widths[good], weights=step[good], share=share)


def _outward(case: Case, points: Array) -> Array:
    way = normals(points)
    run = run_of(points)
    # Normals over about a tenth of a millimetre: a wave of the fusion line does not swing them about.
    reach = max(2, int(0.1 / max(run[-1] / len(points), 1e-6)))
    kernel = np.ones(2 * reach + 1) / (2 * reach + 1)
    padded = np.pad(way, ((reach, reach), (0, 0)), mode="edge")
    way = np.stack([np.convolve(padded[:, k], kernel, mode="valid") for k in (0, 1)], axis=1)
    way /= np.maximum(np.hypot(*way.T), 1e-9)[:, None]
    inside = contains(case.weld, points + 0.02 * way)
    return -way if inside.mean() > 0.5 else way


def _valid(case: Case, number: int, near: Nearest, edge: Array) -> np.ndarray:
    away = near.tree.query(edge)[0]
    return np.asarray(
        contains(case.members[number - 1], edge) & ~contains(case.weld, edge) & (away > 0.97 * near.widths)
    )


def _cap(case: Case, number: int, near: Nearest, way: Array, end: int) -> Array:
    """The round of the edge about the end of the fusion line, up to the plate surface."""
    start = float(np.arctan2(way[end, 1], way[end, 0]))
    back = near.points[end] - near.points[5 if end == 0 else -6]
    turn = np.sign(way[end, 0] * back[1] - way[end, 1] * back[0]) or 1.0
    angles = start + turn * np.linspace(0, np.pi * 0.75, 60)
    ring = near.points[end] + near.widths[end] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    inside = contains(case.members[number - 1], ring) & ~contains(case.weld, ring)
    return np.asarray(ring[: int(np.argmin(inside)) if not inside.all() else len(ring)])


def _pieces(good: np.ndarray) -> list[np.ndarray]:
    index = np.nonzero(good)[0]
    return list(np.split(index, np.nonzero(np.diff(index) > 1)[0] + 1)) if len(index) else []
