"""Dot strips: each bead a small point with its ±, two groups one above the other, a scale for each dimension."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from etchbook.report.plots import INK, MEASURE, PENCIL, RULING, SQUARE
from etchbook.report.svg import document, element, number, words

LEFT, FIELD, RIGHT = 13 * SQUARE, 17 * SQUARE, 8 * SQUARE
TALL = 3 * SQUARE
Dots = tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """One dimension.

    Parameters
    ----------
    label, unit : what it is
    dots : two groups of (value, ±)
    words : what is said at its right end
    """

    label: str
    unit: str
    dots: tuple[Dots, ...]
    words: str


def strips_svg(strips: Sequence[Strip], names: tuple[str, str]) -> str:
    """Strips under each other on squared paper, as a whole SVG document.

    Parameters
    ----------
    strips : one or more
    names : of the two groups; the first stands above the second
    """
    width = LEFT + FIELD + RIGHT
    height = (len(strips) * 3 + 3) * SQUARE
    body = [element("rect", width=width, height=height, fill="#fdfcf8"), _ruling(width, height)]
    title = f"{names[0]} above, {names[1]} below; ± is k = 2 of reading"
    body.append(words(title, SQUARE, 1.3 * SQUARE, font_size=3.4, font_weight="bold", fill=INK))
    body.append(words(f"{names[1]} less {names[0]}", LEFT + FIELD + 3, 1.3 * SQUARE, font_size=2.8, fill=PENCIL))
    body += [_strip(strip, names, 2 * SQUARE + at * TALL) for at, strip in enumerate(strips)]
    told = "; ".join(f"{strip.label}: {strip.words or 'no difference reckoned'}" for strip in strips)
    return document(body, (width, height), (f"{width:.0f}mm", f"{height:.0f}mm"), "Beads side by side", told)


def _ruling(width: float, height: float) -> str:
    path = "".join(f"M{number(at * SQUARE)} 0V{number(height)}" for at in range(int(width / SQUARE) + 1))
    path += "".join(f"M0 {number(at * SQUARE)}H{number(width)}" for at in range(int(height / SQUARE) + 1))
    return element("path", d=path, fill="none", stroke=RULING, stroke_width=0.12)


def _strip(strip: Strip, names: tuple[str, str], top: float) -> str:
    low, step = _scale(strip)
    base = top + 2.4 * SQUARE

    def at(value: float) -> float:
        return LEFT + (value - low) / step * 4 * SQUARE

    said = f"{strip.label}, {strip.unit}" if strip.unit else strip.label
    drawn = [
        words(
            said,
            LEFT - 2.4 - 1.35 * max(map(len, names)),
            top + 1.2 * SQUARE,
            font_size=2.9,
            fill=INK,
            text_anchor="end",
        ),
        words(strip.words, LEFT + FIELD + 3, top + 1.2 * SQUARE, font_size=2.9, fill=MEASURE),
        element("path", d=f"M{number(LEFT)} {number(base)}h{number(FIELD)}", stroke=INK, stroke_width=0.25),
    ]
    for tick in range(5):
        value = low + tick * step
        drawn.append(element("path", d=f"M{number(at(value))} {number(base)}v1", stroke=INK, stroke_width=0.25))
        drawn.append(words(_tick(value, step), at(value), base + 3.4, font_size=2.3, fill=PENCIL, text_anchor="middle"))
    for row, (name, dots) in enumerate(zip(names, strip.dots, strict=True)):
        y = top + (0.9 + row) * SQUARE
        drawn.append(words(name, LEFT - 1.2, y + 1, font_size=2.3, fill=PENCIL, text_anchor="end"))
        drawn += [_dot(at(value), at(value - spread), at(value + spread), y) for value, spread in dots]
        if len(dots) > 1:
            mean = at(sum(value for value, _ in dots) / len(dots))
            drawn.append(element("path", d=f"M{number(mean)} {number(y - 2)}v4", stroke=INK, stroke_width=0.5))
    return "".join(drawn)


def _dot(x: float, low: float, high: float, y: float) -> str:
    bar = element("path", d=f"M{number(low)} {number(y)}H{number(high)}", stroke=MEASURE, stroke_width=0.3)
    return bar + element("circle", cx=x, cy=y, r=0.8, fill=MEASURE)


def _scale(strip: Strip) -> tuple[float, float]:
    """Start and step of a scale of four round steps that holds every dot with its ±."""
    ends = [value + sign * spread for group in strip.dots for value, spread in group for sign in (-1, 1)]
    low, high = min(ends), max(ends)
    power = 10.0 ** math.floor(math.log10(max((high - low) / 4, 1e-6)))
    for step in (size * power for size in (1.0, 2.0, 2.5, 5.0, 10.0, 20.0)):
        start = math.floor(low / step + 1e-9) * step
        if start + 4.2 * step >= high:
            return start, step
    return low, max(high - low, 1e-6) / 4


def _tick(value: float, step: float) -> str:
    places = max(0, 1 - math.floor(math.log10(step) + 1e-9))
    return number(round(value, places), places).replace("-", "−")
