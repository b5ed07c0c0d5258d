"""Can this mixture come apart: by gravity, by condensing, and what is drawn from a cylinder that has."""

from functools import cache

import numpy as np

from etchbook.gas.boundary import LEANEST, at_temperature, boundary, split_of
from etchbook.gas.constants import Vector, grid, lagrange, molar_mass
from etchbook.gas.density import molar_density
from etchbook.gas.records import KELVIN, Drawn, Filling, GasError, Parting, R, Split, within
from etchbook.quantity import Absent, Measured, Quantity

G = 9.80665
COLDEST = -56.0


def gravity_difference(co2: float, *, height_m: float, t_c: float, bar: float | None = None) -> Quantity:
    """Share of CO2 at the bottom less that at the top of a column at rest for ever.

    Parameters
    ----------
    co2 : share of CO2
    height_m : height [m]
    t_c : temperature [°C]
    bar : absolute pressure [bar]; None for the ideal gas

    Returns
    -------
    Quantity
        Mole fraction, always positive: CO2 is the heavier.

    Source: dμ = −M g dh for each component; the real gas through ln φ out of the packaged density table.
    """
    heavier = molar_mass(1.0) - molar_mass(0.0)
    if bar is None:
        ideal = co2 * (1 - co2) * heavier / 1000 * G * height_m / (R * (t_c + KELVIN))
        return Measured(value=ideal, u=0.0, unit="")
    found = _real_gas(co2, t_c, bar)
    if found is None:
        return Absent(reason="only for 5 to 45 % CO2 inside the density table, away from where a liquid may stand")
    mol_per_m3, partial_litres, stiffness = found
    drive = (molar_mass(1.0) - mol_per_m3 * molar_mass(co2) * partial_litres) / 1000
    value = co2 * drive * G * height_m / (R * (t_c + KELVIN) * stiffness)
    return Measured(value=value, u=0.02 * abs(value), unit="")


def _real_gas(co2: float, t_c: float, bar: float) -> tuple[float, float, float] | None:
    """Molar density [mol/m³], partial molar volume of CO2 [m³/mol], and 1 + x (1 − x) g'' of the residual energy."""
    held = grid("density", "z")
    if not (0.05 <= co2 <= 0.45 and held.t_c[0] <= t_c <= held.t_c[-1]):
        return None
    columns = lagrange(held.t_c, np.moveaxis(held.values, 1, 0), t_c)  # (co2, bar)
    near = [co2 - 0.05, co2, co2 + 0.05]
    runs = [lagrange(held.co2, columns, share) for share in near]
    z = [float(lagrange(held.bar, run, bar)) for run in runs]
    residual = [_residual(held.bar, run, bar) for run in runs]
    if not np.isfinite([*z, *residual]).all():
        return None
    per_mole = R * (t_c + KELVIN) / (bar * 1e5)
    partial = per_mole * (z[1] + (1 - co2) * (z[2] - z[0]) / 0.1)
    bend = (residual[0] - 2 * residual[1] + residual[2]) / 0.05**2
    return 1 / (per_mole * z[1]), partial, 1 + co2 * (1 - co2) * bend


def _residual(bar: Vector, z: Vector, to: float) -> float:
    """∫ (Z − 1) dp / p from nothing to a pressure: the residual Gibbs energy over R T."""
    from scipy.interpolate import CubicSpline

    start = float(z[0] - 1)  # (Z − 1) / p is constant from nothing to the first pressure
    return start + float(CubicSpline(bar, (z - 1) / bar).integrate(bar[0], to))


def first_split(filling: Filling) -> Quantity:
    """Temperature [°C] at which a closed cylinder, cooling at constant content, parts first.

    Source: packaged phase table; the content by the packaged density at the filling state.
    """
    content = molar_density(filling.co2, filling.t_c, filling.bar)
    limit = boundary(filling.co2)
    if isinstance(content, Absent) or isinstance(limit, Absent):
        return content if isinstance(content, Absent) else limit
    for t_c in np.arange(np.floor(limit.value * 2) / 2, COLDEST - 0.1, -0.5):
        if split_at(filling.co2, content.value, float(t_c)) is not None:
            return Measured(value=float(t_c) + 0.25, u=limit.u, unit="°C")
    return Absent(reason="it stays one phase down to −56 °C, where CO2 starts to freeze")


def split_at(co2: float, mol_per_l: float, t_c: float) -> Split | Absent | None:
    """How a closed content parts at a temperature [°C]; see `split_of`."""
    return split_of(_sheet(round(t_c, 3)), co2, mol_per_l)


_sheet = cache(at_temperature)


def parting(filling: Filling, coldest_c: float) -> Parting:
    """Whether a filled cylinder can come apart at the coldest temperature it has seen.

    Parameters
    ----------
    filling : share of CO2, absolute filling pressure and temperature
    coldest_c : coldest temperature of the cylinder [°C]
    """
    within("the coldest temperature", coldest_c, -90.0, 70.0, "°C")
    limit, first = boundary(filling.co2), Absent(reason="no liquid can exist beside this gas")
    if filling.co2 == 0:
        return Parting(answer="single phase", why="It holds nothing to part.", boundary=limit, first_split=first)
    if isinstance(limit, Absent):
        answer = "single phase" if filling.co2 < LEANEST and coldest_c > COLDEST else "not covered"
        why = limit.reason[0].upper() + limit.reason[1:] + "."
        return Parting(answer=answer, why=why, boundary=limit, first_split=first)
    found = first_split(filling)
    if coldest_c < COLDEST:
        why = "Colder than −56 °C CO2 freezes out, which the table does not cover."
        return Parting(answer="not covered", why=why, boundary=limit, first_split=found)
    answer, why = _told(coldest_c, limit, found)
    return Parting(answer=answer, why=why, boundary=limit, first_split=found)


def _told(coldest_c: float, limit: Measured, first: Quantity) -> tuple[str, str]:
    # Two of the spread of the models is kept as a margin on both sides.
    if coldest_c > limit.value + 2 * limit.u:
        above = coldest_c - limit.value
        return "single phase", f"{above:.0f} K above the warmest temperature at which any liquid can exist."
    if isinstance(first, Measured) and coldest_c <= first.value + 2 * first.u:
        return "can split", "Cold enough for a liquid in a cylinder as full as this; how long it stayed there decides."
    if coldest_c > limit.value - 2 * limit.u:
        return "can split", "Too close to the boundary to be called one phase: the models differ by as much."
    return "single phase", "Below the boundary, but this cylinder is so full or so empty that it parts only colder."


def draw_off(filling: Filling, held_c: float, *, steps: int = 400) -> tuple[Drawn, ...]:
    """What comes out of a cylinder held cold while vapour is drawn from its top, slowly enough to stay in balance.

    Parameters
    ----------
    filling : how it was filled
    held_c : temperature it is held at [°C]
    steps : equal parts in which the content is withdrawn

    Returns
    -------
    tuple of Drawn
        From the first gas to 95 % withdrawn.

    Source: mass balance with the packaged phase table (lever rule); isothermal, as research note 1c.
    """
    content = molar_density(filling.co2, filling.t_c, filling.bar)
    if isinstance(content, Absent):
        raise GasError(content.reason)
    moles, co2 = content.value, content.value * filling.co2
    part, told = moles / steps, []
    for step in range(int(0.95 * steps) + 1):
        out, bar = _outgoing(co2 / moles, moles, held_c)
        told.append(Drawn(withdrawn=step / steps, co2=out, bar=bar))
        moles, co2 = moles - part, co2 - part * out
    return tuple(told)


def _outgoing(co2: float, moles: float, t_c: float) -> tuple[float, float]:
    split = split_at(co2, moles, t_c) if co2 >= LEANEST else None
    if isinstance(split, Absent):
        raise GasError(f"what is drawn off cannot be told: {split.reason}")
    return (split.vapour_co2, split.bar) if split else (co2, float("nan"))
