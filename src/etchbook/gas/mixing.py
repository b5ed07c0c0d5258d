"""How long a layered cylinder takes to mix by itself, and what rolling does."""

import math

import numpy as np

from etchbook.gas.constants import molar_mass
from etchbook.gas.density import mass_density
from etchbook.gas.records import ATMOSPHERE_BAR, KELVIN, GasError
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.tables.packaged import packaged

DAY = 86400.0


def diffusion(t_c: float, bar: float) -> Measured:
    """Diffusion coefficient of argon in CO2 [cm²/s].

    Parameters
    ----------
    t_c : temperature [°C], 0 to 100 tabled, beyond by the same power
    bar : absolute pressure [bar]; D falls as 1/p, and dense gas is slower still by 10 to 30 %

    Source: handbook table after Marrero and Mason (seen); u is 3 % and at pressure half of the 30 % (judged).
    """
    held = packaged("gases")["diffusion"]
    logs = np.log(held["kelvin"]), np.log(held["cm2_per_s"])
    slope = (logs[1][1] - logs[1][0]) / (logs[0][1] - logs[0][0])
    kelvin = math.log(t_c + KELVIN)
    at = float(np.interp(kelvin, *logs)) if kelvin >= logs[0][0] else float(logs[1][0] + slope * (kelvin - logs[0][0]))
    value = math.exp(at) * ATMOSPHERE_BAR / bar
    return Measured(value=value, u=value * (0.03 + 0.15 * min(1.0, bar / 200)), unit="cm²/s")


def fuller(t_c: float, bar: float) -> float:
    """Diffusion coefficient of argon in CO2 [cm²/s] from diffusion volumes.

    Source: Fuller, Schettler and Giddings 1966: 0.00143 T^1.75 / (p M^½ (Σv₁^⅓ + Σv₂^⅓)²), p in bar (from memory).
    """
    volumes = packaged("gases")["diffusion"]["fuller"]["volumes"]
    mass = 2 / (1 / molar_mass(0.0) + 1 / molar_mass(1.0))
    size = volumes["argon"] ** (1 / 3) + volumes["co2"] ** (1 / 3)
    return float(0.00143 * (t_c + KELVIN) ** 1.75 / (bar * mass**0.5 * size**2))


def mixing_time(height_m: float, t_c: float, bar: float) -> Measured:
    """Time constant [d] with which layers one above the other vanish by diffusion alone, τ = h² / (π² D).

    Parameters
    ----------
    height_m : height of the gas [m]: about 1.3 upright, the inner diameter (about 0.22) lying
    t_c : temperature [°C]
    bar : absolute pressure [bar]

    Source: first term of the Fourier series of diffusion in a closed column.
    """
    d = diffusion(t_c, bar)
    value = (height_m * 100) ** 2 / (math.pi**2 * d.value) / DAY
    return Measured(value=value, u=value * d.u / d.value, unit="d")


def layered_top(co2: float, days: float, time_constant_d: float) -> float:
    """Share of CO2 at the valve of an upright cylinder filled in two layers, pure CO2 below and argon above.

    Parameters
    ----------
    co2 : overall share, which is also the height of the lower layer
    days : since filling
    time_constant_d : from `mixing_time` [d]

    Source: Fourier series of diffusion in a closed column.
    """
    if days <= 0:
        return 0.0
    terms = np.arange(1, 400)
    waves = 2 / (terms * math.pi) * np.sin(terms * math.pi * co2) * (-1.0) ** terms
    return float(np.clip(co2 + (waves * np.exp(-(terms**2) * days / time_constant_d)).sum(), 0, 1))


def warmer_bottom(co2: float, t_c: float, bar: float) -> Quantity:
    """How many kelvin warmer the bottom must be before it rises through a layer that holds 1 % more CO2 [K].

    Source: density differences out of the packaged density table.
    """
    step, warm = 0.01, 5.0
    here = mass_density(co2, t_c, bar, method="table")
    richer = mass_density(co2 + step, t_c, bar, method="table")
    hotter = mass_density(co2, t_c + warm, bar, method="table")
    if isinstance(here, Absent) or isinstance(richer, Absent) or isinstance(hotter, Absent):
        return Absent(reason="outside the density table")
    value = (richer.value - here.value) / ((here.value - hotter.value) / warm)
    return Measured(value=value, u=0.1 * value, unit="K")


def days_until(co2: float, within: float, time_constant_d: float) -> float:
    """Days until the gas at the valve is within a share of CO2 of the overall share (two layers at filling)."""
    if not 0 < within < co2:
        raise GasError("the difference to wait for lies between 0 and the overall share of CO2")
    days = 0.0
    while abs(layered_top(co2, days, time_constant_d) - co2) > within:
        days += time_constant_d / 100
    return days
