"""Argon with oxygen or with helium: gases that no shop is cold enough to part."""

import math
from dataclasses import dataclass
from typing import Literal

from scipy.optimize import brentq

from etchbook.gas import live
from etchbook.gas.constants import constant, grid, lagrange
from etchbook.gas.contents import molar_volume
from etchbook.gas.records import ATMOSPHERE_BAR, KELVIN, GasError, R, within
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.tables.packaged import packaged

Second = Literal["o2", "he"]
LIBRARY = {"o2": "Oxygen", "he": "Helium"}
MOST = {"o2": 0.15, "he": 1.0}
"""Largest share that the packaged tables hold."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Mixture:
    """Argon with a share (0 to 1) of a second gas: "o2" up to 15 %, or "he"."""

    second: Second
    share: float

    def __post_init__(self) -> None:
        if not 0 <= self.share <= MOST[self.second]:
            raise GasError(
                f"the share of {self.name} lies between 0 and {100 * MOST[self.second]:g} % here, "
                f"not at {100 * self.share:g} %"
            )

    @property
    def name(self) -> str:
        """What the second gas is called."""
        return str(packaged("gases")[self.second]["name"])

    @property
    def molar_mass(self) -> float:
        """[g/mol]."""
        return self._mean("g_per_mol", "argon")

    def _mean(self, key: str, argon: str = "argon_alone") -> float:
        return (1 - self.share) * constant(argon, key) + self.share * constant(self.second, key)


def no_liquid_above(mixture: Mixture) -> Measured:
    """Temperature above which no liquid exists up to the pressures of cylinders [°C].

    Source: the higher critical temperature of the two gases; helium with argon parts above it at pressures of a
    thousand bar only (from memory).
    """
    warmest = constant("argon_alone", "critical_c")
    if mixture.share > 0:
        warmest = max(warmest, constant(mixture.second, "critical_c"))
    return Measured(value=warmest, u=1.0, unit="°C")


def gravity_difference(mixture: Mixture, *, height_m: float, t_c: float) -> float:
    """Share of the heavier gas at the bottom less that at the top of a column at rest for ever, ideal gas.

    Source: x (1 − x) ΔM g h / (R T).
    """
    apart = abs(constant("argon", "g_per_mol") - constant(mixture.second, "g_per_mol")) / 1000
    return mixture.share * (1 - mixture.share) * apart * 9.80665 * height_m / (R * (t_c + KELVIN))


def compressibility(
    mixture: Mixture, t_c: float, bar: float, *, method: Literal["best", "table", "library"] = "best"
) -> Quantity:
    """Compressibility Z.

    Parameters
    ----------
    t_c : temperature [°C], −40 to 70
    bar : absolute pressure [bar], up to 320
    method : the library where it is installed ("best"), the packaged table, or the library

    Source: GERG-2008 mixture model through CoolProp.
    """
    held = grid(f"density-{mixture.second}", "z")
    if not (held.t_c[0] <= t_c <= held.t_c[-1] and 0 < bar <= held.bar[-1]):
        return Absent(reason="the density table covers −40 to 70 °C and up to 320 bar")
    if method == "library" or (method == "best" and live.available()):
        z = live.live_z(mixture.share, t_c, bar, LIBRARY[mixture.second])
    else:
        over = lagrange(held.t_c, lagrange(held.co2, held.values, mixture.share), t_c)
        thin = bar < held.bar[0]  # Z - 1 goes with the pressure down here
        z = 1 + (float(over[0]) - 1) * bar / float(held.bar[0]) if thin else float(lagrange(held.bar, over, bar))
    return Measured(value=z, u=z * constant("accuracy", "density_share"), unit="")


def molar_density(mixture: Mixture, t_c: float, bar: float) -> Quantity:
    """Molar density [mol/L]."""
    z = compressibility(mixture, t_c, bar)
    if isinstance(z, Absent):
        return z
    value = bar * 100 / (z.value * R * (t_c + KELVIN))
    return Measured(value=value, u=value * z.u / z.value, unit="mol/L")


def gauge_at(mixture: Mixture, gauge_bar: float, t_c: float, other_c: float) -> Quantity:
    """What the gauge of a closed cylinder shows at another temperature [bar above air]."""
    content = molar_density(mixture, t_c, gauge_bar + ATMOSPHERE_BAR)
    if isinstance(content, Absent):
        return content

    def too_much(bar: float) -> float:
        found = molar_density(mixture, other_c, bar)
        return math.nan if isinstance(found, Absent) else found.value - content.value

    try:
        bar = float(brentq(too_much, 0.5, 320.0, xtol=1e-3))
    except ValueError:
        return Absent(reason="the pressure would lie outside 0 to 320 bar")
    return Measured(value=bar - ATMOSPHERE_BAR, u=bar * constant("accuracy", "density_share"), unit="bar")


def contents(mixture: Mixture, litres: float, gauge: Measured, t_c: Measured) -> tuple[Quantity, Quantity]:
    """Usable gas [m³ at 15 °C and 1.01325 bar] and its mass [kg], by the density of the real gas."""
    within("the cylinder's volume", litres, 0.1, 2000.0, "L")
    full = molar_density(mixture, t_c.value, gauge.value + ATMOSPHERE_BAR)
    left = molar_density(mixture, t_c.value, ATMOSPHERE_BAR)
    if isinstance(full, Absent) or isinstance(left, Absent):
        missing = full if isinstance(full, Absent) else left
        return missing, missing
    share = math.hypot(gauge.u / max(gauge.value, 1e-9), t_c.u / (t_c.value + KELVIN), full.u / full.value)
    moles = (full.value - left.value) * litres
    volume, mass = moles * molar_volume() / 1000, moles * mixture.molar_mass / 1000
    return Measured(value=volume, u=volume * share, unit="m³"), Measured(value=mass, u=mass * share, unit="kg")


def diffusion(mixture: Mixture, t_c: float, bar: float) -> Measured:
    """Diffusion coefficient of argon in the second gas [cm²/s].

    Source: Fuller, Schettler and Giddings 1966 (from memory); u is 6 %, and at pressure half of 30 % more (judged).
    """
    mass = 2 / (1 / constant("argon", "g_per_mol") + 1 / constant(mixture.second, "g_per_mol"))
    size = constant("argon_alone", "fuller") ** (1 / 3) + constant(mixture.second, "fuller") ** (1 / 3)
    value = 0.00143 * (t_c + KELVIN) ** 1.75 / (bar * mass**0.5 * size**2)
    return Measured(value=value, u=value * (0.06 + 0.15 * min(1.0, bar / 200)), unit="cm²/s")


def viscosity(mixture: Mixture) -> float:
    """Viscosity at 20 °C [Pa s].

    Source: Wilke's rule (from memory) on the viscosities of the pure gases.
    """
    names = ("argon", mixture.second)
    shares = (1 - mixture.share, mixture.share)
    mass = [constant(name, "g_per_mol") for name in names]
    single = [constant(name, "viscosity_pa_s") for name in names]

    def weight(i: int, j: int) -> float:
        ratio = 1 + math.sqrt(single[i] / single[j]) * (mass[j] / mass[i]) ** 0.25
        return float(ratio**2 / math.sqrt(8 * (1 + mass[i] / mass[j])))

    return sum(shares[i] * single[i] / sum(shares[j] * weight(i, j) for j in (0, 1)) for i in (0, 1))


def reynolds(mixture: Mixture, l_per_min: float, bore_mm: float) -> float:
    """Reynolds number of the free nozzle bore at 20 °C, the flow in litres at 20 °C and 1 atm."""
    density = mixture.molar_mass / 1000 * ATMOSPHERE_BAR * 1e5 / (R * (20 + KELVIN))
    speed = l_per_min / 60000 / (math.pi * (bore_mm / 2000) ** 2)
    return density * speed * bore_mm / 1000 / viscosity(mixture)


def sound_speed(mixture: Mixture, t_c: float = 20.0) -> Measured:
    """Speed of sound at one atmosphere [m/s].

    Source: ideal gas, c² = γ R T / M, which holds within 0.2 % here.
    """
    within("the temperature", t_c, -10.0, 40.0, "°C")
    heat = mixture._mean("cp_over_r")
    value = math.sqrt(heat / (heat - 1) * R * (t_c + KELVIN) / (mixture.molar_mass / 1000))
    return Measured(value=value, u=0.001 * value, unit="m/s")


def throttled(mixture: Mixture, t_c: float, bar: float) -> Quantity:
    """Temperature of the gas behind a regulator that takes up no heat [°C].

    Source: constant enthalpy to 4 bar, GERG-2008 (packaged table).
    """
    held = grid(f"throttle-{mixture.second}", "after_c")
    if not (held.t_c[0] <= t_c <= held.t_c[-1] and held.bar[0] <= bar <= held.bar[-1]):
        return Absent(reason="the throttling table covers −20 to 40 °C and 20 to 230 bar")
    value = float(lagrange(held.bar, lagrange(held.t_c, lagrange(held.co2, held.values, mixture.share), t_c), bar))
    return (
        Absent(reason="colder than −130 °C if no heat came in")
        if math.isnan(value)
        else Measured(value=value, u=2.0, unit="°C")
    )
