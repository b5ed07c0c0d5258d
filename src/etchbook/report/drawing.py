"""The line drawing of a section, in the manner of a workshop sketch on squared paper."""

import numpy as np

from etchbook.geometry import resample
from etchbook.quantity import Measured
from etchbook.report.paper import HEIGHT, SQUARE, WIDTH, Paper, bar_of, bar_svg, paper_for, squares
from etchbook.report.placing import Box, Sheet, near_edge
from etchbook.report.sketching import hatching, haz_bands, stipple
from etchbook.report.strokes import MeasuredLine, measured_lines
from etchbook.report.svg import Points, chain, document, dots, element, thinned, words
from etchbook.report.wording import JOINTS, NOT_FOUND, SHORT, scaled_words
from etchbook.section import Boundary, Reading

INK, PENCIL, MEASURE = "#1d2422", "#5b6664", "#1f3f7a"
TYPE = 3.1
"""Type size on the drawing [mm]."""

HAZ_STEP, HATCH_STEP = 1.5, 1.7


def drawing_svg(reading: Reading) -> str:
    """The section as a line drawing, 170 mm wide.

    Members stand in outline, the weld metal is hatched the way it froze, the HAZ is
    dotted; measured lines end in points and carry their value in plain words. What is
    doubtful is dashed. Without a scale it is drawn in pixels and says so.

    Parameters
    ----------
    reading : the reading

    Returns
    -------
    str
        A whole SVG document with title and description.
    """
    paper = paper_for(reading)
    lines = measured_lines(reading)
    body = [element("rect", width=WIDTH, height=HEIGHT, fill="#fdfcf8"), squares()]
    body.append(element("g", _metal(reading, paper), clip_path="url(#sheet)"))
    body.append(_words(reading, paper, lines))
    frame = element("rect", width=WIDTH, height=HEIGHT)
    clip = element("defs", element("clipPath", frame, id="sheet"))
    name = JOINTS[reading.joint.family]
    told = f"Line drawing of the section, {name}. " + "; ".join(line.words for line in lines) + "."
    size = f"{WIDTH:.0f}mm", f"{HEIGHT:.0f}mm"
    return document([clip, *body], (WIDTH, HEIGHT), size, f"Section, {name}", told)


def _metal(reading: Reading, paper: Paper) -> str:
    outline = reading.outline
    weld = [np.asarray(ring, float) for ring in outline.weld]
    parts = [_construction(reading, paper)]
    parts += [_stippled(band, weld, paper) for band in haz_bands(outline)]
    parts += [_ring(ring, paper) for ring in weld]
    parts.append(_hatched(reading, paper))
    parts += [_ring(ring, paper) for ring in outline.pores]
    parts += [_edge(part, paper) for part in outline.boundaries.values()]
    parts += [_members(ring, paper) for ring in outline.metal]
    return "".join(parts)


def _construction(reading: Reading, paper: Paper) -> str:
    """The plate lines carried on through the whole sheet, as a hand would draw them first."""
    reach = (WIDTH + HEIGHT) / paper.per_px
    ends = [np.stack([fit.line.at(-reach), fit.line.at(reach)]) for fit in reading.outline.lines.values()]
    path = "".join(chain(paper.on(pair)) for pair in ends)
    return element("path", d=path, fill="none", stroke="#8fa29d", stroke_width=0.13) if path else ""


def _stippled(band: Points, weld: list[Points], paper: Paper) -> str:
    spots = stipple(paper.on(band), HAZ_STEP, [paper.on(ring) for ring in weld])
    path = dots(_on_sheet(spots))
    return element("path", d=path, stroke=PENCIL, stroke_width=0.42, stroke_linecap="round") if path else ""


def _on_sheet(points: Points) -> Points:
    inside = (points[:, 0] > 0) & (points[:, 0] < WIDTH) & (points[:, 1] > 0) & (points[:, 1] < HEIGHT)
    return points[inside]


def _ring(ring: Points, paper: Paper) -> str:
    path = chain(thinned(paper.on(ring), 0.03), closed=True)
    return element("path", d=path, fill="#fdfcf8", stroke=INK, stroke_width=0.2)


def _hatched(reading: Reading, paper: Paper) -> str:
    curves = hatching(reading.outline, HATCH_STEP / paper.per_px)
    path = "".join(chain(paper.on(curve)) for curve in curves)
    style = {"fill": "none", "stroke": PENCIL, "stroke_linecap": "round"}
    return element("path", d=path, stroke_width=0.22, **style) if path else ""


def _members(ring: Points, paper: Paper) -> str:
    path = chain(thinned(paper.on(ring), 0.03), closed=True)
    return element("path", d=path, fill="none", stroke=INK, stroke_width=0.3, stroke_linejoin="round")


_STROKES = {
    "weld": (0.62, ""),
    "root": (0.62, ""),
    "fusion": (0.42, ""),
    "haz": (0.3, "0.05 1.1"),
}


def _edge(part: Boundary, paper: Paper) -> str:
    width, dash = _STROKES.get(part.name.partition("_")[0], (0.55, ""))
    if part.doubt:
        dash = "2.4 1.6"
    path = chain(thinned(paper.on(part.points), 0.03))
    style = {"fill": "none", "stroke": INK, "stroke_linecap": "round", "stroke_linejoin": "round"}
    return element("path", d=path, stroke_width=width, **style, **({"stroke_dasharray": dash} if dash else {}))


def _words(reading: Reading, paper: Paper, lines: tuple[MeasuredLine, ...]) -> str:
    if not reading.outline.boundaries:
        return _text(NOT_FOUND, WIDTH / 2, HEIGHT / 2, INK, size=4.0)
    ink = _ink(reading, paper, lines)
    sheet = Sheet(width=WIDTH, height=HEIGHT, size=TYPE, ink=ink, ends=_ends(paper, lines))
    sheet.taken.append(Box(x=WIDTH / 2, y=3.0, half_width=WIDTH / 2, half_height=3.4))
    told = [_scale_bar(paper, sheet, ink)]
    told.append(_text(_heading(reading), 2, 4.2, PENCIL, anchor="start", size=2.7))
    told.append(_text(paper.ratio, WIDTH - 2, 4.2, PENCIL, anchor="end", size=2.7))
    # The angles first: they belong to one point, a line leaves more choice.
    told += [_toe_angle(reading, member, paper, sheet) for member in ("1", "2")]
    told += [_measured(line, paper, sheet) for line in sorted(lines, key=_length)]
    return "".join(told)


def _length(line: MeasuredLine) -> float:
    return float(np.hypot(*(line.end - line.start)))


def _scale_bar(paper: Paper, sheet: Sheet, ink: Points) -> str:
    """The bar, in the corner of the sheet where least is drawn."""
    length, told = bar_of(paper)
    half = max(length, len(told) * 0.56 * TYPE) / 2 + 1.5
    left, right, top, bottom = SQUARE, WIDTH - SQUARE - length, 3 * SQUARE, HEIGHT - SQUARE
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    rooms = [Box(x=x + length / 2, y=y - 1.8, half_width=half, half_height=4.2) for x, y in corners]
    best = min(range(4), key=lambda i: rooms[i].holds(ink))
    sheet.taken.append(rooms[best])
    x, y = corners[best]
    return bar_svg(x, y, length) + _text(told, x + length / 2, y - 1.8, INK)


def _heading(reading: Reading) -> str:
    dashed = any(part.doubt for part in reading.outline.boundaries.values())
    note = "; what is doubtful is dashed" if dashed else ""
    return f"{JOINTS[reading.joint.family]}; hatched: weld metal; dotted: HAZ{note}"


def _ink(reading: Reading, paper: Paper, lines: tuple[MeasuredLine, ...]) -> Points:
    """What words should keep off, as points about a millimetre apart."""
    chains = [paper.on(part.points) for part in reading.outline.boundaries.values() if len(part.points) > 1]
    chains += [paper.on(np.stack([line.start, line.end])) for line in lines]
    chains += [paper.on(curve) for curve in hatching(reading.outline, 1.5 * HATCH_STEP / paper.per_px)]
    points = [resample(run, 1.0) for run in chains if np.ptp(run, axis=0).max() > 0]
    return np.concatenate([*points, np.zeros((0, 2))])


def _ends(paper: Paper, lines: tuple[MeasuredLine, ...]) -> Points:
    return paper.on(np.array([end for line in lines for end in (line.start, line.end)]).reshape(-1, 2))


def _measured(line: MeasuredLine, paper: Paper, sheet: Sheet) -> str:
    start, end = paper.on(line.start), paper.on(line.end)
    if not sheet.holds(start, end):
        return ""
    path = element("path", d=chain(np.stack([start, end])), stroke=MEASURE, stroke_width=0.3)
    for x, y in (start, end):
        path += element("circle", cx=float(x), cy=float(y), r=0.62, fill=MEASURE)
    return path + _label(line.words, start, end, sheet)


def _label(text: str, start: Points, end: Points, sheet: Sheet) -> str:
    box = sheet.place(text, start, end)
    if box is None:
        return ""
    anchor = sheet.anchor(box, start, end)
    rim = near_edge(box, anchor)
    told = ""
    if np.hypot(*(rim - anchor)) > 1.3 * TYPE:
        told = element("path", d=chain(np.stack([anchor, rim])), stroke=MEASURE, stroke_width=0.13)
    return told + _text(text, box.x, box.y + 0.35 * TYPE, MEASURE)


def _text(text: str, x: float, y: float, colour: str, *, anchor: str = "middle", size: float = TYPE) -> str:
    """Words on a halo of paper, so that ruling and dots do not run through them."""
    ground = words(
        text,
        x,
        y,
        font_size=size,
        fill="#fdfcf8",
        text_anchor=anchor,
        stroke="#fdfcf8",
        stroke_width=1.1,
        aria_hidden="true",
    )
    return ground + words(text, x, y, font_size=size, fill=colour, text_anchor=anchor)


def _toe_angle(reading: Reading, member: str, paper: Paper, sheet: Sheet) -> str:
    value, toe = reading.dimensions.get(f"toe_angle_{member}"), reading.outline.landmarks.get(f"toe_{member}")
    if not isinstance(value, Measured) or toe is None:
        return ""
    at = paper.on(toe.point)
    return _label(f"{SHORT[f'toe_angle_{member}']}: {scaled_words(value)}", at, at, sheet)
