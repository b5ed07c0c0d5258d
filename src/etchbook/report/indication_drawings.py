"""The drawings on an indication's page: crop with the traced line, close look, profile across, place in the plate."""

import numpy as np

from etchbook.picture import NoScale, Picture, Scale
from etchbook.quantity import Absent, Measured, spoken
from etchbook.report.indication_words import width_words
from etchbook.report.photos import Print, Window, photo_print
from etchbook.report.plots import Curve, Plot, plot_svg
from etchbook.report.svg import Points, chain, document, element, number, words
from etchbook.section import Indication
from etchbook.usecases.profiling import SeenProfile

DARK, CHALK, PAPER, INK, SOFT = "#10100f", "#ffdf6b", "#fdfcf8", "#1d2422", "#55605d"
MOST_PIXELS = 4200
"""Longest side of a crop that is printed pixel for pixel; longer ones are reduced to it, and say so."""
CLOSE = 260
STEPS = (20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)


def crop_window(found: Indication, picture: Picture) -> Window:
    """The part of the picture around an indication, wider than high unless the indication itself is upright."""
    points = _all_points(found)
    low, high = points.min(axis=0), points.max(axis=0)
    middle, half = (low + high) / 2, (high - low) / 2 * 1.12 + 30
    half = np.maximum(half, [1.7 * min(half[1], 200.0), 0.42 * half[0]])
    return _inside(middle - half, middle + half, picture)


def close_window(found: Indication, picture: Picture) -> Window:
    """A small part about the middle of the line, to be printed large."""
    middle = found.points[len(found.points) // 2]
    half = np.array([CLOSE, CLOSE * 0.55]) / 2
    return _inside(middle - half, middle + half, picture)


def crop_svg(found: Indication, picture: Picture, scale: Scale | NoScale, window: Window, *, traced: bool) -> str:
    """A part of the photo at its full resolution, with the traced line as dots beside which the metal stays visible.

    Parameters
    ----------
    traced : whether the line is drawn
    """
    photo = photo_print(picture, window, longest=MOST_PIXELS)
    left, top, right, bottom = window
    width, height = float(right - left), float(bottom - top)
    smooth = {} if max(width, height) > 2 * CLOSE else {"image_rendering": "pixelated"}
    parts = [element("image", href=photo.href, width=width, height=height, preserveAspectRatio="none", **smooth)]
    unit = max(width, height * 1.6) / 1000
    if traced:
        parts.append(_dots(found, photo, unit))
    parts.append(_bar(scale, width, height, unit))
    told = f"The photo around indication {found.name}, {'with' if traced else 'without'} the line as it was traced"
    return document(parts, (width, height), (f"{width:.0f}", f"{height:.0f}"), f"Indication {found.name}", told)


def profile_svg(seen: SeenProfile, found: Indication) -> str:
    """The grey profile across a line, with the bar that was fitted to it and the width that was read."""
    floor = float(min(seen.light.min(), seen.fitted.min()))
    width = found.width if isinstance(found.width, Measured) else found.width_limit
    half = width.value / 2 if isinstance(width, Measured) else None
    sides = (
        ()
        if half is None
        else tuple(
            Curve(points=np.array([[x, floor], [x, 1.0]]), dash=2, words=told, weight=0.25)
            for x, told in ((-half, "width"), (half, ""))
        )
    )
    seen_points, fitted = (np.stack([seen.across, light], axis=1) for light in (seen.light, seen.fitted))
    plot = Plot(
        title="Grey across the line",
        x_words=f"across the line, {seen.unit}",
        y_words="light over the light beside it",
        curves=(
            Curve(points=seen_points, words="seen", weight=0.45),
            Curve(points=fitted, words="fitted", dash=1),
            *sides,
        ),
        key=True,
        width=15,
        height=11,
        notes=(
            f"Mean of {seen.profiles} profiles over its dark stretches. "
            f"Width with the picture's blur taken out: {width_words(found)}.",
        ),
    )
    return plot_svg(plot)


def place_svg(found: Indication) -> str:
    """Where a line lies in the thickness of its plate, as a workshop sketch."""
    depth = found.depth_fraction
    share = depth.value if isinstance(depth, Measured) else 0.5
    top, thick, left, right = 10.0, 30.0, 14.0, 92.0
    plate = element("rect", x=left, y=top, width=right - left, height=thick, fill=PAPER, stroke=INK, stroke_width=0.5)
    middle = element(
        "path", d=f"M{left} {top + thick / 2}H{right}", stroke=SOFT, stroke_width=0.2, stroke_dasharray="3 1 0.6 1"
    )
    parts = [_squares(122, 50), plate, middle]
    if isinstance(depth, Absent):
        parts.append(words(f"depth not read: {depth.reason}", left, 47, font_size=3.1, fill=INK))
    else:
        y = top + share * thick
        parts.append(_band(depth, y, thick, left, right))
        parts.append(element("path", d=f"M{left + 6} {number(y)}H{right - 16}", stroke=INK, stroke_width=0.7))
        parts.append(_measure(y, top, right - 8))
        parts.append(words(spoken(depth), right + 2, y + 1, font_size=3.1, fill=INK))
        parts.append(words("of the thickness", right + 2, y + 4.6, font_size=2.6, fill=SOFT))
    parts.append(words("face 0", left - 1, top - 1.4, font_size=2.6, fill=SOFT))
    parts.append(words("face 1", left - 1, top + thick + 3.4, font_size=2.6, fill=SOFT))
    title = f"Place of indication {found.name} in the thickness"
    return document(parts, (122, 50), ("122mm", "50mm"), title, f"{title}: {spoken(depth)}")


def _measure(y: float, top: float, x: float) -> str:
    path = element("path", d=f"M{number(x)} {number(top)}V{number(y)}", stroke=INK, stroke_width=0.3)
    return path + "".join(element("circle", cx=x, cy=end, r=0.7, fill=INK) for end in (top, y))


def _band(depth: Measured, y: float, thick: float, left: float, right: float) -> str:
    half = max(2 * depth.u * thick, 0.2)
    return element("rect", x=left, y=y - half, width=right - left, height=2 * half, fill=SOFT, fill_opacity=0.18)


def _squares(width: float, height: float) -> str:
    lines = "".join(f"M{x} 0V{number(height)}" for x in range(0, int(width) + 1, 5))
    lines += "".join(f"M0 {y}H{number(width)}" for y in range(0, int(height) + 1, 5))
    paper = element("rect", width=width, height=height, fill=PAPER)
    return paper + element("path", d=lines, stroke="#c9d6d3", stroke_width=0.1, fill="none")


def _all_points(found: Indication) -> Points:
    return np.concatenate([found.points, *found.others])


def _inside(low: Points, high: Points, picture: Picture) -> Window:
    left, top = np.floor(np.maximum(low, 0)).astype(int)
    right, bottom = np.ceil(np.minimum(high, [picture.width, picture.height])).astype(int)
    return int(left), int(top), max(int(right), int(left) + 2), max(int(bottom), int(top) + 2)


def _dots(found: Indication, photo: Print, unit: float) -> str:
    left, top, _, _ = photo.window
    shift = np.array([0.5 - left, 0.5 - top])
    paths = [chain(points + shift, closed=found.kind == "blob") for points in (found.points, *found.others)]
    drawn = [(DARK, 5.0 * unit), (CHALK, 2.8 * unit)]
    return "".join(
        element(
            "path",
            d=path,
            fill="none",
            stroke=ink,
            stroke_width=size,
            stroke_linecap="round",
            stroke_dasharray=f"0 {number(11 * unit)}",
        )
        for path in paths
        for ink, size in drawn
    )


def _bar(scale: Scale | NoScale, width: float, height: float, unit: float) -> str:
    """A scale bar of a round length, in the lower left corner on a strip of paper."""
    if isinstance(scale, NoScale):
        return ""
    step = next((mm for mm in STEPS if mm * scale.px_per_mm <= 0.25 * width), STEPS[-1])
    long = step * scale.px_per_mm
    x, y = 22 * unit, height - 26 * unit
    paper = element(
        "rect", x=x - 10 * unit, y=y - 36 * unit, width=max(long, 90 * unit) + 20 * unit, height=48 * unit, fill=PAPER
    )
    ends = f"M{number(x)} {number(y - 7 * unit)}V{number(y)}H{number(x + long)}V{number(y - 7 * unit)}"
    line = element("path", d=ends, fill="none", stroke=INK, stroke_width=2.5 * unit)
    return paper + line + words(f"{step:g} mm", x, y - 12 * unit, font_size=21 * unit, fill=INK, font_family="B612")
