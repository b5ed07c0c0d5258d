"""A person's marks laid over the automatic draft: they pin, the rest is found again between the pins."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import Line, LineFit, arc_length, distances_to_polyline, fit_line, resample
from etchbook.geometry.lines import through
from etchbook.picture import Picture
from etchbook.section.arcs import ONE, TWO
from etchbook.section.draft import Draft, ToeFit
from etchbook.section.edges import Trace
from etchbook.section.records import Mark
from etchbook.section.routing import Ground
from etchbook.section.strips import Array
from etchbook.section.tracing import codes_along, trace_straight
from etchbook.terms import Family

HAND_SD = 1.0
"""How well a person places a mark, in pixels of the reduced picture; a planning value, common practice."""


def corrected(
    draft: Draft | None,
    marks: Sequence[Mark],
    picture: Picture,
    small: NDArray[np.float32],
    factor: float,
    family: Family,
    ground: Ground | None = None,
) -> Draft | str:
    """The draft with the marks on top, or a sentence saying which marks are still lacking.

    With no draft at all (the automatic outline failed), toe 1, toe 2 and a point or more of
    the fusion line are the least that is needed. A `ground` remembers what was found a moment ago.
    """
    ground = ground or Ground(small, factor)
    given = _gathered(marks)
    toes = _toes(draft, given, factor)
    if isinstance(toes, str):
        return toes
    fusion = _boundary(draft, given, "fusion_line", toes, ground, None)
    if fusion is None:
        return "mark at least one point of the fusion line besides the two toes"
    face = _boundary(draft, given, "weld_face", toes, ground, fusion.points)
    if face is None:
        face = _routed(np.stack([toes[0].point, toes[1].point]), ground, fusion.points)
    lines = _lines(draft, given, toes, picture, factor)
    beside = _members(draft, fusion, lines, face, family)
    base, far = draft or _empty(family, factor), _moved_far(draft, fusion)
    return replace(
        base,
        face=face,
        fusion=fusion,
        beside=beside,
        toes=toes,
        lines=lines,
        haz=_haz({} if draft is None or far else draft.haz, given, ground),
        flaws=() if far else base.flaws,
        pores=None if far else base.pores,
        root_pin=given["joint_root"].points[0] if "joint_root" in given else base.root_pin,
        pinned=frozenset(given) | base.pinned,
    )


def _gathered(marks: Sequence[Mark]) -> dict[str, Mark]:
    """Marks by name; several of one name are joined."""
    given: dict[str, Mark] = {}
    for mark in marks:
        known = given.get(mark.name)
        points = mark.points if known is None else np.concatenate([known.points, mark.points])
        given[mark.name] = Mark(name=mark.name, points=points, replaces=mark.replaces)
    return given


def _toes(draft: Draft | None, given: dict[str, Mark], factor: float) -> tuple[ToeFit, ToeFit] | str:
    found: list[ToeFit] = []
    for index, name in enumerate(("toe_1", "toe_2")):
        if name in given:
            sd = HAND_SD * factor
            found.append(ToeFit(point=given[name].points[0], u_along=sd, u_across=sd, pinned=True))
        elif draft is not None:
            found.append(draft.toes[index])
        else:
            return f"mark {name.replace('_', ' ')}: without an automatic outline both toes must be marked"
    return found[0], found[1]


def _boundary(
    draft: Draft | None,
    given: dict[str, Mark],
    name: str,
    toes: tuple[ToeFit, ToeFit],
    ground: Ground,
    shun: Array | None,
) -> Trace | None:
    """One boundary between the toes: as marked, through the marks, or as it was."""
    part = [given[key] for key in (name, f"{name}_1", f"{name}_2") if key in given]
    old = None if draft is None else (draft.fusion if name == "fusion_line" else draft.face)
    if not part:
        if old is None or not any(toe.pinned for toe in toes):
            return old
        return replace(old, points=_led(old.points, toes))
    points = np.concatenate([mark.points for mark in part])
    ends = [toes[0].point, toes[1].point]
    pins = np.stack([ends[0], *_in_order(points, ends), ends[1]])
    if any(mark.replaces for mark in part):
        return _by_hand(resample(pins, ground.factor), ground.factor)
    return _routed(pins, ground, shun)


def _in_order(points: Array, ends: list[Array]) -> Array:
    """Points in the order in which a path from the first toe round to the second meets them."""
    middle = (ends[0] + ends[1]) / 2
    start = ends[0] - middle
    turn = np.arctan2(start[1], start[0])
    off = points - middle
    angles = np.mod(np.arctan2(off[:, 1], off[:, 0]) - turn, 2 * np.pi)
    if np.median(angles) > np.pi:
        angles = 2 * np.pi - angles
    return points[np.argsort(angles)]


def _routed(pins: Array, ground: Ground, shun: Array | None) -> Trace:
    path, factor = ground.route(pins, shun=shun), ground.factor
    away = np.min([np.hypot(*(path - pin).T) for pin in pins], axis=0)
    sd = factor * (HAND_SD + 0.03 * away / factor)
    return Trace(points=path, sd=sd, clarity=np.full(len(path), 5.0), blur=factor)


def _by_hand(path: Array, factor: float) -> Trace:
    return Trace(points=path, sd=np.full(len(path), HAND_SD * factor), clarity=np.full(len(path), 9.0), blur=factor)


def _led(points: Array, toes: tuple[ToeFit, ToeFit]) -> Array:
    """A chain led to new ends over a tenth of its length."""
    run = arc_length(points)
    fade = max(0.1 * float(run[-1]), 1.0)
    start = np.exp(-run / fade)[:, None] * (toes[0].point - points[0])
    stop = np.exp(-(run[-1] - run) / fade)[:, None] * (toes[1].point - points[-1])
    return np.asarray(points + start + stop)


def _lines(
    draft: Draft | None, given: dict[str, Mark], toes: tuple[ToeFit, ToeFit], picture: Picture, factor: float
) -> dict[str, LineFit]:
    """Plate lines: from marks where there are any, from root and toe where there is no other, else as they were."""
    lines = {} if draft is None else dict(draft.lines)
    for name in ("surface_1", "surface_2", "back_1", "back_2", "top_2"):
        if name in given and len(given[name].points) >= 2:
            lines[name] = _marked_line(given[name], picture, factor)
    if "joint_root" in given:
        root = given["joint_root"].points[0]
        for toe, name in zip(toes, ("surface_1", "surface_2"), strict=True):
            lines[name] = _through_root(lines.get(name), root, toe, factor, name in given)
    if draft is None and "surface_1" not in lines:
        lines["surface_1"] = _between(toes[0].point, toes[1].point, factor)
    return lines


def _marked_line(mark: Mark, picture: Picture, factor: float) -> LineFit:
    rough = fit_line(mark.points, HAND_SD * factor)
    if mark.replaces:
        return rough
    found = trace_straight(picture, resample(mark.points, factor), reach=6.0 * factor, along_px=4.0 * factor)
    return rough if found is None else found[1]


def _through_root(old: LineFit | None, root: Array, toe: ToeFit, factor: float, marked: bool) -> LineFit:
    """The surface line led through a marked root: shifted if it was found, drawn to the toe if it was not."""
    if old is not None and (marked or abs(float(old.line.across(root)[0])) < 6 * factor):
        moved = Line(x=float(root[0]), y=float(root[1]), heading=old.line.heading)
        return replace(old, line=moved, u_shift=HAND_SD * factor)
    return _between(root, toe.point, factor)


def _between(first: Array, second: Array, factor: float) -> LineFit:
    line = through(first, second)
    length = float(np.hypot(*(second - first)))
    sd = HAND_SD * factor
    return LineFit(line=line, u_shift=sd, u_turn=1.4 * sd / max(length, 1.0), rms=sd, used=2)


def _members(
    draft: Draft | None, fusion: Trace, lines: dict[str, LineFit], face: Trace, family: Family
) -> NDArray[np.intp]:
    """Which member lies beside each fusion point."""
    if draft is not None and len(draft.beside) > 4:
        return codes_along(fusion.points, draft.fusion.points, draft.beside)
    n = len(fusion.points)
    if family == "bead":
        return np.full(n, ONE)
    if family in ("tee", "lap") and "surface_1" in lines:
        line = lines["surface_1"].line
        above = np.sign(line.across(face.points[len(face.points) // 2])[0])
        return np.where(line.across(fusion.points) * above > 0, TWO, ONE)
    chord = through(face.points[0], face.points[-1])
    deepest = int(np.argmax(np.abs(chord.across(fusion.points))))
    return np.where(np.arange(n) <= deepest, ONE, TWO)


def _moved_far(draft: Draft | None, fusion: Trace) -> bool:
    """Whether the marks moved the fusion line so far that what was found beside it cannot be trusted."""
    if draft is None:
        return True
    if draft.fusion is fusion:
        return False
    size = float(arc_length(fusion.points)[-1])
    old, new = (points[:: max(1, len(points) // 120)] for points in (draft.fusion.points, fusion.points))
    return float(distances_to_polyline(old, new).mean()) > 0.06 * size


def _haz(kept: Mapping[str, Trace], given: dict[str, Mark], ground: Ground) -> dict[str, Trace]:
    haz = dict(kept)
    for member in ("1", "2"):
        mark = given.get(f"haz_edge_{member}") or (given.get("haz_edge") if member == "1" else None)
        if mark is None or len(mark.points) < 2:
            continue
        haz[member] = (
            _by_hand(resample(mark.points, ground.factor), ground.factor)
            if mark.replaces
            else _routed(mark.points, ground, None)
        )
    return haz


def _empty(family: Family, factor: float) -> Draft:
    nothing = Trace(points=np.zeros((2, 2)), sd=np.ones(2), clarity=np.ones(2), blur=1.0)
    toe = ToeFit(point=np.zeros(2), u_along=1.0, u_across=1.0)
    return Draft(
        family=family,
        face=nothing,
        fusion=nothing,
        beside=np.zeros(2, np.intp),
        toes=(toe, toe),
        rims={},
        lines={},
        haz={},
        root_face=None,
        pores=None,
        sharpness=1.0,
        pixel=factor,
    )
