"""A value with its ± beside its limit, on a small axis."""

import math

from etchbook.acceptance.records import Finding
from etchbook.quantity import Measured, expanded, spoken
from etchbook.report.svg import element, number, words

WIDE, TALL, EDGE = 260.0, 44.0, 14.0
RAIL = 22.0


def limit_axis_svg(finding: Finding) -> str:
    """A finding as a small drawing; "" where there is no value or no limit with a number.

    Parameters
    ----------
    finding : its value is a filled point with ± (k for 95 %), its limit an upright stroke, the permitted side a band
    """
    value, bound = finding.value, finding.bound
    if not isinstance(value, Measured) or bound is None or not math.isfinite(bound):
        return ""
    spread = expanded(value)
    low, high = min(value.value - spread, bound), max(value.value + spread, bound)
    room = 0.35 * ((high - low) or abs(bound) or 1.0)
    start, span = low - room, high - low + 2 * room

    def at(figure: float) -> float:
        return EDGE + (figure - start) / span * (WIDE - 2 * EDGE)

    good = (EDGE, at(bound)) if finding.limit.most or not finding.limit.least else (at(bound), WIDE - EDGE)
    side = "start" if at(bound) < WIDE / 2 else "end"
    body = [
        element("rect", x=good[0], y=RAIL - 8, width=max(good[1] - good[0], 0.0), height=16, class_="good"),
        element("path", d=f"M{number(EDGE)} {number(RAIL)}H{number(WIDE - EDGE)}", class_="rail"),
        element("path", d=f"M{number(at(bound))} {number(RAIL - 13)}v26", class_="limit"),
        element("path", d=f"M{number(at(value.value - spread))} {number(RAIL)}H{number(at(value.value + spread))}",
                class_="spread"),
        element("circle", cx=at(value.value), cy=RAIL, r=4.5, class_="dot"),
        words(f"limit {bound:.3g} {value.unit}", at(bound), TALL - 1, text_anchor=side),
    ]  # fmt: skip
    told = f"{spoken(value)} against a limit of {bound:.3g} {value.unit}: {finding.verdict}"
    box = f"0 0 {number(WIDE)} {number(TALL)}"
    return element("svg", "".join(body), class_="axis", viewBox=box, role="img", aria_label=told)
