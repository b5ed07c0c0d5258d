"""A moving point or line of heat in a plate without edges (Rosenthal), and what follows from it in closed form."""

import math

from scipy.special import k0e

from etchbook.procedure.formulas import Range, published
from etchbook.procedure.records import ProcedureError

ROSENTHAL = "Rosenthal 1946, quasi-steady moving source"
HANDBOOK = "Adams, in the AWS welding handbook, vol. 1"
CHILLED = Range(name="relative_thickness", least=0, most=99, unit="")


def diffusivity(conductivity: float, capacity: float) -> float:
    """Thermal diffusivity k/ρc [mm²/s] from conductivity [W/(m·K)] and ρc [J/(cm³·K)]."""
    return conductivity / capacity


@published("temperature, thick plate", "°C", f"{ROSENTHAL}, point source on a half-space", "from memory")
def thick_temperature(
    power: float,
    travel: float,
    conductivity: float,
    capacity: float,
    start: float,
    ahead: float,
    across: float,
    depth: float,
) -> float:
    """Temperature near a point source that moves on a thick plate.

    Parameters
    ----------
    power : heat into the plate [W]
    travel : [mm/s]
    conductivity : [W/(m·K)]
    capacity : ρc [J/(cm³·K)]
    start : plate temperature before [°C]
    ahead : distance in front of the source, negative behind it [mm]
    across, depth : to the side and down [mm]

    Returns
    -------
    [°C]
        Conduction only, constant properties, no melting heat, no edges.
    """
    away = math.sqrt(ahead**2 + across**2 + depth**2)
    if away <= 0:
        raise ProcedureError("a point source is infinitely hot at its own place: ask a little way from it")
    a = diffusivity(conductivity, capacity)
    return start + power / (2 * math.pi * conductivity / 1000 * away) * math.exp(-travel * (ahead + away) / (2 * a))


@published("temperature, thin plate", "°C", f"{ROSENTHAL}, line source through a plate", "from memory")
def thin_temperature(
    power: float,
    travel: float,
    conductivity: float,
    capacity: float,
    thickness: float,
    start: float,
    ahead: float,
    across: float,
) -> float:
    """Temperature near a line source that moves through a thin plate.

    Parameters
    ----------
    power : [W]
    travel : [mm/s]
    conductivity : [W/(m·K)]
    capacity : ρc [J/(cm³·K)]
    thickness : [mm]
    start : [°C]
    ahead : distance in front of the source, negative behind it [mm]
    across : to the side [mm]

    Returns
    -------
    [°C]
    """
    away = math.hypot(ahead, across)
    if away <= 0:
        raise ProcedureError("a line source is infinitely hot at its own place: ask a little way from it")
    half = travel / (2 * diffusivity(conductivity, capacity))
    # k0e carries exp(+x) in it, which keeps far points from running out of the range of numbers.
    steady = math.exp(-half * (ahead + away)) * float(k0e(half * away))
    return start + power / (2 * math.pi * conductivity / 1000 * thickness) * steady


@published("cooling rate, thick plate", "K/s", HANDBOOK, "from memory")
def thick_cooling_rate(heat_input: float, conductivity: float, start: float, at: float) -> float:
    """Cooling rate on the weld's centreline in a thick plate.

    Parameters
    ----------
    heat_input : [kJ/mm]
    conductivity : [W/(m·K)]
    start : [°C]
    at : temperature at which the rate is asked [°C]

    Returns
    -------
    [K/s]
    """
    return 2 * math.pi * conductivity / 1000 * (at - start) ** 2 / (heat_input * 1000)


@published("cooling rate, thin plate", "K/s", HANDBOOK, "from memory")
def thin_cooling_rate(
    heat_input: float, thickness: float, conductivity: float, capacity: float, start: float, at: float
) -> float:
    """Cooling rate on the weld's centreline in a thin plate.

    Parameters
    ----------
    heat_input : [kJ/mm]
    thickness : [mm]
    conductivity : [W/(m·K)]
    capacity : ρc [J/(cm³·K)]
    start : [°C]
    at : temperature at which the rate is asked [°C]

    Returns
    -------
    [K/s]
    """
    squared = (thickness / (heat_input * 1000)) ** 2
    return 2 * math.pi * conductivity / 1000 * capacity / 1000 * squared * (at - start) ** 3


@published("relative plate thickness", "", f"{HANDBOOK}: thick above 0.9, thin below 0.6", "from memory")
def relative_thickness(heat_input: float, thickness: float, capacity: float, start: float, at: float) -> float:
    """Relative plate thickness τ, which says whether the thick-plate or the thin-plate formula holds.

    Parameters
    ----------
    heat_input : [kJ/mm]
    thickness : [mm]
    capacity : ρc [J/(cm³·K)]
    start, at : [°C]

    Returns
    -------
    [no unit]
    """
    return thickness * math.sqrt(capacity / 1000 * (at - start) / (heat_input * 1000))


@published("peak temperature, thin plate", "°C", HANDBOOK, "from memory")
def thin_peak(
    heat_input: float, thickness: float, capacity: float, start: float, melting: float, beside: float
) -> float:
    """Highest temperature at a distance from the fusion line of a full-penetration weld in a thin plate.

    Parameters
    ----------
    heat_input : [kJ/mm]
    thickness : [mm]
    capacity : ρc [J/(cm³·K)]
    start, melting : [°C]
    beside : distance from the fusion line [mm]

    Returns
    -------
    [°C]
    """
    width = math.sqrt(2 * math.pi * math.e) * capacity / 1000 * thickness * beside / (heat_input * 1000)
    return start + 1 / (width + 1 / (melting - start))


@published("HAZ width, thin plate", "mm", f"{HANDBOOK}, solved for the distance", "from memory")
def thin_haz_width(
    heat_input: float, thickness: float, capacity: float, start: float, melting: float, edge: float
) -> float:
    """Distance from the fusion line to where the plate only just reached a temperature, thin plate.

    Parameters
    ----------
    heat_input : [kJ/mm]
    thickness : [mm]
    capacity : ρc [J/(cm³·K)]
    start, melting, edge : [°C]; the edge of the visible HAZ in steel is near 730 °C

    Returns
    -------
    [mm]
    """
    reach = math.sqrt(2 * math.pi * math.e) * capacity / 1000 * thickness / (heat_input * 1000)
    return (1 / (edge - start) - 1 / (melting - start)) / reach


@published("peak temperature, thick plate", "°C", "Rosenthal, fast source: Tp − T0 = 2H/(π e ρc r²)", "from memory")
def thick_peak(heat_input: float, capacity: float, start: float, away: float) -> float:
    """Highest temperature at a distance from the weld's centreline in a thick plate, for a fast source.

    Parameters
    ----------
    heat_input : [kJ/mm]
    capacity : ρc [J/(cm³·K)]
    start : [°C]
    away : distance r from the centreline [mm]

    Returns
    -------
    [°C]
    """
    return start + 2 * heat_input * 1000 / (math.pi * math.e * capacity / 1000 * away**2)
