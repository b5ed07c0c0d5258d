"""How much real gas a pressure stands for."""

from typing import Literal

from scipy.optimize import brentq

from etchbook.gas import live
from etchbook.gas.boundary import may_hold_liquid
from etchbook.gas.constants import constant, grid, lagrange, molar_mass
from etchbook.gas.records import KELVIN, R, share
from etchbook.quantity import Absent, Measured, Quantity

Method = Literal["best", "table", "library"]


def compressibility(co2: float, t_c: float, bar: float, *, method: Method = "best") -> Quantity:
    """Compressibility Z = p / (ρ R T) of argon with CO2 in one phase.

    Parameters
    ----------
    co2 : share of CO2, 0 to 1
    t_c : temperature [°C]
    bar : absolute pressure [bar]
    method : the library where installed ("best"), the packaged table, or the library

    Returns
    -------
    Quantity
        u covers the accuracy of the model (0.3 %); Absent where liquid may stand beside the gas or outside the table.

    Source: EOS-CG mixture model through CoolProp; accuracy from its authors' abstracts (seen).
    """
    share(co2)
    if may_hold_liquid(co2, t_c):
        return Absent(reason=f"at {t_c:g} °C a liquid may stand beside the gas, so pressure alone does not tell")
    use_library = method == "library" or (method == "best" and live.available() and co2 <= 0.95)
    z = live.live_z(co2, t_c, bar) if use_library else _table_z(co2, t_c, bar)
    if z is None:
        return Absent(reason="the density table covers 0 to 50 % CO2, −40 to 70 °C and 1 to 320 bar")
    return Measured(value=z, u=z * constant("accuracy", "density_share"), unit="")


def _table_z(co2: float, t_c: float, bar: float) -> float | None:
    held = grid("density", "z")
    inside = (held.co2[0] <= co2 <= held.co2[-1], held.t_c[0] <= t_c <= held.t_c[-1], bar <= held.bar[-1])
    if not all(inside) or bar <= 0:
        return None
    if bar < held.bar[0]:  # Z - 1 goes with the pressure down here
        return 1 + _slope(co2, t_c) * bar
    value = float(lagrange(held.bar, lagrange(held.t_c, lagrange(held.co2, held.values, co2), t_c), bar))
    return value if value == value else None


def _slope(co2: float, t_c: float) -> float:
    held = grid("density", "z")
    first = float(lagrange(held.t_c, lagrange(held.co2, held.values, co2), t_c)[0])
    return (first - 1) / float(held.bar[0])


def molar_density(co2: float, t_c: float, bar: float, *, method: Method = "best") -> Quantity:
    """Molar density [mol/L]."""
    z = compressibility(co2, t_c, bar, method=method)
    if isinstance(z, Absent):
        return z
    value = bar * 100 / (z.value * R * (t_c + KELVIN))
    return Measured(value=value, u=value * z.u / z.value, unit="mol/L")


def mass_density(co2: float, t_c: float, bar: float, *, method: Method = "best") -> Quantity:
    """Density [kg/m³]."""
    moles = molar_density(co2, t_c, bar, method=method)
    if isinstance(moles, Absent):
        return moles
    return Measured(value=moles.value * molar_mass(co2), u=moles.u * molar_mass(co2), unit="kg/m³")


def pressure_at(co2: float, mol_per_l: float, t_c: float, *, method: Method = "best") -> Quantity:
    """Absolute pressure [bar] of a closed cylinder of known molar density [mol/L] at a temperature [°C]."""

    def too_much(bar: float) -> float:
        found = molar_density(co2, t_c, bar, method=method)
        if isinstance(found, Absent):
            raise LookupError(found.reason)
        return found.value - mol_per_l

    try:
        bar = float(brentq(too_much, 1e-3, 320.0, xtol=1e-4))
    except (LookupError, ValueError) as error:
        outside = "the pressure would lie outside 0 to 320 bar"
        return Absent(reason=str(error) if isinstance(error, LookupError) else outside)
    return Measured(value=bar, u=bar * constant("accuracy", "density_share"), unit="bar")
