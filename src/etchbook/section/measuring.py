"""Dimensions with their uncertainties: formulas on the draft, once as found and many times as it might have been."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from etchbook.geometry import Line, area, crossing
from etchbook.joint import Groove
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section.dimensions import values
from etchbook.section.draft import Draft
from etchbook.section.grooving import prepared
from etchbook.section.method import LAID_WIDER, WIDER
from etchbook.section.plausible import plausible
from etchbook.section.shaking import loosened, shaken
from etchbook.section.shape import Shape, out_of
from etchbook.section.strips import Array
from etchbook.terms import DIMENSIONS, Family

DRAWS = 80
FEW = 12
"""Draws while a point is on the move, where a spread is not known yet: its size can be seen, no reading uses it."""
LEAST_PX = 0.5
"""No length is claimed to be known better than this [px]; a planning value, common practice."""
MOST_DEGREES = 40.0
"""An angle known no better than this is not told; a planning value, common practice."""
LAID = tuple(LAID_WIDER)
"""Dimensions of a butt that rest on its preparation; how the scale bears on them is in their draws."""
UNSCALED = NoScale(reason="no scale is asked for here")
POWER = {"mm": 1, "mm²": 2, "°": 0, "%": 0, "": 0}


def measure(
    draft: Draft,
    family: Family,
    scale: Scale | NoScale,
    *,
    groove: Groove | None = None,
    known: Mapping[str, float] | None = None,
) -> dict[str, Quantity]:
    """Every dimension of the family with its standard uncertainty, or the reason why there is none.

    The spreads of the draws may be `known` from a moment ago, while a point is being moved; no reading is made so.
    What was melted of the plates of a butt is told from its stated `groove`, with the groove's own uncertainty.

    The uncertainty has three parts: what light, blur and grain leave open about each
    boundary (carried through by Monte Carlo, since the dimensions have corners); what
    the method itself scatters by, found on painted sections; and the scale, which all
    lengths of a picture share.

    Source: JCGM 101:2008 (Monte Carlo); JCGM 100:2008, 5.1.2 (adding the parts).
    """
    shape = prepared(shape_of(draft), groove, scale)
    found = plausible(values(shape, family), shape)
    spread = known
    if spread is None or any(not isinstance(value, str) and name not in spread for name, value in found.items()):
        spread = _spread(draft, family, found, DRAWS if known is None else FEW, groove, scale)
    holds_scale = LAID if shape.edges else ()
    return {
        name: _with_unit(name, value, spread.get(name, 0.0), scale, shared=name not in holds_scale)
        for name, value in found.items()
    }


def spread_of(draft: Draft, family: Family) -> dict[str, float]:
    """Standard deviation of every dimension over draws of the draft [px, px², ° or bare], for `known` of measure."""
    shape = shape_of(draft)
    return _spread(draft, family, plausible(values(shape, family), shape), DRAWS)


def _spread(
    draft: Draft,
    family: Family,
    found: Mapping[str, float | str],
    count: int,
    groove: Groove | None = None,
    scale: Scale | NoScale = UNSCALED,
) -> dict[str, float]:
    """Standard deviation of each value over draws of the draft, in pixels."""
    generator, of_groove = np.random.default_rng(20), np.random.default_rng(21)
    loose = loosened(draft)
    shapes = (shape_of(shaken(loose, generator)) for _ in range(count))
    draws = [_values_with(shape, family, groove, scale, of_groove) for shape in shapes]
    spread = {}
    for name, value in found.items():
        if isinstance(value, str):
            continue
        row = np.array([draw[name] for draw in draws if not isinstance(draw[name], str)], float)
        spread[name] = _robust(row) if len(row) > count // 2 else abs(value)
    spread = _floored(spread)
    if "pore_area_percent" in spread:
        spread["pore_area_percent"] = max(spread["pore_area_percent"], _unseen_pores(draft))
    return spread


def _values_with(
    shape: Shape, family: Family, groove: Groove | None, scale: Scale | NoScale, generator: np.random.Generator
) -> dict[str, float | str]:
    """The values with the preparation as it might have been; its sizes are in mm, so a wrong scale lays it wrongly."""
    if groove is None or isinstance(scale, NoScale):
        return values(shape, family)
    wrong = 1.0 + scale.relative * float(generator.normal())
    found = values(prepared(shape, groove, replace(scale, px_per_mm=scale.px_per_mm * wrong), generator), family)
    for name in LAID:
        value = found.get(name)
        if isinstance(value, float):
            found[name] = value / wrong ** POWER[DIMENSIONS[name].unit]
    return found


def _unseen_pores(draft: Draft) -> float:
    """Standard deviation of the pore share [%]: pores under about a dozen of the first guess's pixels go unseen, and
    the edges of those seen are coarse (planning values, common practice)."""
    seen = sum(area(ring) for ring in draft.pores or ())
    weld = area(np.concatenate([draft.face.points, draft.fusion.points[::-1]]))
    return 100.0 * (12.0 * draft.pixel**2 + 0.3 * seen) / max(weld, 1.0)


def _floored(spread: dict[str, float]) -> dict[str, float]:
    """Spreads with a floor under those of lengths: a depth that cannot go below zero still is not known to be zero."""
    root = max(spread.get("root_penetration", 0.0), spread.get("missed_root", 0.0))
    floors = {name: LEAST_PX for name in spread if DIMENSIONS[name].unit == "mm"}
    floors |= {name: max(LEAST_PX, root) for name in ("root_penetration", "missed_root") if name in spread}
    return {name: max(u, floors.get(name, 0.0)) for name, u in spread.items()}


def _robust(row: Array) -> float:
    """Half the width of the middle 68 %: a few odd draws do not stretch it."""
    low, high = np.percentile(row, [15.87, 84.13])
    return max(float(high - low) / 2, 0.6 * float(row.std()))


def _with_unit(name: str, value: float | str, u: float, scale: Scale | NoScale, *, shared: bool = True) -> Quantity:
    unit = DIMENSIONS[name].unit
    power = POWER[unit]
    if isinstance(value, str):
        return Absent(reason=value)
    u *= WIDER[name] if shared else LAID_WIDER[name]
    if unit == "°" and u > MOST_DEGREES:
        return Absent(reason="the weld face near the toe is too rough in the picture to have one direction")
    if power == 0:
        return Measured(value=value, u=max(u, 1e-4), unit=unit)
    if isinstance(scale, NoScale):
        return Absent(reason=f"there is no scale: {scale.reason}")
    size = scale.px_per_mm**power
    of_scale = power * scale.relative * value / size if shared else 0.0
    return Measured(value=value / size, u=float(np.hypot(u / size, of_scale)), unit=unit)


def shape_of(draft: Draft) -> Shape:
    """The draft as the formulas want it."""
    lines = {name: fit.line for name, fit in draft.lines.items()}
    toes = np.stack([draft.toes[0].point, draft.toes[1].point])
    outward = _outward(draft, lines)
    root_points = None if draft.root_face is None else draft.root_face.points
    root_toes = None if root_points is None else np.stack([root_points[0], root_points[-1]])
    return Shape(
        family=draft.family,
        face=draft.face.points,
        fusion=draft.fusion.points,
        beside=draft.beside,
        toes=toes,
        root=draft.root_pin if draft.root_pin is not None else _root(draft.family, lines, toes, root_toes),
        lines=lines,
        outward=outward,
        haz={member: trace.points for member, trace in draft.haz.items()},
        rims={name[-1]: trace.points for name, trace in draft.rims.items() if name.startswith("near_")},
        root_toes=root_toes,
        root_face=root_points,
        pore_area=None if draft.pores is None else sum(area(ring) for ring in draft.pores),
        root_u=draft.pixel if draft.root_pin is not None else None,
    )


def _outward(draft: Draft, lines: Mapping[str, Line]) -> dict[str, Array]:
    """Unit normals out of the metal for members 1 and 2 (and the top of a lapped plate)."""
    fillet = draft.family in ("tee", "lap")
    outward = {
        key: out_of(lines[name], draft.face.points, draft.fusion.points, before=fillet and key != "top_2")
        for name, key in (("surface_1", "1"), ("surface_2", "2"), ("top_2", "top_2"))
        if name in lines
    }
    if draft.family == "bead" and "1" not in outward:
        outward["1"] = _up(draft)
    if draft.family == "butt":
        outward.setdefault("1", _up(draft))
    return outward


def _up(draft: Draft) -> Array:
    """Out of the metal, judged from the weld alone."""
    chord = draft.toes[1].point - draft.toes[0].point
    side = np.array([-chord[1], chord[0]]) / max(float(np.hypot(*chord)), 1e-9)
    inward = draft.fusion.points.mean(axis=0) - draft.toes[0].point
    return -side if side @ inward > 0 else side


def _root(family: str, lines: Mapping[str, Line], toes: Array, root_toes: Array | None) -> Array | None:
    if family in ("tee", "lap") and "surface_1" in lines and "surface_2" in lines:
        return crossing(lines["surface_1"], lines["surface_2"])
    if family == "corner" and "back_1" in lines and "back_2" in lines:
        return crossing(lines["back_1"], lines["back_2"])
    if family == "butt" and "back_1" in lines:
        middle = (toes if root_toes is None else root_toes).mean(axis=0)
        # The root sides of the plates may be offset; the root lies halfway between their edges.
        backs = [lines[name] for name in ("back_1", "back_2") if name in lines]
        return np.asarray(np.mean([line.at(float(line.along(middle)[0])) for line in backs], axis=0))
    return None
