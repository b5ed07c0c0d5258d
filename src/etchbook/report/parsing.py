"""A reading out of the JSON document that it was kept in, every part looked at before it is believed."""

import math
from collections.abc import Callable, Mapping
from typing import Any, TypeVar, cast

import numpy as np

from etchbook.geometry import Line, LineFit
from etchbook.joint import Groove, Joint
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.report.document import FORMAT, INDICATION_FIGURES, NOT_RECKONED
from etchbook.report.incoming import DocumentError, Part, array_of
from etchbook.report.svg import Points
from etchbook.section import (
    BEHAVIOURS,
    INDICATION_KINDS,
    Boundary,
    CutPlace,
    Doubt,
    Indication,
    Landmark,
    Mark,
    Meeting,
    Outline,
    PictureFacts,
    Preparation,
    Reading,
    Regions,
)
from etchbook.terms import FAMILIES, Family, dimensions_of

T = TypeVar("T")


def reading_from_document(document: object) -> Reading:
    """The reading that a document made by `reading_document` holds.

    Its regions are not kept in the document: they come back as an empty (0, 0) array.

    Parameters
    ----------
    document : what `json.loads` gave

    Raises
    ------
    DocumentError
        Where the document is not one of ours or a part of it makes no sense.
    """
    top = Part(document, "the document")
    if top.text("format") != FORMAT:
        raise DocumentError(f'the document is no reading that this program can use: its format is not "{FORMAT}"')
    joint = _joint(top.part("joint"))
    outline = top.part("outline")
    return Reading(
        joint=joint,
        scale=_scale(top.part("scale")),
        picture=_picture(top.part("picture")),
        regions=Regions(labels=np.zeros((0, 0), np.uint8), factor=1.0),
        outline=_outline(outline),
        dimensions=_dimensions(top.part("dimensions"), joint.family),
        doubts=tuple(
            Doubt(part=each.text("part"), reason=each.text("reason"), remedy=each.text("remedy"))
            for each in outline.parts("doubts")
        ),
        notes=tuple(top.texts("notes")),
        indications=tuple(_indication(each) for each in top.parts("indications")),
        marks=tuple(_mark(each) for each in top.parts("marks")),
        automatic=_outline(top.part("automatic")) if top.has("automatic") else None,
        preparation=_preparation(top.part("preparation")),
        program=top.text("program"),
    )


def _made(build: Callable[[], T], name: str) -> T:
    """What `build` makes; a record's own refusal becomes a sentence about the document."""
    try:
        return build()
    except ValueError as error:
        raise DocumentError(f"{name}: {error}") from error


def _joint(part: Part) -> Joint:
    family = part.text("family")
    if family not in FAMILIES:
        raise DocumentError(f'"{family}" is no joint: it is one of {", ".join(FAMILIES)}')
    return Joint(
        family=family,
        thickness_1=part.maybe("thickness_1", 0.0),
        thickness_2=part.maybe("thickness_2", 0.0),
        throat=part.maybe("throat", 0.0),
        groove=_groove(part.part("groove")) if part.has("groove") else None,
    )


def _groove(part: Part) -> Groove:
    bevelled = part.text("bevelled") if part.has("bevelled") else "both"
    if bevelled not in ("both", "1", "2"):
        raise DocumentError('the bevelled side of a groove is "both", "1" or "2"')
    sizes = {name: part.maybe(name, 0.0) for name in ("gap", "angle", "root_face", "u_gap", "u_angle", "u_root_face")}
    return Groove(bevelled=cast(Any, bevelled), **sizes)


def _scale(part: Part) -> Scale | NoScale:
    if part.has("absent"):
        return NoScale(reason=part.text("absent"))
    px_per_mm = part.number("px_per_mm", 0.0)
    if px_per_mm == 0:
        raise DocumentError("a scale of 0 px/mm makes no sense")
    return Scale(px_per_mm=px_per_mm, u=part.number("u", 0.0), origin=part.text("from"))


def _picture(part: Part) -> PictureFacts:
    return PictureFacts(
        sha256=part.text("sha256"),
        name=part.text("name"),
        width=int(part.number("width", 1.0)),
        height=int(part.number("height", 1.0)),
    )


def _preparation(part: Part) -> Preparation:
    first = {name: part.text(name) for name in ("etchant", "finish", "material", "specimen", "reader")}
    later = ("consumable", "purpose", "etching", "place", "further")  # documents from before these have none of them
    told = first | {name: part.text(name) for name in later if part.has(name)}
    return Preparation(**told, cut=_cut(part.part("cut")) if part.has("cut") else None)


def _cut(part: Part) -> CutPlace:
    towards = part.text("towards") if part.has("towards") else ""
    if towards not in ("start", "stop", ""):
        raise DocumentError('the end that a face looks to is "start", "stop" or ""')
    sizes = {name: part.maybe(name, 0.0) for name in ("seam", "start", "stop")}
    return CutPlace(at=part.number("at", 0.0), towards=cast(Any, towards), **sizes)


def _quantity(part: Part, unit: str | None = None) -> Quantity:
    if part.has("absent"):
        return _made(lambda: Absent(reason=part.text("absent")), part.name)
    if unit is not None and part.text("unit") != unit:
        raise DocumentError(f'{part.name} should be in "{unit}"')
    dof = part.number("dof", 0.0) if part.has("dof") else math.inf
    value, u = part.number("value"), part.number("u", 0.0)
    return _made(lambda: Measured(value=value, u=u, unit=part.text("unit"), dof=dof), part.name)


def _dimensions(part: Part, family: Family) -> Mapping[str, Quantity]:
    terms = {term.id: term for term in dimensions_of(family)}
    unknown = [name for name in part.content if name not in terms]
    if unknown:
        raise DocumentError(f'"{unknown[0]}" is no dimension of this joint')
    return {
        name: _quantity(part.part(name), term.unit) if part.has(name) else Absent(reason=NOT_RECKONED)
        for name, term in terms.items()
    }


def _indication(part: Part) -> Indication:
    kind = part.text("kind")
    if kind not in INDICATION_KINDS:
        raise DocumentError(f'"{kind}" is no kind of indication: it is one of {", ".join(INDICATION_KINDS)}')
    points = part.array("points", None, 2)
    return Indication(
        where=part.text("where"),
        name=part.text("name"),
        kind=cast(Any, kind),
        points=points,
        sd=part.array("sd", None),
        others=tuple(array_of(line, 'a line of "others"', None, 2) for line in part.items("others")),
        pieces=tuple((int(a), int(b)) for a, b in part.array("pieces", None, 2)),
        count=int(part.number("count", 0.0)),
        strength=part.number("strength"),
        meets=_meets(part.part("meets")),
        **{name: _quantity(part.part(name)) for name in INDICATION_FIGURES},
    )


def _meets(part: Part) -> Meeting:
    for name in ("haz", "fusion"):
        if part.text(name) not in BEHAVIOURS:
            raise DocumentError(f'"{part.text(name)}" in {part.name} is none of {", ".join(BEHAVIOURS)}')
    return Meeting(
        haz=cast(Any, part.text("haz")),
        fusion=cast(Any, part.text("fusion")),
        along_fusion=part.number("along_fusion", 0.0),
        match=part.text("match"),
        faying=part.yes("faying"),
        scratch_angle=_quantity(part.part("scratch_angle")),
    )


def _mark(part: Part) -> Mark:
    return Mark(name=part.text("name"), points=part.array("points", None, 2), replaces=part.yes("replaces"))


def _outline(part: Part) -> Outline:
    px, facts, rings = part.part("px"), part.part("boundaries"), part.part("contours")
    contours = {
        kind: tuple(array_of(ring, f'a contour of "{kind}"', None, 2) for ring in rings.items(kind))
        for kind in ("weld", "haz", "metal", "pores")
    }
    return Outline(
        boundaries={name: _boundary(name, px.array(name, None, 2), facts.part(name)) for name in px.content},
        landmarks={name: _landmark(each) for name, each in part.part("landmarks").each()},
        lines={name: _line(each) for name, each in part.part("lines").each()},
        **contours,
    )


def _boundary(name: str, points: Points, facts: Part) -> Boundary:
    return Boundary(
        name=name,
        points=points,
        sd=facts.array("sd", len(points)),
        confidence=facts.number("confidence", 0.0),
        pinned=facts.yes("pinned"),
        doubt=facts.text("doubt"),
    )


def _landmark(part: Part) -> Landmark:
    return Landmark(point=part.array("px", 2), covariance=part.array("covariance_px2", 2, 2), pinned=part.yes("pinned"))


def _line(part: Part) -> LineFit:
    return LineFit(
        line=Line(x=part.number("x"), y=part.number("y"), heading=part.number("heading")),
        u_shift=part.number("u_shift", 0.0),
        u_turn=part.number("u_turn", 0.0),
        rms=part.number("rms", 0.0),
        used=int(part.number("used", 0.0)),
    )
