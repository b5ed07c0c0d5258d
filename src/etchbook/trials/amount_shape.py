"""Did the bead get more metal, or another form? A change of one dimension split into amount and shape."""

import math
from dataclasses import dataclass

from etchbook.quantity import Measured, spoken
from etchbook.trials.scatter import StatisticsError


@dataclass(frozen=True, kw_only=True, slots=True)
class Split:
    """A change of one dimension from bead a to bead b, in two parts that add up to it.

    Parameters
    ----------
    total, amount, shape : change, part from the deposited area at a's form, the rest [mm]
    at_equal_area : b's dimension brought to a's deposited area [mm]
    words : which of the two it is, in a sentence
    """

    total: Measured
    amount: Measured
    shape: Measured
    at_equal_area: Measured
    words: str


def split(
    a: Measured,
    b: Measured,
    area_a: Measured,
    area_b: Measured,
    *,
    name: str = "it",
    widths: tuple[Measured, Measured] | None = None,
) -> Split:
    """Split a change of a dimension into amount and shape.

    A bead of the same form with more metal is the same picture enlarged: every length grows
    with the square root of the area. What is left after that is a change of form.

    Parameters
    ----------
    a, b : the dimension on both beads [mm], such as convexity or excess weld metal
    area_a, area_b : deposited area [mm²]
    name : of the dimension, for the sentence
    widths : width of both beads [mm], or of a fillet its mean leg, for the height over it; None where not read

    Returns
    -------
    Split
        u from all four, taken as independent. Amount points to wire feed and travel speed; shape to heat, surface,
        wetting and gas.

    Source: geometric similarity; research note 3b.
    """
    if min(area_a.value, area_b.value) <= 0:
        raise StatisticsError("a deposited area is above 0 mm²")
    grown = math.sqrt(area_b.value / area_a.value)
    half = 0.5 * math.hypot(area_a.u / area_a.value, area_b.u / area_b.value)
    amount = Measured(value=a.value * (grown - 1), u=math.hypot(a.u * (grown - 1), a.value * grown * half), unit=a.unit)
    shape = Measured(
        value=b.value - a.value * grown, u=math.hypot(b.u, a.u * grown, a.value * grown * half), unit=a.unit
    )
    equal = Measured(value=b.value / grown, u=math.hypot(b.u / grown, b.value / grown * half), unit=a.unit)
    total = Measured(value=b.value - a.value, u=math.hypot(a.u, b.u), unit=a.unit)
    return Split(total=total, amount=amount, shape=shape, at_equal_area=equal,
                 words=_told(name, total, amount, shape) + _more(a, b, equal, widths))  # fmt: skip


def _more(a: Measured, b: Measured, equal: Measured, widths: tuple[Measured, Measured] | None) -> str:
    """What the second bead would have with the metal of the first, and height over width of both."""
    told = f" With the first's amount of metal the second would have {spoken(equal)}."
    if widths is None or min(widths[0].value, widths[1].value) <= 0:
        return told
    return f"{told} Height over width: {spoken(form(a, widths[0]))} against {spoken(form(b, widths[1]))}."


def _told(name: str, total: Measured, amount: Measured, shape: Measured) -> str:
    clear = [part for part, held in (("amount", amount), ("shape", shape)) if abs(held.value) > 2 * held.u]
    parts = f"{amount.value:+.2f} mm from the amount of metal, {shape.value:+.2f} mm from the form"
    if not clear:
        return f"{name}: {total.value:+.2f} mm, of it {parts}; neither is larger than its uncertainty."
    if len(clear) == 2:  # a part that is clear but small beside the other is not what a person should look for
        clear = [
            part for part, held in (("amount", amount), ("shape", shape)) if abs(held.value) > 0.1 * abs(total.value)
        ]
    if clear == ["amount"]:
        return f"{name}: {total.value:+.2f} mm, of it {parts}: amount, so look at wire feed and travel speed."
    if clear == ["shape"]:
        return f"{name}: {total.value:+.2f} mm, of it {parts}: form, so look at heat, surface, volts and gas."
    return f"{name}: {total.value:+.2f} mm, of it {parts}: both have changed."


def form(height: Measured, width: Measured) -> Measured:
    """Height over width, which does not change with the amount of metal alone."""
    if width.value <= 0:
        raise StatisticsError("a width is above 0 mm")
    value = height.value / width.value
    u = math.hypot(height.u / width.value, value * width.u / width.value)
    return Measured(value=value, u=u, unit="")


def flat_leg(area: float) -> float:
    """Leg [mm] of a flat fillet of equal legs with this deposited area [mm²]: √(2 A)."""
    if area <= 0:
        raise StatisticsError("a deposited area is above 0 mm²")
    return math.sqrt(2 * area)


def fillet_convexity(area: float, leg: float) -> float:
    """Convexity [mm] of a fillet of equal legs [mm] under a parabolic cap.

    Parameters
    ----------
    area : deposited area [mm²]
    leg : [mm]

    Source: A = z²/2 + (2/3) √2 z c; research note 3b.
    """
    if leg <= 0:
        raise StatisticsError("a leg is above 0 mm")
    return (area - leg**2 / 2) / (2 / 3 * math.sqrt(2) * leg)


def bead_height(area: float, width: float) -> float:
    """Height [mm] of a parabolic bead on plate: 1.5 A / w; a circular cap is 5 to 8 % lower."""
    if width <= 0:
        raise StatisticsError("a width is above 0 mm")
    return 1.5 * area / width
