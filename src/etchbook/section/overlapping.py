"""Overlap: weld metal that lies on the plate unfused. There the fusion line only runs along the plate's surface."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import LineFit, arc_length
from etchbook.section.draft import ToeFit
from etchbook.section.edges import Trace
from etchbook.section.strips import Array

LOOKED = 0.3
"""Share of the face's length along which the fusion line is looked at from the toe."""
LEAST_SHARE, LEAST_PIXELS = 0.02, 7.0
"""A run along the surface counts from this share of the face and from so many pixels of the first guess."""
FLAT, BETTER, STEEP = 1.0, 1.5, 0.1
"""It lies within this many pixels of the first guess of the surface; beginning to dive only at its end explains the
line this many times better than diving from the toe, and the line dives by at least this slope. Planning values: on
498 simulated sections (difficulty moderate, seeds 0 to 99) 14 of 42 overlaps are found so, and one that is none."""
U_PIXELS = 2.0
"""Standard deviation of the fused toe along the surface [pixels of the first guess], from the same sections."""
LIFTED = 0.25
"""The underside of an overlap is drawn this far above the surface [px], so that the weld's contour keeps its sense."""
Ends = tuple[Trace, Trace, NDArray[np.intp], tuple[ToeFit, ToeFit]]


def with_overlaps(
    face: Trace,
    fusion: Trace,
    beside: NDArray[np.intp],
    toes: tuple[ToeFit, ToeFit],
    surfaces: tuple[tuple[LineFit, Array] | None, tuple[LineFit, Array] | None],
    pixel: float,
) -> Ends:
    """Face, fusion line and toes with each toe where fusion begins; what lies beyond it becomes part of the face.

    Parameters
    ----------
    beside : what lies outside each point of the fusion line
    surfaces : plate surface line of each toe and its unit normal out of the metal; None where no overlap can be
    pixel : size of the first guess's pixel [px]
    """
    size = float(arc_length(face.points)[-1])
    for index, surface in enumerate(surfaces):
        if surface is None:
            continue
        turn = -1 if index else 1
        cut = _fused_from(surface[0], surface[1], fusion.points[::turn], size, pixel)
        if cut is None:
            continue
        face, fusion, beside, toe = _moved_over(face, fusion, beside, toes[index], surface, turn, cut, pixel)
        toes = (toes[0], toe) if index else (toe, toes[1])
    return face, fusion, beside, toes


def _fused_from(line: LineFit, out: Array, fusion: Array, size: float, pixel: float) -> int | None:
    """Index of the first fused point of a fusion line that begins at a toe; None where it is fused from there on."""
    run = arc_length(fusion)
    near = run < LOOKED * size
    if near.sum() < 12:
        return None
    depth, run = -((fusion[near] - line.line.anchor) @ out), run[near]
    length, misfit, slope = _hinge(run, depth)
    if length < max(LEAST_SHARE * size, LEAST_PIXELS * pixel) or slope < STEEP:
        return None
    flat = float(np.sqrt(np.mean(depth[run <= length] ** 2)))
    if flat > FLAT * pixel or _misfit(run, depth)[0] < BETTER * misfit:
        return None
    return int(np.argmax(run >= length))


def _hinge(run: Array, depth: Array) -> tuple[float, float, float]:
    """Where a line that first runs level begins to dive: length, misfit and first slope."""
    best = (0.0, *_misfit(run, depth))
    for length in np.linspace(0.0, 0.8 * float(run[-1]), 100)[1:]:
        misfit, slope = _misfit(np.clip(run - length, 0.0, None), depth)
        if misfit < best[1]:
            best = (float(length), misfit, slope)
    return best


def _misfit(beyond: Array, depth: Array) -> tuple[float, float]:
    design = np.stack([beyond, beyond**2], axis=1)
    solved, *_ = np.linalg.lstsq(design, depth, rcond=None)
    return float(((depth - design @ solved) ** 2).sum()), float(solved[0])


def _moved_over(
    face: Trace,
    fusion: Trace,
    beside: NDArray[np.intp],
    toe: ToeFit,
    surface: tuple[LineFit, Array],
    turn: int,
    cut: int,
    pixel: float,
) -> tuple[Trace, Trace, NDArray[np.intp], ToeFit]:
    """The unfused run taken from the fusion line and given to the face; both lie on the surface line there."""
    line, out = surface[0].line, surface[1]
    unfused = fusion.points[::turn][: cut + 1]
    under = np.stack([line.at(float(s)) for s in line.along(unfused)]) + LIFTED * out
    fused = replace(toe, point=under[-1] - LIFTED * out, u_along=float(np.hypot(U_PIXELS * pixel, toe.u_across)))
    under[-1] = fused.point
    kept = slice(cut, None) if turn == 1 else slice(None, len(fusion.points) - cut)
    rest = _sliced(fusion, kept)
    rest.points[0 if turn == 1 else -1] = fused.point
    ran = slice(1, cut + 1)
    lap = replace(
        fusion,
        points=under[1:][::-1],
        sd=fusion.sd[::turn][ran][::-1],
        clarity=fusion.clarity[::turn][ran][::-1],
    )
    return _joined(lap, face, turn), rest, beside[kept], fused


def _sliced(trace: Trace, kept: slice) -> Trace:
    return replace(trace, points=trace.points[kept].copy(), sd=trace.sd[kept], clarity=trace.clarity[kept])


def _joined(lap: Trace, face: Trace, turn: int) -> Trace:
    """The underside of the lap, from the fused toe outwards, in front of the face (behind it at toe 2)."""
    parts = [(lap.points, face.points), (lap.sd, face.sd), (lap.clarity, face.clarity)]
    whole = [np.concatenate([a, b] if turn == 1 else [b, a[::-1]]) for a, b in parts]
    return replace(face, points=whole[0], sd=whole[1], clarity=whole[2])
