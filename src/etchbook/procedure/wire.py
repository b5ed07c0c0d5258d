"""Wire in, weld metal out: deposition, deposited area and the shape it would make."""

import math

from etchbook.procedure.formulas import Range, published
from etchbook.procedure.records import ProcedureError

GEOMETRY = "geometry"
STEEL_DENSITY = 7.85
"""[g/cm³]"""


@published("cross-section of the wire", "mm²", GEOMETRY, "reckoned")
def wire_area(wire: float) -> float:
    """Cross-section of a solid wire.

    Parameters
    ----------
    wire : diameter [mm]

    Returns
    -------
    [mm²]
    """
    return math.pi / 4 * wire**2


@published("wire in a kilogram", "m/kg", GEOMETRY, "reckoned")
def wire_per_mass(wire: float, density: float) -> float:
    """Length of wire that weighs a kilogram.

    Parameters
    ----------
    wire : [mm]
    density : [g/cm³]

    Returns
    -------
    [m/kg]
    """
    return 1000 / (wire_area(wire) * density)


@published("deposition efficiency", "", "a maker's handbook: deposit over electrode used", "seen")
def deposition_efficiency(deposit: float, used: float) -> float:
    """Share of the wire or electrode that became weld metal, from two weighings.

    Parameters
    ----------
    deposit, used : mass gained by the piece and mass of electrode used [one unit]

    Returns
    -------
    [no unit]
    """
    return deposit / used


@published(
    "deposition rate from a table", "kg/h", "a maker's handbook: feed over length per mass, times efficiency", "seen"
)
def deposition_from_length(feed: float, per_mass: float, efficiency: float) -> float:
    """Weld metal laid down in an hour of arc time, for a wire whose length per mass is tabled or weighed.

    Parameters
    ----------
    feed : wire feed [m/min]
    per_mass : length of wire in a kilogram [m/kg]
    efficiency : deposition efficiency

    Returns
    -------
    [kg/h]
    """
    return 60 * feed / per_mass * efficiency


@published("deposition rate", "kg/h", "a maker's handbook: feed over length per mass, times efficiency", "seen")
def deposition_rate(feed: float, wire: float, density: float, efficiency: float) -> float:
    """Weld metal laid down in an hour of arc time.

    Parameters
    ----------
    feed : wire feed [m/min]
    wire : [mm]
    density : [g/cm³]
    efficiency : deposition efficiency, share of the wire that becomes weld metal

    Returns
    -------
    [kg/h]
    """
    return deposition_from_length(feed, wire_per_mass(wire, density), efficiency)


@published("deposited area", "mm²", "geometry: wire section × feed × efficiency / travel", "reckoned")
def deposited_area(feed: float, wire: float, travel: float, efficiency: float) -> float:
    """Area of weld metal that the wire brings to a section.

    Parameters
    ----------
    feed : wire feed [m/min]
    wire : [mm]
    travel : travel speed [mm/s]
    efficiency : deposition efficiency

    Returns
    -------
    [mm²]
    """
    return wire_area(wire) * feed * 1000 / 60 * efficiency / travel


@published("leg of a flat fillet", "mm", "geometry: z = √(2A) at 90°", "reckoned")
def fillet_leg(area: float) -> float:
    """Leg of a flat, equal-legged fillet at 90° with this deposited area.

    Parameters
    ----------
    area : deposited area [mm²]

    Returns
    -------
    [mm]
    """
    return math.sqrt(2 * area)


@published("throat of a flat fillet", "mm", "geometry: a = √A at 90°", "reckoned")
def fillet_throat(area: float) -> float:
    """Nominal throat of a flat, equal-legged fillet at 90° with this deposited area.

    Parameters
    ----------
    area : deposited area [mm²]

    Returns
    -------
    [mm]
    """
    return math.sqrt(area)


@published("convexity at this area and leg", "mm", "geometry: parabola over the chord of a 90° fillet", "reckoned")
def fillet_convexity(area: float, leg: float) -> float:
    """Convexity of an equal-legged fillet at 90° from its deposited area and leg; negative is concave.

    Parameters
    ----------
    area : deposited area A [mm²]
    leg : z [mm]

    Returns
    -------
    [mm]
        c = (A − z²/2) / (⅔ √2 z).
    """
    if leg <= 0:
        raise ProcedureError("a fillet has a leg above zero")
    return (area - leg**2 / 2) / (2 / 3 * math.sqrt(2) * leg)


@published("mass of a fillet", "g/mm", "geometry: area × density", "reckoned")
def weld_mass(area: float, density: float) -> float:
    """Mass of a millimetre of weld metal.

    Parameters
    ----------
    area : [mm²]
    density : [g/cm³]

    Returns
    -------
    [g/mm]
    """
    return area * density / 1000


@published(
    "height of a bead on plate", "mm", "parabola over the width; a circular segment is 5 to 8 % lower", "reckoned"
)
def bead_height(area: float, weld_width: float) -> float:
    """Height of a bead on plate from its deposited area and width.

    Parameters
    ----------
    area : deposited area [mm²]
    weld_width : [mm]

    Returns
    -------
    [mm]
    """
    return 1.5 * area / weld_width


@published("overwelding", "", "geometry: (leg measured / leg asked)²", "reckoned")
def overweld(leg: float, leg_asked: float) -> float:
    """How many times the weld metal that was asked for is in the weld.

    Parameters
    ----------
    leg, leg_asked : [mm]

    Returns
    -------
    [no unit]
    """
    return (leg / leg_asked) ** 2


@published("dilution", "", "melted plate over all weld metal, glossary definition B/(A+B)", "seen")
def dilution(area: float, fused: float) -> float:
    """Share of the weld metal that came from the plate.

    Parameters
    ----------
    area : deposited area A [mm²]
    fused : melted plate B [mm²]

    Returns
    -------
    [no unit]
    """
    return fused / (area + fused)


@published(
    "element in the weld metal",
    "%",
    "mixing rule: D base + (1 − D) filler",
    "seen",
    valid=(Range(name="dilution", least=0, most=1, unit=""),),
)
def weld_content(dilution: float, base: float, filler: float) -> float:
    """Content of an element in the weld metal.

    Parameters
    ----------
    dilution : D
    base, filler : content of plate and of wire [% by mass]

    Returns
    -------
    [% by mass]
        Burn-off in the arc is not counted.
    """
    return dilution * base + (1 - dilution) * filler
