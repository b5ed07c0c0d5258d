"""A reading as a JSON document: stable keys, described by the JSON Schema that ships beside it."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

import numpy as np

from etchbook.acceptance.records import Finding, Judgement
from etchbook.geometry import LineFit
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Absent, Quantity
from etchbook.report.svg import Points
from etchbook.section import Boundary, Indication, Landmark, Mark, Meeting, Outline, Reading
from etchbook.terms import dimensions_of

FORMAT = "etchbook reading 1"
NOT_RECKONED = "it was not reckoned for this reading"


def reading_document(reading: Reading, judgement: Judgement | None = None) -> dict[str, Any]:
    """A reading, and its judgement where there is one, as plain data for JSON.

    Parameters
    ----------
    reading : the reading; points are kept to 0.01 px and 0.001 mm
    judgement : what it was held against

    Returns
    -------
    dict
        Keys as in docs/reading.schema.json. Lengths in mm are points in px divided by the
        scale: the same origin (centre of the top left pixel) and the same axes (x right, y down).
    """
    document: dict[str, Any] = {
        "format": FORMAT,
        "joint": asdict(reading.joint),
        "scale": _scale(reading.scale),
        "dimensions": {term.id: _dimension(reading, term.id) for term in dimensions_of(reading.joint.family)},
        "outline": _outline(reading.outline, reading.scale) | {"doubts": [asdict(doubt) for doubt in reading.doubts]},
        "indications": [_indication(found) for found in reading.indications],
        "judgement": None if judgement is None else judgement_document(judgement),
        "notes": list(reading.notes),
        "program": reading.program,
        "picture": asdict(reading.picture),
        "preparation": asdict(reading.preparation),
        "marks": [_mark(mark) for mark in reading.marks],
    }
    if reading.automatic is not None:
        document["automatic"] = _outline(reading.automatic, reading.scale)
    return document


def quantity_document(quantity: Quantity) -> dict[str, Any]:
    """``{value, u, unit}``, with ``dof`` where it is finite, or ``{absent: reason}``."""
    if isinstance(quantity, Absent):
        return {"absent": quantity.reason}
    told: dict[str, Any] = {"value": quantity.value, "u": quantity.u, "unit": quantity.unit}
    return told if math.isinf(quantity.dof) else told | {"dof": quantity.dof}


def judgement_document(judgement: Judgement) -> dict[str, Any]:
    """A judgement as plain data; every finding carries its whole limit."""
    return {
        "against": judgement.against,
        "title": judgement.title,
        "risk": judgement.risk,
        "counts": {str(verdict): count for verdict, count in judgement.counts.items()},
        "findings": [_finding(finding) for finding in judgement.findings],
        "notes": list(judgement.notes),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    limit = asdict(finding.limit)
    limit["dimensions"] = list(finding.limit.dimensions)
    return {
        "verdict": str(finding.verdict),
        "dimension": finding.dimension,
        "value": quantity_document(finding.value),
        "bound": finding.bound,
        "formula": finding.formula,
        "probability": finding.probability,
        "words": finding.words,
        "limit": limit,
    }


def _dimension(reading: Reading, name: str) -> dict[str, Any]:
    return quantity_document(reading.dimensions.get(name, Absent(reason=NOT_RECKONED)))


def _scale(scale: Scale | NoScale) -> dict[str, Any]:
    if isinstance(scale, NoScale):
        return {"absent": scale.reason}
    return {"px_per_mm": scale.px_per_mm, "u": scale.u, "from": scale.origin}


INDICATION_FIGURES = (
    "length",
    "width",
    "width_limit",
    "depth_fraction",
    "fusion_distance",
    "angle_to_surface",
    "straightness",
    "continuity",
    "contrast",
    "edge_rise",
    "sharpest_rise",
    "spacing",
    "roundness",
)


def _indication(found: Indication) -> dict[str, Any]:
    return {
        "name": found.name,
        "kind": found.kind,
        "where": found.where,
        **{name: quantity_document(getattr(found, name)) for name in INDICATION_FIGURES},
        "count": found.count,
        "strength": round(float(found.strength), 2),
        "meets": _meets(found.meets),
        "points": points_list(found.points),
        "sd": np.round(np.asarray(found.sd, float), 3).tolist(),
        "others": [points_list(line) for line in found.others],
        "pieces": [[int(start), int(stop)] for start, stop in found.pieces],
    }


def _meets(meets: Meeting) -> dict[str, Any]:
    return {
        "haz": meets.haz,
        "fusion": meets.fusion,
        "along_fusion": round(float(meets.along_fusion), 3),
        "match": meets.match,
        "faying": bool(meets.faying),
        "scratch_angle": quantity_document(meets.scratch_angle),
    }


def _mark(mark: Mark) -> dict[str, Any]:
    return {"name": mark.name, "points": points_list(mark.points), "replaces": mark.replaces}


def points_list(points: Points, places: int = 2) -> list[list[float]]:
    """(n, 2) points as lists, rounded; never a minus zero."""
    return (np.round(np.asarray(points, float).reshape(-1, 2), places) + 0.0).tolist()  # type: ignore[no-any-return]


def _outline(outline: Outline, scale: Scale | NoScale) -> dict[str, Any]:
    parts = outline.boundaries.values()
    return {
        "px": {part.name: points_list(part.points) for part in parts},
        "mm": _in_mm(parts, scale),
        "boundaries": {part.name: _boundary(part) for part in parts},
        "landmarks": {name: _landmark(mark, scale) for name, mark in outline.landmarks.items()},
        "lines": {name: _line(fit) for name, fit in outline.lines.items()},
        "contours": {
            kind: [points_list(ring) for ring in getattr(outline, kind)] for kind in ("weld", "haz", "metal", "pores")
        },
    }


def _in_mm(parts: Iterable[Boundary], scale: Scale | NoScale) -> Mapping[str, Any]:
    if isinstance(scale, NoScale):
        return {"absent": scale.reason}
    return {part.name: _mm(part.points, scale) for part in parts}


def _mm(points: Points, scale: Scale) -> list[list[float]]:
    """Made from the pixels as they are printed, so that the two agree in the document and on every way through it."""
    return points_list(np.asarray(points_list(points)).reshape(-1, 2) / scale.px_per_mm, 3)


def _boundary(part: Boundary) -> dict[str, Any]:
    return {
        "sd": np.round(np.asarray(part.sd, float), 3).tolist(),
        "confidence": round(float(part.confidence), 3),
        "pinned": bool(part.pinned),
        "doubt": part.doubt,
    }


def _landmark(mark: Landmark, scale: Scale | NoScale) -> dict[str, Any]:
    told: dict[str, Any] = {
        "px": points_list(mark.point)[0],
        "covariance_px2": np.round(np.asarray(mark.covariance, float), 5).tolist(),
        "pinned": bool(mark.pinned),
    }
    if isinstance(scale, Scale):
        told["mm"] = _mm(mark.point, scale)[0]
    return told


def _line(fit: LineFit) -> dict[str, float]:
    return {
        "x": round(float(fit.line.x), 3),
        "y": round(float(fit.line.y), 3),
        "heading": round(float(fit.line.heading), 7),
        "u_shift": float(fit.u_shift),
        "u_turn": float(fit.u_turn),
        "rms": float(fit.rms),
        "used": int(fit.used),
    }
