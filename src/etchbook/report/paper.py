"""The sheet of squared paper: how large the section is drawn on it, and where."""

from dataclasses import dataclass

import numpy as np

from etchbook.picture import Scale
from etchbook.report.svg import Points, chain, element, number
from etchbook.section import Outline, Reading

SQUARE = 5.0
"""Side of a square [mm of paper]."""

WIDTH, HEIGHT = 34 * SQUARE, 23 * SQUARE
_ROUND = tuple(step * 10.0**power for power in range(-3, 6) for step in (1.0, 2.0, 5.0))


@dataclass(frozen=True, kw_only=True, slots=True)
class Paper:
    """How picture pixels go onto the paper.

    Parameters
    ----------
    per_square : what one square stands for [`unit`]; always a round number, so that squares can be counted
    unit : mm, or px where the picture has no scale
    px_per_unit : picture pixels to one `unit`
    shift : (2,) paper millimetres added after scaling
    """

    per_square: float
    unit: str
    px_per_unit: float
    shift: Points

    @property
    def per_px(self) -> float:
        """Paper millimetres to one picture pixel."""
        return SQUARE / (self.per_square * self.px_per_unit)

    def on(self, points: Points) -> Points:
        """Picture pixels as paper millimetres, (n, 2) or (2,)."""
        return np.asarray(points, float) * self.per_px + self.shift

    @property
    def ratio(self) -> str:
        """The scale of the drawing in words, true when it is printed at its own size."""
        if self.unit != "mm":
            return f"one square is {number(self.per_square)} px; no scale"
        times = SQUARE / self.per_square
        told = f"{number(times)} : 1" if times >= 1 else f"1 : {number(1 / times)}"
        return f"one square is {number(self.per_square, 3)} mm, drawn {told}"


def paper_for(reading: Reading) -> Paper:
    """The largest round scale at which the weld and some plate beside it fit on the sheet."""
    scale = reading.scale
    unit, px_per_unit = ("mm", scale.px_per_mm) if isinstance(scale, Scale) else ("px", 1.0)
    low, high = _extent(reading.outline)
    middle, span = (low + high) / 2, np.maximum((high - low) / px_per_unit, 1e-3)
    needed = max(span[0] / (0.62 * WIDTH), span[1] / (0.62 * HEIGHT)) * SQUARE
    per_square = next((step for step in _ROUND if step >= needed), _ROUND[-1])
    per_px = SQUARE / (per_square * px_per_unit)
    shift = np.array([WIDTH / 2, HEIGHT / 2 + 2.0]) - middle * per_px
    return Paper(per_square=per_square, unit=unit, px_per_unit=px_per_unit, shift=shift)


def _extent(outline: Outline) -> tuple[Points, Points]:
    """Corners of the box that must be seen: weld metal, HAZ edges and landmarks."""
    names = ("weld_face", "root_face", "fusion_line_1", "fusion_line_2", "haz_edge_1", "haz_edge_2")
    seen = [np.asarray(outline.boundaries[name].points, float) for name in names if name in outline.boundaries]
    seen += [np.asarray(ring, float) for ring in outline.weld]
    seen += [np.asarray(mark.point, float)[None] for mark in outline.landmarks.values()]
    if not seen:
        every = [np.asarray(part.points, float) for part in outline.boundaries.values()]
        seen = every or [np.array([[0.0, 0.0], [100.0, 60.0]])]
    points = np.concatenate(seen)
    return points.min(axis=0), points.max(axis=0)


def squares() -> str:
    """The ruling of the paper: fine lines, and nothing else."""
    across = np.arange(0.0, WIDTH + 0.1, SQUARE)
    down = np.arange(0.0, HEIGHT + 0.1, SQUARE)
    path = "".join(f"M{number(x)} 0V{number(HEIGHT)}" for x in across)
    path += "".join(f"M0 {number(y)}H{number(WIDTH)}" for y in down)
    return element("path", d=path, fill="none", stroke="#c9d6d3", stroke_width=0.12)


def bar_of(paper: Paper) -> tuple[float, str]:
    """Length [mm of paper] of a scale bar of some whole squares, and what to write at it."""
    squares_long = 4 if paper.per_square * 4 < 10 else 5
    told = f"{number(paper.per_square * squares_long, 3)} {paper.unit}"
    return squares_long * SQUARE, told if paper.unit == "mm" else f"{told}, no scale"


def bar_svg(x: float, y: float, length: float) -> str:
    """A scale bar that starts at (x, y), with a tick at each square."""
    line = element("path", d=chain(np.array([[x, y], [x + length, y]])), stroke="#1d2422", stroke_width=0.7)
    count = round(length / SQUARE)
    ticks = "".join(f"M{number(x + i * SQUARE)} {number(y - 0.9)}v1.8" for i in range(count + 1))
    return line + element("path", d=ticks, stroke="#1d2422", stroke_width=0.3)
