"""An outline as it might have been: drawn anew, within what is known of each of its parts, as often as wanted."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import Line, LineFit, normals
from etchbook.section.draft import Draft, ToeFit
from etchbook.section.edges import Trace
from etchbook.section.method import METHOD, Scatter
from etchbook.section.strips import Array


@dataclass(frozen=True, kw_only=True, slots=True)
class _Boundary:
    """A boundary made ready to be moved many times.

    Parameters
    ----------
    across : (n, 2) unit normals
    wave : (n, knots) how far each knot moves each point [px per standard deviation]
    common : standard deviation of the boundary as a whole [px]
    """

    trace: Trace
    across: Array
    wave: Array
    common: float

    def moved(self, generator: np.random.Generator) -> Trace:
        """The boundary moved as a whole and, piece by piece, by what is known of each point."""
        bends = self.wave @ generator.normal(size=self.wave.shape[1])
        off = generator.normal() * self.common + bends
        return replace(self.trace, points=self.trace.points + off[:, None] * self.across)


@dataclass(frozen=True, kw_only=True, slots=True)
class Loose:
    """A draft whose boundaries are ready to be moved."""

    draft: Draft
    face: _Boundary
    fusion: _Boundary
    haz: Mapping[str, _Boundary]
    rims: Mapping[str, _Boundary]
    root_face: _Boundary | None


def loosened(draft: Draft) -> Loose:
    """The draft with fewer points, made ready; the shape changes by far less than its uncertainty."""
    draft = _thinned(draft)
    return Loose(
        draft=draft,
        face=_boundary(draft.face, METHOD.face),
        fusion=_boundary(draft.fusion, METHOD.fusion),
        haz={name: _boundary(trace, METHOD.haz) for name, trace in draft.haz.items()},
        rims={name: _boundary(trace, METHOD.face) for name, trace in draft.rims.items()},
        root_face=None if draft.root_face is None else _boundary(draft.root_face, METHOD.face),
    )


def _thinned(draft: Draft) -> Draft:
    keep = _kept(draft.fusion, 140)
    return replace(
        draft,
        face=_part(draft.face, _kept(draft.face, 120)),
        fusion=_part(draft.fusion, keep),
        beside=draft.beside[keep],
        haz={name: _part(trace, _kept(trace, 60)) for name, trace in draft.haz.items()},
        rims={name: _part(trace, _kept(trace, 60)) for name, trace in draft.rims.items()},
    )


def _kept(trace: Trace, most: int) -> NDArray[np.intp]:
    """Indices of at most about `most` points, the ends among them."""
    return np.unique(np.linspace(0, len(trace.points) - 1, min(most, len(trace.points))).astype(np.intp))


def _part(trace: Trace, index: NDArray[np.intp]) -> Trace:
    return Trace(points=trace.points[index], sd=trace.sd[index], clarity=trace.clarity[index], blur=trace.blur)


def _boundary(trace: Trace, scatter: Scatter) -> _Boundary:
    n = len(trace.points)
    knots = max(4, min(24, n // 6))
    at = np.linspace(0, n - 1, knots)
    bends = np.stack([np.interp(np.arange(n), at, knot) for knot in np.eye(knots)], axis=1)
    size = 1.15 * np.hypot(trace.sd, scatter.local)
    return _Boundary(
        trace=trace, across=normals(trace.points), wave=size[:, None] * bends, common=scatter.common
    )  # fmt: skip


def shaken(loose: Loose, generator: np.random.Generator) -> Draft:
    """The draft as it might have been."""
    draft = loose.draft
    lines = {name: _moved_line(fit, METHOD.line, generator) for name, fit in draft.lines.items()}
    toes = (_moved_toe(draft, 0, generator), _moved_toe(draft, 1, generator))
    return replace(
        draft,
        lines=lines,
        toes=toes,
        face=loose.face.moved(generator),
        fusion=loose.fusion.moved(generator),
        haz={name: one.moved(generator) for name, one in loose.haz.items()},
        rims={name: one.moved(generator) for name, one in loose.rims.items()},
        root_face=None if loose.root_face is None else loose.root_face.moved(generator),
    )


def _moved_line(fit: LineFit, scatter: Scatter, generator: np.random.Generator) -> LineFit:
    shift = generator.normal() * np.hypot(fit.u_shift, scatter.common)
    turn = generator.normal() * fit.u_turn
    anchor = fit.line.at(0.0, float(shift))
    return replace(fit, line=Line(x=float(anchor[0]), y=float(anchor[1]), heading=fit.line.heading + float(turn)))


def _moved_toe(draft: Draft, index: int, generator: np.random.Generator) -> ToeFit:
    toe = draft.toes[index]
    line = draft.lines.get("surface_1" if draft.family == "bead" else f"surface_{index + 1}")
    along = line.line.direction if line is not None else np.array([1.0, 0.0])
    across = np.array([-along[1], along[0]])
    size = np.hypot(toe.u_along, 0.0 if toe.pinned else METHOD.toe.common)
    point = toe.point + generator.normal() * size * along + generator.normal() * toe.u_across * across
    return replace(toe, point=point)
