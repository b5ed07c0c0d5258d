"""The photo with its outline, its landmarks and its measured lines."""

from typing import Any

import numpy as np

from etchbook.geometry import normals, resample
from etchbook.picture import Picture
from etchbook.report.photos import Print, Window, photo_print
from etchbook.report.placing import Box, Sheet, near_edge
from etchbook.report.sketching import hatching
from etchbook.report.strokes import MeasuredLine, measured_lines
from etchbook.report.svg import Points, chain, document, element, thinned, words
from etchbook.report.typeset import svg_to_png
from etchbook.report.wording import JOINTS, LANDMARKS, NOT_FOUND
from etchbook.section import Boundary, Indication, Reading

DARK, LIGHT, CHALK = "#10100f", "#fffdf2", "#ffdf6b"


def overlay_svg(reading: Reading, picture: Picture, *, window: Window | None = None, longest: int = 2400) -> str:
    """The photo with the reading drawn on it, as one SVG that needs no other file.

    Every line is light on a dark rim, so that it is seen on any etch: the outline thin and
    whole, doubtful parts dashed, HAZ edges dotted, measured lines ending in points.

    Parameters
    ----------
    reading : the reading
    picture : its picture
    window : left, top, right, bottom [px] of the part to show; the whole picture where None
    longest : longest side of the photo inside the SVG [px]
    """
    photo = photo_print(picture, window, longest=longest)
    left, top, right, bottom = photo.window
    width, height = float(right - left), float(bottom - top)
    image = element("image", href=photo.href, width=width, height=height, preserveAspectRatio="none")
    lines = measured_lines(reading)
    told = "Photo of the section with outline and measured lines: " + "; ".join(line.words for line in lines) + "."
    body = [image, lines_svg(reading, photo)]
    size = f"{width:.0f}", f"{height:.0f}"
    return document(body, (width, height), size, f"{JOINTS[reading.joint.family]}, photo with outline", told)


def overlay_png(reading: Reading, picture: Picture, *, longest: int = 4000) -> bytes:
    """The same as a PNG, of the photo's own size unless its longer side has more than `longest` pixels."""
    share = min(1.0, longest / max(picture.width, picture.height))
    size = max(1, round(picture.width * share)), max(1, round(picture.height * share))
    return svg_to_png(overlay_svg(reading, picture, longest=longest), size)


def weld_window(reading: Reading) -> Window:
    """The part of the picture to print in a report: the weld with as much again around it, or the whole picture."""
    whole = (0, 0, reading.picture.width, reading.picture.height)
    chains = [np.asarray(ring, float) for ring in reading.outline.weld]
    if not chains:
        return whole
    points = np.concatenate(chains)
    low, high = points.min(axis=0), points.max(axis=0)
    middle, half = (low + high) / 2, max(float((high - low).max()) * 1.05, 60.0)
    span = np.array([half * 1.25, half * 0.95])
    left, top = np.floor(np.clip(middle - span, 0, None)).astype(int)
    right, bottom = np.ceil(np.minimum(middle + span, [whole[2], whole[3]])).astype(int)
    return (int(left), int(top), int(right), int(bottom)) if right - left > 8 and bottom - top > 8 else whole


def lines_svg(reading: Reading, photo: Print) -> str:
    """What is drawn on the photo, in picture pixels from the window's corner."""
    left, top, right, bottom = photo.window
    unit = max(right - left, bottom - top) / 1000
    # Pixel centres lie at whole numbers, the photo's edge half a pixel before the first.
    shift = np.array([0.5 - left, 0.5 - top])
    parts = [_traced(part, shift, unit) for part in reading.outline.boundaries.values()]
    parts += [_pore(np.asarray(ring, float) + shift, unit) for ring in reading.outline.pores]
    parts += [_indicated(found, shift, unit) for found in reading.indications]
    lines = measured_lines(reading)
    ends = np.array([end + shift for line in lines for end in (line.start, line.end)]).reshape(-1, 2)
    ink = _ink(reading, lines, shift, unit)
    sheet = Sheet(width=right - left, height=bottom - top, size=17 * unit, ink=ink, ends=ends)
    note = _note(reading)
    sheet.taken.append(_note_room(note, sheet))
    marks = reading.outline.landmarks.items()
    parts += [_landmark(name, np.asarray(mark.point, float) + shift, sheet, unit) for name, mark in marks]
    parts += [_measured(line, shift, sheet, unit) for line in sorted(lines, key=_length)]
    parts.append(_text(note, 14 * unit, sheet.height - 14 * unit, LIGHT, 15 * unit, anchor="start"))
    return "".join(parts)


def _length(line: MeasuredLine) -> float:
    return float(np.hypot(*(line.end - line.start)))


def _note(reading: Reading) -> str:
    if not reading.outline.boundaries:
        return NOT_FOUND
    dashed = any(part.doubt for part in reading.outline.boundaries.values())
    return "whole line: outline; dotted: HAZ edge" + ("; dashed: look again" if dashed else "")


def _note_room(note: str, sheet: Sheet) -> Box:
    half = len(note) * 0.5 * sheet.size * 0.45 + sheet.size
    return Box(x=half, y=sheet.height - sheet.size, half_width=half, half_height=sheet.size)


def _ink(reading: Reading, lines: tuple[MeasuredLine, ...], shift: Points, unit: float) -> Points:
    chains = [np.asarray(part.points, float) for part in reading.outline.boundaries.values() if len(part.points) > 1]
    chains += [np.stack([line.start, line.end]) for line in lines]
    # Words keep off the weld metal too: that is what the eye wants to see.
    chains += hatching(reading.outline, 14 * unit)
    points = [resample(run, 6 * unit) + shift for run in chains if np.ptp(run, axis=0).max() > 0]
    return np.concatenate([*points, np.zeros((0, 2))])


def _traced(part: Boundary, shift: Points, unit: float) -> str:
    path = chain(thinned(np.asarray(part.points, float) + shift, 0.2 * unit))
    dash = "0.1 8" if part.name.startswith("haz") else ""
    return _double(path, LIGHT, 1.9 * unit, "12 8" if part.doubt else dash, unit)


def _double(path: str, colour: str, width: float, dash: str, unit: float) -> str:
    """A light line on a dark rim; dashes are given in thousandths of the picture's longer side."""
    style = {"fill": "none", "stroke_linecap": "round", "stroke_linejoin": "round"}
    if dash:
        style["stroke_dasharray"] = " ".join(f"{float(run) * unit:.2f}" for run in dash.split())
    rim = element("path", d=path, stroke=DARK, stroke_width=width + 2.2 * unit, stroke_opacity=0.75, **style)
    return rim + element("path", d=path, stroke=colour, stroke_width=width, **style)


def _pore(ring: Points, unit: float) -> str:
    return _double(chain(thinned(ring, 0.2 * unit), closed=True), LIGHT, 1.4 * unit, "", unit)


def _indicated(found: Indication, shift: Points, unit: float) -> str:
    """A line of the metal by small ticks beside it, so that it stays seen itself; its letter at its end."""
    chains = [found.points, *found.others]
    if found.kind == "blob" or not len(found.points):
        return ""
    told = ""
    for points in chains:
        run = resample(np.asarray(points, float), 22 * unit) + shift
        across = normals(run) * 6 * unit
        ticks = "".join(
            chain(np.stack([spot + 0.8 * way, spot + 1.9 * way])) for spot, way in zip(run, across, strict=True)
        )
        told += _double(ticks, CHALK, 1.2 * unit, "", 0.6 * unit)
    end = np.asarray(found.points[-1], float) + shift
    return told + _text(found.name, float(end[0]) + 12 * unit, float(end[1]) - 10 * unit, CHALK, 20 * unit)


def _landmark(name: str, at: Points, sheet: Sheet, unit: float) -> str:
    ring: dict[str, Any] = {"cx": float(at[0]), "cy": float(at[1]), "r": 6.5 * unit, "fill": "none"}
    told = element("circle", stroke=DARK, stroke_width=4.2 * unit, stroke_opacity=0.75, **ring)
    told += element("circle", stroke=LIGHT, stroke_width=1.8 * unit, **ring)
    return told + _label(LANDMARKS.get(name, name), at, at, LIGHT, sheet, unit)


def _measured(line: MeasuredLine, shift: Points, sheet: Sheet, unit: float) -> str:
    start, end = line.start + shift, line.end + shift
    if not sheet.holds(start, end):
        return ""
    told = _double(chain(np.stack([start, end])), CHALK, 2.0 * unit, "", unit)
    for x, y in (start, end):
        told += element(
            "circle", cx=float(x), cy=float(y), r=4.6 * unit, fill=CHALK, stroke=DARK, stroke_width=1.1 * unit
        )
    return told + _label(line.words, start, end, CHALK, sheet, unit)


def _label(text: str, start: Points, end: Points, colour: str, sheet: Sheet, unit: float) -> str:
    box = sheet.place(text, start, end)
    if box is None:
        return ""
    anchor = sheet.anchor(box, start, end)
    rim = near_edge(box, anchor)
    told = ""
    if np.hypot(*(rim - anchor)) > 1.3 * sheet.size:
        told = _double(chain(np.stack([anchor, rim])), colour, 0.9 * unit, "", 0.7 * unit)
    return told + _text(text, box.x, box.y + 0.35 * sheet.size, colour, sheet.size)


def _text(text: str, x: float, y: float, colour: str, size: float, *, anchor: str = "middle") -> str:
    style: dict[str, Any] = {"font_size": size, "text_anchor": anchor}
    ground = words(
        text,
        x,
        y,
        fill=DARK,
        stroke=DARK,
        stroke_width=0.28 * size,
        stroke_linejoin="round",
        aria_hidden="true",
        **style,
    )
    return ground + words(text, x, y, fill=colour, **style)
