"""The joint seen from the start of the weld: its members to scale."""

import math
from collections.abc import Callable, Mapping

from etchbook.preparation import CutPlan
from etchbook.report.cutting_sheet_paper import END_VIEW, WIDTH
from etchbook.report.paper import SQUARE
from etchbook.report.svg import element, number, words

INK, PENCIL = "#1d2422", "#5b6664"
_ROUND = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
Shape = tuple[list[tuple[float, float, float, float]], list[tuple[float, float]]]
"""Members as rectangles (left, top, width, height) and the weld as a polygon, in mm, y down."""


def end_view(plan: CutPlan, top: float) -> str:
    """The joint from the start of the weld, at a round scale of its own, below `top` [mm of paper]."""
    t1 = plan.wish.thickness_1
    t2 = plan.wish.thickness_2 if plan.wish.thickness_2 is not None else t1
    plates, weld = _SHAPES[plan.wish.family](t1, t2)
    wide = max(left + width for left, _, width, _ in plates) - min(left for left, _, _, _ in plates)
    tall = max(y + height for _, y, _, height in plates) - min(y for _, y, _, _ in plates)
    per_square = next((s for s in _ROUND if wide * SQUARE / s <= 90 and tall * SQUARE / s <= END_VIEW - 12), 100.0)
    scale = SQUARE / per_square
    x0 = WIDTH / 2 - scale * (min(left for left, _, _, _ in plates) + wide / 2)
    y0 = top + 8 - scale * min(y for _, y, _, _ in plates)
    drawn = "".join(_plate(plate, x0, y0, scale) for plate in plates) + _weld(weld, x0, y0, scale)
    told = f"{scale:g} : 1" if scale >= 1 else f"1 : {1 / scale:g}"
    thick = f"member 1: {t1:g} mm" + ("" if plan.wish.family == "bead" else f"; member 2: {t2:g} mm")
    note = f"seen from the start of the weld, thickness {told}; {thick}; plates cut short, the weld as a sign"
    return drawn + words(note, WIDTH / 2, top + 4.2, font_size=2.9, fill=INK, text_anchor="middle")


def _plate(plate: tuple[float, float, float, float], x0: float, y0: float, scale: float) -> str:
    left, top, width, height = plate
    return element(
        "rect", x=x0 + scale * left, y=y0 + scale * top, width=scale * width, height=scale * height,
        fill="#fdfcf8", stroke=INK, stroke_width=0.4,
    )  # fmt: skip


def _weld(corners: list[tuple[float, float]], x0: float, y0: float, scale: float) -> str:
    if not corners:
        return ""
    path = "M" + "L".join(f"{number(x0 + scale * x)} {number(y0 + scale * y)}" for x, y in corners) + "Z"
    return element("path", d=path, fill="#fdfcf8", stroke=INK, stroke_width=0.4) + _hatch(corners, x0, y0, scale)


def _hatch(corners: list[tuple[float, float]], x0: float, y0: float, scale: float) -> str:
    """Lines from each corner towards the middle of the opposite side: the way the metal froze."""
    cx = sum(x for x, _ in corners) / len(corners)
    cy = sum(y for _, y in corners) / len(corners)
    path = "".join(
        f"M{number(x0 + scale * x)} {number(y0 + scale * y)}L{number(x0 + scale * cx)} {number(y0 + scale * cy)}"
        for x, y in corners
    )
    return element("path", d=path, fill="none", stroke=PENCIL, stroke_width=0.22)


def _tee(t1: float, t2: float) -> Shape:
    leg = 0.7 * min(t1, t2)
    reach = 2.5 * max(t1, t2)
    plates = [(-reach, 0.0, 2 * reach, t1), (-t2 / 2, -reach, t2, reach)]
    return plates, [(t2 / 2, 0.0), (t2 / 2 + leg, 0.0), (t2 / 2, -leg)]


def _lap(t1: float, t2: float) -> Shape:
    reach = 4 * max(t1, t2)
    return [(-reach / 2, 0.0, 1.5 * reach, t1), (-reach, -t2, reach, t2)], [(0.0, 0.0), (t2, 0.0), (0.0, -t2)]


def _corner(t1: float, t2: float) -> Shape:
    reach = 4 * max(t1, t2)
    return [(-reach, 0.0, reach, t1), (0.0, t1, t2, reach / 2)], [(0.0, t1), (0.0, 0.0), (t2, t1)]


def _butt(t1: float, t2: float) -> Shape:
    reach, low = 4 * max(t1, t2), min(t1, t2)
    plates = [(-reach, 0.0, reach, t1), (0.0, 0.0, reach, t2)]
    return plates, [(-0.6 * low, 0.0), (0.6 * low, 0.0), (0.1 * low, low), (-0.1 * low, low)]


def _bead(t1: float, _t2: float) -> Shape:
    reach = 4 * t1
    turns = [math.pi * n / 8 for n in range(16)]
    corners = [(0.4 * t1 * math.cos(turn), -t1 * (0.2 if turn <= math.pi else 0.3) * math.sin(turn)) for turn in turns]
    return [(-reach, 0.0, 2 * reach, t1)], corners


_SHAPES: Mapping[str, Callable[[float, float], Shape]] = {
    "tee": _tee,
    "lap": _lap,
    "corner": _corner,
    "butt": _butt,
    "bead": _bead,
}
