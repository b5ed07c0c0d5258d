"""How cold a regulator gets, and when that makes the flow hunt."""

import math

from scipy.optimize import brentq

from etchbook.gas.constants import constant, grid, lagrange, molar_mass
from etchbook.gas.contents import molar_volume
from etchbook.gas.records import KELVIN, R
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.tables.packaged import packaged

OUT_BAR = 4.0
"""The pressure behind the regulator that the throttling table was made for [bar, absolute]."""


def throttled(co2: float, t_c: float, bar: float) -> Quantity:
    """Temperature of the gas behind a regulator that takes up no heat [°C].

    Parameters
    ----------
    co2 : share of CO2, up to 30 %
    t_c : cylinder temperature [°C], −20 to 40
    bar : cylinder pressure [bar, absolute], 20 to 230

    Source: constant enthalpy to 4 bar, EOS-CG (packaged table); below the frost point one phase carried on.
    """
    held = grid("throttle", "after_c")
    axes = ((held.co2, co2), (held.t_c, t_c), (held.bar, bar))
    if not all(axis[0] <= at <= axis[-1] for axis, at in axes):
        return Absent(reason="the throttling table covers 0 to 30 % CO2, −20 to 40 °C and 20 to 230 bar")
    value = float(lagrange(held.bar, lagrange(held.t_c, lagrange(held.co2, held.values, co2), t_c), bar))
    if math.isnan(value):
        return Absent(reason="colder than −130 °C if no heat came in, far below the frost point")
    return Measured(value=value, u=2.0, unit="°C")


def frost_point(co2: float, bar: float = OUT_BAR) -> Quantity:
    """Temperature at which solid CO2 comes out of the mixture [°C].

    Source: sublimation line of Span and Wagner 1996 (from memory), ideal gas above it.
    """
    partial = co2 * bar
    if partial <= 0.001:
        return Absent(reason="there is no CO2 that could freeze out")
    if partial >= packaged("gases")["co2"]["sublimation"]["triple_bar"]:
        return Absent(reason="at this pressure CO2 comes out as liquid, not as frost")
    kelvin = float(brentq(lambda t: sublimation(t) - partial, 100.0, 216.58))
    return Measured(value=kelvin - KELVIN, u=1.0, unit="°C")


def sublimation(kelvin: float) -> float:
    """Vapour pressure of solid CO2 [bar] at a temperature [K]."""
    row = packaged("gases")["co2"]["sublimation"]
    triple_k = constant("co2", "triple_c") + KELVIN
    away = max(1 - kelvin / triple_k, 0.0)
    a1, a2, a3 = row["value"]
    return float(row["triple_bar"] * math.exp(triple_k / kelvin * (a1 * away + a2 * away**1.9 + a3 * away**2.9)))


def heat_drawn(co2: float, l_per_min: float) -> float:
    """Heat the regulator must give the gas for each kelvin of cooling [W/K], the flow at 15 °C and 1 atm.

    Source: ideal-gas heat capacities at 20 °C, 5/2 R for argon and 37.1 J/(mol K) for CO2 (from memory).
    """
    per_mole = (1 - co2) * 2.5 * R + co2 * 37.1
    return l_per_min / 60 / molar_volume() * per_mole


def mass_flow(co2: float, l_per_min: float) -> float:
    """Mass flow [g/s] of a flow [L/min at 15 °C and 1 atm]."""
    return l_per_min / 60 / molar_volume() * molar_mass(co2)
