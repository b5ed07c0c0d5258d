"""Plots as plain drawings on squared paper: thin lines, small filled points, words beside them."""

import math
import textwrap
from dataclasses import dataclass

import numpy as np

from etchbook.report.svg import Points, chain, document, element, number, words

INK, PENCIL, MEASURE, RULING = "#1d2422", "#5b6664", "#1f3f7a", "#c9d6d3"
SQUARE, TYPE = 5.0, 3.1
"""Side of a square and type size [mm]."""

DASHES = ("", "2.4 1.2", "0.9 0.9", "4 1 0.8 1")
"""Lines are told apart by their dashes and by the words at them, never by colour alone."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Curve:
    """One line of a plot.

    Parameters
    ----------
    points : (n, 2) in the units of the axes
    words : what is said at it, or in the key
    dash, weight : which dashes, and how heavy [mm]
    closed : whether its ends are joined
    spot : where the words stand, in the units of the axes; None for above its highest point
    """

    points: Points
    words: str = ""
    dash: int = 0
    weight: float = 0.35
    closed: bool = False
    spot: tuple[float, float] | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
    """A small filled point, or a ring, with words beside it, and its ± as a bar along y where it has one."""

    x: float
    y: float
    words: str = ""
    spread: float = 0.0
    ring: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Plot:
    """A plot without any scale of its own: the ranges follow from what is drawn, on round numbers.

    Parameters
    ----------
    title : said above; x_words, y_words : at the axes, with the unit
    curves, marks : what is drawn
    levels : horizontal lines at these heights, each with its words
    equal : whether a millimetre is as long along x as along y
    down : whether y grows downwards
    top : the axis ends here at the most; what is higher runs off the field
    key : whether the words of the curves stand together in the corner, each beside a piece of its line
    width, height : of the field in squares
    """

    title: str
    x_words: str
    y_words: str
    curves: tuple[Curve, ...] = ()
    marks: tuple[Mark, ...] = ()
    levels: tuple[tuple[float, str], ...] = ()
    equal: bool = False
    down: bool = False
    top: float | None = None
    key: bool = False
    width: int = 26
    height: int = 15
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class _Axis:
    low: float
    step: float
    squares: int
    """How many squares the field has along it; a step takes `per` of them."""

    per: int
    flip: bool = False

    def at(self, values: Points) -> Points:
        place = (np.asarray(values, float) - self.low) / self.step * self.per * SQUARE
        return self.squares * SQUARE - place if self.flip else place

    def ticks(self) -> list[float]:
        return [self.low + self.step * turn for turn in range(self.squares // self.per + 1)]


def plot_svg(plot: Plot) -> str:
    """A plot as a whole SVG document.

    Parameters
    ----------
    plot : what to draw

    Returns
    -------
    str
        With title and description for those who do not see it.
    """
    across, down = _axes(plot)
    left, top = 3 * SQUARE, 2 * SQUARE
    width = (across.squares + 5) * SQUARE
    notes = [line for note in plot.notes for line in textwrap.wrap(note, int((width - left - 2) / 1.42))]
    height = (down.squares + 5 + len(notes)) * SQUARE
    field_width, field_height = across.squares * SQUARE, down.squares * SQUARE
    body = [element("rect", width=width, height=height, fill="#fdfcf8"), _squares(width, height)]
    body.append(words(plot.title, left, 1.3 * SQUARE, font_size=3.8, font_weight="bold", fill=INK))
    clip = element("defs", element("clipPath", element("rect", width=field_width, height=field_height), id="field"))
    drawn = element("g", _levels(plot, across, down) + _curves(plot, across, down), clip_path="url(#field)")
    taken: list[tuple[float, float, float]] = []
    said = _words(plot, across, down, taken)
    inside = drawn + said + _marks(plot, across, down, taken) + _frame(plot, across, down)
    body.append(element("g", inside, transform=f"translate({number(left)} {number(top)})"))
    for row, note in enumerate(notes):
        body.append(words(note, left, top + field_height + (2.8 + 0.9 * row) * SQUARE, font_size=2.7, fill=PENCIL))
    told = f"Plot of {plot.y_words} over {plot.x_words}. " + "; ".join(one.words for one in plot.curves if one.words)
    size = f"{width:.0f}mm", f"{height:.0f}mm"
    return document([clip, *body], (width, height), size, plot.title, told)


def _axes(plot: Plot) -> tuple[_Axis, _Axis]:
    points = [np.asarray(one.points, float) for one in plot.curves if len(one.points)]
    points += [np.array([[one.x, one.y - one.spread], [one.x, one.y + one.spread]]) for one in plot.marks]
    if not points:
        points = [np.array([[0.0, 0.0], [1.0, 1.0]])]
    if plot.levels:
        middle = float(points[0][0, 0])
        points.append(np.array([[middle, height] for height, _ in plot.levels]))
    every = np.concatenate(points)
    low, high = every.min(axis=0), every.max(axis=0)
    if plot.top is not None:
        high[1] = min(high[1], plot.top)
    if not plot.equal:
        return _axis(low[0], high[0], plot.width), _axis(low[1], high[1], plot.height, flip=not plot.down)
    step = max(_round_step((high[0] - low[0]) / plot.width), _round_step((high[1] - low[1]) / plot.height))
    return _even(low[0], high[0], step), _even(low[1], high[1], step, flip=not plot.down)


def _axis(low: float, high: float, squares: int, *, flip: bool = False) -> _Axis:
    """Round steps of two squares each that hold low and high."""
    step = _round_step(max(high - low, 1e-9) / squares * 2)
    while True:
        first = math.floor(low / step + 1e-9) * step
        if first + step * (squares // 2) >= high - 1e-9 * step:
            return _Axis(low=first, step=step, squares=squares - squares % 2, per=2, flip=flip)
        step = _round_step(step * 1.01)


def _even(low: float, high: float, step: float, *, flip: bool = False) -> _Axis:
    """As many squares as are needed, each `step` wide."""
    first = math.floor(low / step / 2 + 1e-9) * step * 2
    count = max(math.ceil((high - first) / step / 2 - 1e-9) * 2, 2)
    return _Axis(low=first, step=2 * step, squares=count, per=2, flip=flip)


def _round_step(least: float) -> float:
    """The smallest of 1, 2, 2.5, 5 times a power of ten that is not below `least`."""
    power = 10.0 ** math.floor(math.log10(max(least, 1e-12)))
    return next(size * power for size in (1.0, 2.0, 2.5, 5.0, 10.0) if size * power >= least * (1 - 1e-9))


def _squares(width: float, height: float) -> str:
    path = "".join(f"M{number(x)} 0V{number(height)}" for x in np.arange(0, width + 0.1, SQUARE))
    path += "".join(f"M0 {number(y)}H{number(width)}" for y in np.arange(0, height + 0.1, SQUARE))
    return element("path", d=path, fill="none", stroke=RULING, stroke_width=0.12)


def _on(points: Points, across: _Axis, down: _Axis) -> Points:
    held = np.asarray(points, float).reshape(-1, 2)
    return np.stack([across.at(held[:, 0]), down.at(held[:, 1])], axis=1)


def _curves(plot: Plot, across: _Axis, down: _Axis) -> str:
    drawn = []
    for one in plot.curves:
        dash = DASHES[one.dash % len(DASHES)]
        extra = {"stroke_dasharray": dash} if dash else {}
        path = chain(_on(one.points, across, down), closed=one.closed)
        drawn.append(
            element("path", d=path, fill="none", stroke=INK, stroke_width=one.weight, stroke_linejoin="round", **extra)
        )
    return "".join(drawn)


def _levels(plot: Plot, across: _Axis, down: _Axis) -> str:
    heights = [float(down.at(np.array([height]))[0]) for height, _ in plot.levels]
    path = "".join(f"M0 {number(height)}H{number(across.squares * SQUARE)}" for height in heights)
    return element("path", d=path, stroke=MEASURE, stroke_width=0.2, stroke_dasharray="1.6 1.1") if path else ""


def _words(plot: Plot, across: _Axis, down: _Axis, taken: list[tuple[float, float, float]]) -> str:
    """Words at curves and levels, each kept off those that are there already."""
    right = across.squares * SQUARE
    told = []
    for height, said in plot.levels:
        y = float(down.at(np.array([height]))[0]) - 0.8
        told.append(_said(said, right - 0.8, y, taken, anchor="end", fill=MEASURE))
    if plot.key:
        return "".join(told) + _key(plot, right)
    for one in plot.curves:
        if one.words and len(one.points):
            told.append(_at_curve(one, across, down, right, taken))
    return "".join(told)


def _at_curve(one: Curve, across: _Axis, down: _Axis, right: float, taken: list[tuple[float, float, float]]) -> str:
    if one.spot is not None:
        x, y = _on(np.array([one.spot]), across, down)[0]
        return _said(one.words, float(x), float(y) + 1, taken, anchor="middle")
    points = _on(one.points, across, down)
    inside = points[(points[:, 0] >= 0) & (points[:, 0] <= right) & (points[:, 1] > 2)]
    held = inside if len(inside) else points
    x, y = held[int(np.argmin(held[:, 1]))]
    late = x > 0.75 * right
    return _said(one.words, float(x) + (-1 if late else 1), float(y) - 0.9, taken, anchor="end" if late else "start")


def _key(plot: Plot, right: float) -> str:
    """A piece of each line with its words, together in the upper right corner."""
    named = [one for one in plot.curves if one.words]
    longest = max((len(one.words) for one in named), default=0)
    start = right - 1.62 * longest - 12
    told = []
    for row, one in enumerate(named):
        y = 4.0 + 1.45 * TYPE * row
        dash = DASHES[one.dash % len(DASHES)]
        extra = {"stroke_dasharray": dash} if dash else {}
        path = f"M{number(start)} {number(y - 1)}h9"
        told.append(element("path", d=path, fill="none", stroke=INK, stroke_width=one.weight, **extra))
        told.append(_said(one.words, start + 10.5, y, [], anchor="start"))
    return "".join(told)


def _said(
    text: str,
    x: float,
    y: float,
    taken: list[tuple[float, float, float]],
    *,
    anchor: str,
    fill: str = INK,
    away: int = 1,
) -> str:
    reach = 1.62 * len(text)
    left = x - reach * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    while any(abs(y - low) < TYPE and left < end and begin < left + reach for begin, end, low in taken):
        y += away * TYPE * 0.55
    taken.append((left, left + reach, y))
    halo: dict[str, str | float] = {"stroke": "#fdfcf8", "stroke_width": 0.9, "paint_order": "stroke"}
    return words(text, x, y, font_size=TYPE, fill=fill, text_anchor=anchor, **halo)


def _marks(plot: Plot, across: _Axis, down: _Axis, taken: list[tuple[float, float, float]]) -> str:
    drawn, told = [], []
    places = _on(np.array([[one.x, one.y] for one in plot.marks]), across, down)
    taken += [(float(x) - 1.4, float(x) + 1.4, float(y) + 1.0) for x, y in places]  # words keep off the points
    for one in plot.marks:
        ends = _on(np.array([[one.x, one.y - one.spread], [one.x, one.y], [one.x, one.y + one.spread]]), across, down)
        if one.spread:
            drawn.append(element("path", d=chain(ends[[0, 2]]), stroke=MEASURE, stroke_width=0.3))
        x, y = float(ends[1, 0]), float(ends[1, 1])
        ring = {"fill": "#fdfcf8", "stroke": MEASURE, "stroke_width": 0.35} if one.ring else {"fill": MEASURE}
        drawn.append(element("circle", cx=x, cy=y, r=0.95 if one.ring else 0.8, **ring))
        if one.words:
            late = x > 0.7 * across.squares * SQUARE
            anchor, x = ("end", x - 1.6) if late else ("start", x + 1.6)
            told.append(_said(one.words, x, y - 1.2, taken, anchor=anchor, fill=MEASURE, away=-1))
    return "".join((*told, *drawn))


def _frame(plot: Plot, across: _Axis, down: _Axis) -> str:
    width, height = across.squares * SQUARE, down.squares * SQUARE
    drawn = [element("path", d=f"M0 0V{number(height)}H{number(width)}", fill="none", stroke=INK, stroke_width=0.4)]
    for value in across.ticks():
        x = float(across.at(np.array([value]))[0])
        drawn.append(words(_tick(value, across.step), x, height + 3.9, font_size=2.8, fill=INK, text_anchor="middle"))
    for value in down.ticks():
        y = float(down.at(np.array([value]))[0])
        drawn.append(words(_tick(value, down.step), -1.2, y + 1, font_size=2.8, fill=INK, text_anchor="end"))
    drawn.append(words(plot.x_words, width, height + 8.2, font_size=TYPE, fill=INK, text_anchor="end"))
    turn = f"translate(-11 {number(height / 2)}) rotate(-90)"
    drawn.append(
        element("g", words(plot.y_words, 0, 0, font_size=TYPE, fill=INK, text_anchor="middle"), transform=turn)
    )
    return "".join(drawn)


def _tick(value: float, step: float) -> str:
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    if abs(step * 10**places - round(step * 10**places)) > 1e-6:  # steps of 0.25 need a place more
        places += 1
    return number(round(value, places), places).replace("-", "−")
