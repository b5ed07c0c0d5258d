"""From the reader's draft to the outline that other rooms see."""

import numpy as np

from etchbook.geometry import LineFit, arc_length
from etchbook.section.doubting import confidence
from etchbook.section.draft import Draft, ToeFit
from etchbook.section.edges import Trace
from etchbook.section.measuring import shape_of
from etchbook.section.records import Boundary, Landmark, Outline


def outline_of(draft: Draft) -> Outline:
    """The draft as an outline."""
    boundaries = {name: _boundary(name, trace, draft) for name, trace in traces_of(draft).items()}
    weld = np.concatenate([draft.face.points, draft.fusion.points[::-1]])
    return Outline(
        boundaries=boundaries,
        landmarks=_landmarks(draft),
        lines=dict(draft.lines),
        weld=(weld,),
        pores=draft.pores or (),
    )


def traces_of(draft: Draft) -> dict[str, Trace]:
    """Every traced boundary by the name that it is published under."""
    traces = {"weld_face": draft.face}
    for member in ("1", "2"):
        piece = _member_piece(draft, int(member))
        if piece is not None:
            traces[f"fusion_line_{member}"] = piece
    for name, trace in draft.rims.items():
        kind, _, which = name.partition("_")
        if kind == "near":
            continue
        traces[{"beside": f"surface_{which}", "far": f"back_{which}", "top": "top_2"}[kind]] = trace
    traces |= {f"haz_edge_{member}": trace for member, trace in draft.haz.items()}
    if draft.root_face is not None:
        traces["root_face"] = draft.root_face
    return traces


def _member_piece(draft: Draft, member: int) -> Trace | None:
    """The stretch of the fusion line along one member."""
    index = np.nonzero(draft.beside == member)[0]
    if len(index) < 3:
        return None
    keep = slice(index[0], index[-1] + 1)
    fusion = draft.fusion
    return Trace(points=fusion.points[keep], sd=fusion.sd[keep], clarity=fusion.clarity[keep], blur=fusion.blur)


def _boundary(name: str, trace: Trace, draft: Draft) -> Boundary:
    sure = confidence(trace)
    return Boundary(
        name=name,
        points=trace.points,
        sd=trace.sd,
        confidence=sure,
        pinned=name in draft.pinned or name[:-2] in draft.pinned,
        doubt="" if sure >= 0.6 else "does not stand out clearly from the grain",
    )


def _landmarks(draft: Draft) -> dict[str, Landmark]:
    shape = shape_of(draft)
    found = {f"toe_{i + 1}": _toe(toe, _surface(draft, i)) for i, toe in enumerate(draft.toes)}
    if shape.root is not None:
        spread = np.diag([_root_sd(draft) ** 2] * 2)
        found["joint_root"] = Landmark(point=shape.root, covariance=spread, pinned=draft.root_pin is not None)
    if shape.root_toes is not None:
        for i in (0, 1):
            found[f"root_toe_{i + 1}"] = Landmark(point=shape.root_toes[i], covariance=np.eye(2) * draft.pixel**2)
    return found


def _surface(draft: Draft, index: int) -> LineFit | None:
    return draft.lines.get("surface_1" if draft.family == "bead" else f"surface_{index + 1}")


def _toe(toe: ToeFit, line: LineFit | None) -> Landmark:
    along = np.array([1.0, 0.0]) if line is None else line.line.direction
    turn = np.stack([along, [-along[1], along[0]]], axis=1)
    covariance = turn @ np.diag([toe.u_along**2, toe.u_across**2]) @ turn.T
    return Landmark(point=toe.point, covariance=covariance, pinned=toe.pinned)


def _root_sd(draft: Draft) -> float:
    if draft.root_pin is not None:
        return draft.pixel
    fits = [fit for name, fit in draft.lines.items() if name.startswith(("surface", "back"))]
    reach = float(arc_length(draft.face.points)[-1])
    return float(np.hypot.reduce([fit.u_across(reach) for fit in fits])) if fits else draft.pixel
