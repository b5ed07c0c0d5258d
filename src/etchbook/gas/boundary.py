"""Where a liquid can stand beside the gas."""

from functools import cache

import numpy as np
from scipy.interpolate import CubicSpline

from etchbook.gas.constants import Isotherm, Vector, constant, isotherms, lagrange
from etchbook.gas.records import KELVIN, Split, share
from etchbook.quantity import Absent, Measured, Quantity

LEANEST = 0.15
"""Below this share of CO2 the boundary lies beneath the triple point of CO2, where solid comes first."""


def boundary(co2: float) -> Quantity:
    """Warmest temperature at which a liquid can exist beside argon with CO2 at any pressure (cricondentherm) [°C].

    Parameters
    ----------
    co2 : share of CO2, 0 to 1

    Returns
    -------
    Quantity
        u covers the spread of four equations of state (±1 K, rectangular); Absent below 15 % CO2.

    Source: smallest CO2 share of the vapour on each isotherm of the packaged phase table (EOS-CG).
    """
    if share(co2) < LEANEST:
        return Absent(reason="below 15 % CO2 no liquid forms above −56 °C; colder than that CO2 freezes out instead")
    kelvin, leanest = _leanest()
    if co2 > leanest[-1]:
        return Absent(reason="this is nearly pure CO2, which stands as liquid under pressure up to about 31 °C")
    value = float(np.interp(co2, leanest, kelvin)) - KELVIN
    return Measured(value=value, u=constant("accuracy", "boundary_k") / 3**0.5, unit="°C")


def may_hold_liquid(co2: float, t_c: float) -> bool:
    """Whether some pressure exists at which a liquid stands beside this gas."""
    if co2 < LEANEST:
        return t_c < constant("co2", "triple_c") and co2 > 0
    limit = boundary(co2)
    return t_c <= (limit.value if isinstance(limit, Measured) else 31.0)


@cache
def _leanest() -> tuple[Vector, Vector]:
    """Temperatures [K] and the smallest share of CO2 that vapour beside a liquid holds there."""
    kelvin = np.array([isotherm.kelvin for isotherm in isotherms()])
    return kelvin, np.array([_bottom(isotherm) for isotherm in isotherms()])


def _bottom(isotherm: Isotherm) -> float:
    """Lowest point of the vapour's composition."""
    known = np.isfinite(isotherm.vapour)
    return float(_fine(isotherm.liquid[known], isotherm.vapour[known]).min())


def dew_pressure(co2: float, t_c: float) -> Quantity:
    """Lowest absolute pressure [bar] at which a liquid appears at a temperature [°C] (lower dew line).

    Source: packaged phase table (EOS-CG through CoolProp).
    """
    if not may_hold_liquid(co2, t_c) or co2 < LEANEST:
        return Absent(reason="no liquid can exist at this temperature at any pressure")
    sheet = at_temperature(t_c)
    known = np.isfinite(sheet.vapour)
    x = sheet.liquid[known]
    y, bar = _fine(x, sheet.vapour[known]), _fine(x, sheet.bar[known])
    lowest = int(np.argmin(y))
    if not y[lowest] <= co2 <= y[0]:
        return Absent(reason="too close to the boundary for the phase table")
    value = float(np.interp(co2, y[lowest::-1], bar[lowest::-1]))
    return Measured(value=value, u=0.01 * value, unit="bar")


def at_temperature(t_c: float) -> Isotherm:
    """The isotherm at a temperature [°C] between −56 and 24, interpolated at each composition of the liquid."""
    held = isotherms()
    kelvin = np.array([isotherm.kelvin for isotherm in held])
    wanted = float(np.clip(t_c + KELVIN, kelvin[0], kelvin[-1]))

    def between(part: str) -> Vector:
        columns = np.stack([getattr(isotherm, part) for isotherm in held])
        return np.array([float(lagrange(kelvin, column, wanted)) for column in columns.T])

    parts = ("vapour", "bar", "liquid_density", "vapour_density")
    return Isotherm(kelvin=wanted, liquid=held[0].liquid, **{part: between(part) for part in parts})


def split_of(sheet: Isotherm, co2: float, mol_per_l: float) -> Split | Absent | None:
    """How a closed content parts at the temperature of an isotherm.

    Parameters
    ----------
    sheet : the isotherm
    co2 : overall share of CO2
    mol_per_l : moles to a litre of cylinder

    Returns
    -------
    Split, None where it stays one phase, or Absent where the table ends.
    """
    known = np.isfinite(sheet.vapour)
    columns = (sheet.liquid, sheet.vapour, sheet.liquid_density, sheet.vapour_density, sheet.bar)
    x, y, liquid, vapour, bar = (_fine(sheet.liquid[known], column[known]) for column in columns)
    share_liquid = (co2 - y) / (x - y)
    density = 1 / (share_liquid / liquid + (1 - share_liquid) / vapour)
    inside = (share_liquid >= 0) & (share_liquid <= 1)
    if not inside.any():
        return None
    rows = np.flatnonzero(inside)
    if mol_per_l > density[rows[-1]] and rows[-1] == len(x) - 1:
        return Absent(reason="so close to the critical point that the phase table ends")
    if not density[rows[0]] <= mol_per_l <= density[rows[-1]]:
        return None
    row = rows[int(np.searchsorted(density[rows], mol_per_l))]
    return Split(
        bar=float(bar[row]),
        liquid_co2=float(x[row]),
        vapour_co2=float(y[row]),
        liquid_volume=float(share_liquid[row] * density[row] / liquid[row]),
    )


def _fine(liquid: Vector, values: Vector, steps: int = 4000) -> Vector:
    """Values along the isotherm at many compositions of the liquid, rich first, by a cubic spline."""
    at = np.linspace(liquid[0], liquid[-1], steps)
    return np.asarray(CubicSpline(-liquid, values)(-at))
