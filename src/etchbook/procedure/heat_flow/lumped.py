"""A coupon as one warm lump: what a bead adds, and how it cools before the next."""

import math

from etchbook.procedure.formulas import published
from etchbook.procedure.records import ProcedureError

BALANCE = "heat balance of the whole coupon"


@published("warming by one bead", "K", BALANCE, "reckoned")
def bead_warming(
    heat_input: float, bead_length: float, capacity: float, plate_length: float, plate_width: float, thickness: float
) -> float:
    """How much one bead warms a coupon on average, before any heat is lost.

    Parameters
    ----------
    heat_input : [kJ/mm]
    bead_length : [mm]
    capacity : ρc [J/(cm³·K)]
    plate_length, plate_width, thickness : of the coupon [mm]

    Returns
    -------
    [K]
    """
    return heat_input * 1000 * bead_length / (capacity / 1000 * plate_length * plate_width * thickness)


@published("time constant of cooling", "s", f"{BALANCE}, Newton's law", "reckoned")
def cooling_constant(capacity: float, plate_length: float, plate_width: float, thickness: float, loss: float) -> float:
    """Time in which a coupon's surplus temperature falls to 37 %.

    Parameters
    ----------
    capacity : ρc [J/(cm³·K)]
    plate_length, plate_width, thickness : [mm]
    loss : heat loss of all surfaces [W/(m²·K)]; on edge in air about 25, on a cold bench about 100 (judged)

    Returns
    -------
    [s]
    """
    if loss <= 0:
        raise ProcedureError("a coupon that loses no heat never cools: give a surface heat loss above zero")
    sides = plate_length * plate_width + plate_length * thickness + plate_width * thickness
    return capacity / 1000 * plate_length * plate_width * thickness / (loss / 1e6 * 2 * sides)


@published("temperature after a pause", "°C", "Newton's law of cooling", "reckoned")
def cooled(temperature: float, ambient: float, pause: float, time_constant: float) -> float:
    """Mean temperature of a coupon after a pause.

    Parameters
    ----------
    temperature : at the start of the pause [°C]
    ambient : [°C]
    pause : [s]
    time_constant : [s]

    Returns
    -------
    [°C]
    """
    return ambient + (temperature - ambient) * math.exp(-pause / time_constant)


def bead_series(
    beads: int, warming: float, first: float, ambient: float, cycle: float, time_constant: float
) -> tuple[float, ...]:
    """Start temperature of each bead of a series on one coupon.

    Parameters
    ----------
    beads : how many
    warming : by each bead [K]
    first, ambient : temperature of the coupon before the first bead, and of the room [°C]
    cycle : time from the start of one bead to the start of the next [s]
    time_constant : of cooling [s]

    Returns
    -------
    tuple of [°C], one a bead

    Source: `bead_warming` and `cooled` in turn.
    """
    starts = [first]
    for _ in range(beads - 1):
        starts.append(cooled(starts[-1] + warming, ambient, cycle, time_constant))
    return tuple(starts)


def fitted_constant(temperature_1: float, temperature_2: float, ambient: float, seconds: float) -> float:
    """Time constant of cooling from two thermometer readings [s].

    Parameters
    ----------
    temperature_1, temperature_2 : first and later reading [°C]
    ambient : [°C]
    seconds : between the two

    Source: Newton's law of cooling, solved for the time constant.
    """
    if not temperature_1 > temperature_2 > ambient:
        raise ProcedureError("give two falling readings that both lie above the temperature of the room")
    return seconds / math.log((temperature_1 - ambient) / (temperature_2 - ambient))
