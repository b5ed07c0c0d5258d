"""Two groups of beads drawn: dot strips with ±, run order, against a setting, outlines in one frame."""

from collections.abc import Sequence

import numpy as np

from etchbook.picture import Scale
from etchbook.quantity import Measured, spoken
from etchbook.report.plots import DASHES, Curve, Mark, Plot, plot_svg
from etchbook.report.strips import Strip, strips_svg
from etchbook.report.svg import Points
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS
from etchbook.trials.scatter import BeadResponse
from etchbook.usecases.comparing import Comparison, Row

CHAINS = ("weld_face", "root_face", "fusion_line_1", "fusion_line_2")
PLATES = ("surface_1", "surface_2")


def strips(made: Comparison, only: Sequence[str] = ()) -> str:
    """Dot strips: every bead as a point with its ±, group a above group b, one strip a dimension."""
    rows = [row for row in made.rows if all(row.beads) and (not only or row.dimension in only)]
    return strips_svg([_strip(row) for row in rows], made.names)


def strip_pages(made: Comparison, each: int = 15) -> list[str]:
    """The dot strips on as many drawings as a page of paper asks for."""
    names = [row.dimension for row in made.rows if all(row.beads)]
    return [strips(made, names[at : at + each]) for at in range(0, len(names), each)]


def _strip(row: Row) -> Strip:
    apart = ""
    if isinstance(row.a, Measured) and isinstance(row.b, Measured):
        u = (row.a.u**2 + row.b.u**2) ** 0.5
        apart = spoken(Measured(value=row.b.value - row.a.value, u=u, unit=row.unit))
    return Strip(
        label=DIMENSIONS[row.dimension].label,
        unit=row.unit,
        dots=tuple(tuple((bead.mean, 2 * bead.u_reading) for bead in group) for group in row.beads),
        words=apart,
    )


def in_order(made: Comparison, dimension: str) -> str | None:
    """One dimension over the order of the beads; None where the order is not known."""
    row = next((row for row in made.rows if row.dimension == dimension), None)
    if row is None or any(bead.order is None for group in row.beads for bead in group):
        return None
    places = [[float(bead.order or 0) for bead in group] for group in row.beads]
    last = max(place for side in places for place in side)
    return _against(made, row, places, "bead, in the order of welding", ends=(0.0, last + 1))


def against(made: Comparison, dimension: str, setting: str, words: str) -> str | None:
    """One dimension over a setting; None where it was not logged for every bead."""
    row = next((row for row in made.rows if row.dimension == dimension), None)
    if row is None:
        return None
    logged = {bead.code: bead.settings.get(setting) for group in made.groups for bead in group}
    if any(isinstance(logged[bead.code], str | None) for group in row.beads for bead in group):
        return None
    places = [[float(logged[bead.code] or 0.0) for bead in group] for group in row.beads]
    return _against(made, row, places, words)


def _against(
    made: Comparison, row: Row, places: list[list[float]], words: str, ends: tuple[float, float] | None = None
) -> str:
    marks = [
        Mark(x=x, y=bead.mean, words=bead.code, spread=2 * bead.u_reading, ring=bool(which))
        for which, (group, side) in enumerate(zip(row.beads, places, strict=True))
        for bead, x in _paired(group, side)
    ]
    label, unit = DIMENSIONS[row.dimension].label, f", {row.unit}" if row.unit else ""
    title = f"{label[0].upper()}{label[1:]}"
    # A line without weight widens the axis to both sides of the beads.
    level = marks[0].y
    low, high = ends or _roomy([place for side in places for place in side])
    room = (Curve(points=np.array([[low, level], [high, level]]), weight=0.0),)
    return plot_svg(
        Plot(title=title, x_words=words, y_words=label + unit, curves=room, marks=tuple(marks), width=16, height=11,
             notes=(f"Filled points: {made.names[0]}; rings: {made.names[1]}. ± is k = 2 of reading.",))
    )  # fmt: skip


def _roomy(places: Sequence[float]) -> tuple[float, float]:
    """Ends of an axis with some room beside the outermost points."""
    room = 0.12 * (max(places) - min(places)) or 1.0
    return min(places) - room, max(places) + room


def _paired(group: Sequence[BeadResponse], side: Sequence[float]) -> list[tuple[BeadResponse, float]]:
    return list(zip(group, side, strict=True))


def outlines(made: Comparison) -> str | None:
    """The first section of every bead in one frame, on top of each other; None where no two have a scale."""
    curves: list[Curve] = []
    shown = 0
    for dash, (name, group) in enumerate(zip(made.names, made.groups, strict=True)):
        for first, bead in enumerate(group):
            found = _framed(bead.sections[0][0])
            shown += bool(found)
            curves += [
                Curve(points=points, words=name if first == 0 and chain == "weld_face" else "", dash=dash,
                      weight=0.2 if chain in PLATES else 0.45)
                for chain, points in found.items()
            ]  # fmt: skip
    if shown < 2:
        return None
    notes = ("Laid on each other at the joint root (bead on plate, butt: between the toes) and along member 1.",
             f"{made.names[0]} drawn whole, {made.names[1]} dashed.")  # fmt: skip
    assert DASHES[0] == ""
    return plot_svg(
        Plot(title="Outlines in one frame", x_words="along member 1, mm", y_words="mm", curves=tuple(curves),
             equal=True, key=True, notes=notes)
    )  # fmt: skip


def _framed(reading: Reading) -> dict[str, Points]:
    """Chains of a section in millimetres, origin at the joint root, x along member 1, y out of the weld face."""
    outline, scale = reading.outline, reading.scale
    face = outline.boundaries.get("weld_face")
    toes = [outline.landmarks.get(name) for name in ("toe_1", "toe_2")]
    if not isinstance(scale, Scale) or face is None or toes[0] is None or toes[1] is None:
        return {}
    one, two = (np.asarray(toe.point, float) for toe in toes if toe is not None)
    root = outline.landmarks.get("joint_root")
    origin = (one + two) / 2 if root is None or reading.joint.family in ("bead", "butt") else np.asarray(root.point)
    away = one - origin
    line = outline.lines.get("surface_1")
    along = np.array([np.cos(line.line.heading), np.sin(line.line.heading)]) if line else away
    along = along * np.sign(along @ away or 1.0) / np.hypot(*along)
    across = np.array([-along[1], along[0]])
    across = across * np.sign((np.asarray(face.points).mean(axis=0) - origin) @ across or 1.0)
    turn = np.stack([along, across], axis=1) / scale.px_per_mm
    reach = 2.2 * float(np.hypot(*(one - two))) / scale.px_per_mm
    chains = {name: outline.boundaries[name].points for name in (*CHAINS, *PLATES) if name in outline.boundaries}
    moved = {name: (np.asarray(points, float) - origin) @ turn for name, points in chains.items() if len(points) > 1}
    return {name: points[np.hypot(*points.T) < reach] for name, points in moved.items()}
