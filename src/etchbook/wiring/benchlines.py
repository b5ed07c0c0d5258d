"""Outline and measured lines as a page draws them: points in picture pixels."""

from dataclasses import replace
from typing import Any

import numpy as np

from etchbook.picture import NoScale, Scale
from etchbook.section import Outline, Reading
from etchbook.section.again import Again

MOST_POINTS = 160
"""Points of a boundary that are sent to a page; more cannot be seen."""


def outline_told(again: Again) -> dict[str, Any]:
    """Boundaries and landmarks with their doubts."""
    outline = again.outline
    return {
        "boundaries": [
            {
                "name": one.name,
                "points": _thin(one.points),
                "pinned": one.pinned,
                "doubt": one.doubt,
                "unclear": [_thin(one.points[start:stop]) for start, stop in again.unclear.get(one.name, ())],
            }
            for one in outline.boundaries.values()
        ],
        "landmarks": [
            {"name": name, "point": np.round(one.point, 2).tolist(), "pinned": one.pinned}
            for name, one in outline.landmarks.items()
        ],
    }


def doubts_told(again: Again) -> list[dict[str, Any]]:
    """What is doubted, each with the box of the picture in which to look."""
    return [
        {"part": one.part, "reason": one.reason, "remedy": one.remedy, "box": _box(one.part, again.outline)}
        for one in again.doubts
    ]


def _box(part: str, outline: Outline) -> list[float]:
    """Left, top, right, bottom [px] of what a doubt is about; empty where it lies nowhere."""
    meant = part.lower().replace(" in member ", " ").replace(" of member ", " ").replace("plate surface", "toe")
    names = ("weld_face", "fusion_line") if meant == "weld metal" else (meant.replace(" ", "_"),)
    lines = [one.points for name, one in outline.boundaries.items() if name.startswith(names)]
    spots = [one.point[None] for name, one in outline.landmarks.items() if name.startswith(names)]
    if not lines and not spots:
        return []
    points = np.concatenate([*lines, *spots])
    return [round(float(one), 1) for one in (*points.min(axis=0), *points.max(axis=0))]


def _thin(points: Any) -> list[list[float]]:
    keep = np.unique(np.linspace(0, len(points) - 1, min(MOST_POINTS, len(points))).astype(int))
    made: list[list[float]] = np.round(points[keep], 1).tolist()
    return made


def lines_of(again: Again, reading: Reading) -> dict[str, list[list[float]]]:
    """The line along which each dimension is measured, by its name."""
    from etchbook.report.strokes import measured_lines

    whole = replace(reading, outline=again.outline, dimensions=again.dimensions, scale=again.scale)
    return {one.id: [one.start.tolist(), one.end.tolist()] for one in measured_lines(whole)}


def scale_words(scale: Scale | NoScale) -> str:
    """Where the millimetres come from."""
    if isinstance(scale, NoScale):
        return f"no scale: {scale.reason}"
    return f"{scale.px_per_mm:.4g} px/mm ± {2 * scale.u:.2g} (95 %), from {scale.origin}"
