"""Heat flow drawn: isotherms on the surface and in the section, temperature over time."""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from etchbook.procedure.heat_flow import Coupon, History, Isotherm
from etchbook.report.plots import Curve, Mark, Plot, plot_svg
from etchbook.report.svg import Points

DEEPEST = 14.0
"""Only so much of a thick plate is shown, so that the lines near the bead stay apart [mm]."""

HONEST = "Conduction only: arc pressure, pool flow, surface tension, scale and melting heat are left out."


def plan_svg(coupon: Coupon, isotherms: Sequence[Isotherm]) -> str:
    """Isotherms on the plate's surface, seen from above, while the arc is at the middle of the bead."""
    mark = Mark(x=0.0, y=0.0, words="arc")
    shown = Plot(
        title="Isotherms on the surface",
        x_words="along the bead from the arc, mm",
        y_words="across, mm",
        curves=_in_plan(isotherms, coupon),
        marks=(mark,),
        equal=True,
        notes=(_legend(coupon), _said(coupon), HONEST),
    )
    return plot_svg(shown)


def section_svg(coupon: Coupon, isotherms: Sequence[Isotherm]) -> str:
    """Highest temperatures reached in the section at the middle of the bead: what melts, and how far the HAZ goes."""
    side = min(coupon.width / 2, 12.0)
    deep = min(coupon.thickness, DEEPEST)
    plate = np.array([[-side, deep], [-side, 0], [side, 0], [side, deep]])
    whole = deep == coupon.thickness
    curves = (Curve(points=plate, weight=0.6, closed=whole), *_in_section(isotherms, coupon, side))
    cut = () if whole else (f"The upper {deep:g} mm of the plate.",)
    shown = Plot(
        title="Highest temperatures in the section",
        x_words="across the bead, mm",
        y_words="below the surface, mm",
        curves=curves,
        equal=True,
        down=True,
        notes=(_legend(coupon), *cut, _said(coupon), HONEST),
    )
    return plot_svg(shown)


def history_svg(coupon: Coupon, histories: Sequence[History]) -> str:
    """Temperature over time at points of the section, with the lines of 800 and 500 °C."""
    curves = [
        Curve(points=np.stack([one.seconds, one.temperatures], axis=1), words=history_words(coupon, one), dash=turn)
        for turn, one in enumerate(histories)
    ]
    shown = Plot(
        title="Temperature at a point",
        x_words="time since the arc passed, s",
        y_words="temperature, °C",
        curves=tuple(curves),
        levels=((800.0, "800 °C"), (500.0, "500 °C")),
        top=max(coupon.melting, 800.0),
        key=True,
        notes=(_said(coupon), HONEST),
    )
    return plot_svg(shown)


def history_words(coupon: Coupon, one: History) -> str:
    """A point and its peak in words; above melting the model's number would mean nothing, and none is given."""
    peak = "molten" if one.peak > coupon.melting else f"peak {one.peak:.0f} °C"
    return f"{one.across:g} mm beside, {one.depth:g} mm deep: {peak}"


def _in_plan(isotherms: Sequence[Isotherm], coupon: Coupon) -> tuple[Curve, ...]:
    """Curves with their words at the tail, above and below the centreline in turn."""
    found = []
    for turn, (one, line, first) in enumerate(_lines(isotherms)):
        tail = line[int(np.argmin(line[:, 0]))]
        side = 2.0 + 1.5 * (turn // 2) if turn % 2 else -2.0 - 1.5 * (turn // 2)
        # The pool itself is told by the heavy line below: its words would lie on the arc.
        named = first and not math.isclose(one.level, coupon.melting)
        spot = (float(tail[0]) + 1.0, side) if named else None
        found.append(_curve(one, line, coupon, spot))
    return tuple(found)


def _in_section(isotherms: Sequence[Isotherm], coupon: Coupon, side: float) -> tuple[Curve, ...]:
    """Curves within the shown width, each with its words on itself."""
    held = [
        (one, line[(np.abs(line[:, 0]) <= side) & (line[:, 1] <= DEEPEST)], first)
        for one, line, first in _lines(isotherms)
    ]
    lines = {one.level: [part for other, part, _ in held if other is one and len(part) > 1] for one, _, _ in held}
    spots = _spots(
        {level: np.concatenate(parts) for level, parts in lines.items() if parts}, min(coupon.thickness, DEEPEST)
    )
    found, named = [], set[float]()
    for one, line, _ in held:
        if len(line) > 1:
            found.append(_curve(one, line, coupon, None if one.level in named else spots[one.level]))
            named.add(one.level)
    return tuple(found)


def _spots(lines: Mapping[float, Points], deep: float) -> dict[float, tuple[float, float]]:
    """A place for the words of each line on itself, clear of words placed before and far from the other lines."""
    found: dict[float, tuple[float, float]] = {}
    for level, line in lines.items():
        others = [other for name, other in lines.items() if name != level]
        inside = line[(line[:, 1] > 0.6) & (line[:, 1] < deep - 0.8)]  # words keep off the plate's own edges
        held = inside if len(inside) else line
        free = [at for at in held[:: max(len(held) // 40, 1)] if not any(_meets(at, spot) for spot in found.values())]
        clear = [min((float(np.hypot(*(other - at).T).min()) for other in others), default=1.0) for at in free]
        best = free[int(np.argmax(clear))] if free else line[0]
        found[level] = (float(best[0]), float(best[1]))
    return found


def _meets(at: Points, spot: tuple[float, float]) -> bool:
    """Whether words centred on two places would lie on each other, where a square of paper is 1 mm of plate."""
    return bool(abs(at[0] - spot[0]) < 2.6 and abs(at[1] - spot[1]) < 0.8)


def _lines(isotherms: Sequence[Isotherm]) -> list[tuple[Isotherm, Points, bool]]:
    """Every line of every isotherm, and whether it is the isotherm's longest."""
    rows = [(one, sorted(one.lines, key=len, reverse=True)) for one in isotherms]
    return [(one, line, turn == 0) for one, lines in rows for turn, line in enumerate(lines) if len(line) > 1]


def _curve(one: Isotherm, line: Points, coupon: Coupon, spot: tuple[float, float] | None) -> Curve:
    melts = math.isclose(one.level, coupon.melting)
    haz = math.isfinite(coupon.haz_edge) and math.isclose(one.level, coupon.haz_edge)
    told = "" if spot is None else f"{one.level:.0f} °C"
    return Curve(
        points=line, words=told, weight=0.7 if melts else 0.35, dash=0 if melts else 2 if haz else 1, spot=spot
    )


def _legend(coupon: Coupon) -> str:
    haz = f"; dotted: {coupon.haz_edge:.0f} °C, where the visible HAZ begins" if math.isfinite(coupon.haz_edge) else ""
    return f"Heavy line: {coupon.melting:.0f} °C, the fusion line{haz}."


def _said(coupon: Coupon) -> str:
    plate = f"{coupon.length:g} × {coupon.width:g} × {coupon.thickness:g} mm, started at {coupon.start:g} °C"
    return f"{coupon.power:.0f} W into a plate of {plate}; {coupon.travel:.3g} mm/s."
