"""What a flow tube means, and what the flow does at the nozzle."""

import math
from dataclasses import dataclass

from etchbook.gas.constants import constant, molar_mass
from etchbook.gas.records import ATMOSPHERE_BAR, KELVIN, GasError, R, share, within
from etchbook.quantity import Measured


@dataclass(frozen=True, kw_only=True, slots=True)
class TubeState:
    """Density of the gas [kg/m³ at one common reference], absolute pressure [bar] and temperature [°C] in a tube."""

    density: float
    bar: float
    t_c: float


def tube_factor(scale: TubeState, actual: TubeState) -> float:
    """True flow over the flow read on a variable-area tube, both in volumes at the reference state.

    Parameters
    ----------
    scale : the gas and state that the scale was made for
    actual : the gas and state in the tube

    Source: Q = Q_read √(ρ_scale p T_scale / (ρ p_scale T)); flow meter maker's note F-0007 (seen) gives the same.
    """
    if min(scale.density, scale.bar, actual.density, actual.bar) <= 0:
        raise GasError("densities and absolute pressures in a flow tube are above 0")
    ratio = scale.density / actual.density * actual.bar / scale.bar
    return math.sqrt(ratio * (scale.t_c + KELVIN) / (actual.t_c + KELVIN))


def gas_factor(scale_g_per_mol: float, co2: float) -> float:
    """True flow over the flow read where only the gas differs: √(M_scale / M)."""
    return math.sqrt(scale_g_per_mol / molar_mass(co2))


def pressure_factor(made_for_bar: float, actual_bar: float) -> float:
    """True flow over the flow read where only the absolute tube pressure [bar] differs."""
    if min(made_for_bar, actual_bar) <= 0:
        raise GasError("absolute pressures in a flow tube are above 0")
    return math.sqrt(actual_bar / made_for_bar)


def litres_per_minute(cfh: float) -> float:
    """Cubic feet an hour as litres a minute (30 cfh = 14.158 L/min)."""
    return cfh * constant("flow", "cfh_l_per_min")


def cubic_feet_per_hour(l_per_min: float) -> float:
    """Litres a minute as cubic feet an hour."""
    return l_per_min / constant("flow", "cfh_l_per_min")


def viscosity(co2: float) -> float:
    """Viscosity of argon with CO2 at 20 °C [Pa s].

    Source: Wilke's rule (J. Chem. Phys. 18 (1950) 517, from memory) on the viscosities of the pure gases.
    """
    shares = (1 - share(co2), co2)
    masses = (molar_mass(0.0), molar_mass(1.0))
    single = (constant("argon", "viscosity_pa_s"), constant("co2", "viscosity_pa_s"))

    def weight(i: int, j: int) -> float:
        ratio = 1 + math.sqrt(single[i] / single[j]) * (masses[j] / masses[i]) ** 0.25
        return float(ratio**2 / math.sqrt(8 * (1 + masses[i] / masses[j])))

    parts = [shares[i] * single[i] / sum(shares[j] * weight(i, j) for j in (0, 1)) for i in (0, 1)]
    return sum(parts)


def nozzle_speed(l_per_min: float, bore_mm: float) -> float:
    """Mean speed at the nozzle's mouth [m/s]."""
    within("the nozzle's bore", bore_mm, 2.0, 60.0, "mm")
    within("the flow", l_per_min, 0.1, 200.0, "L/min")
    return l_per_min / 60000 / (math.pi * (bore_mm / 2000) ** 2)


def reynolds(co2: float, l_per_min: float, bore_mm: float) -> float:
    """Reynolds number of the free nozzle bore at 20 °C, the flow in litres at 20 °C and 1 atm.

    Source: Re = ρ w d / μ; pipe flow turns turbulent near 2300 (from memory), earlier behind tip and diffuser.
    """
    density = molar_mass(co2) / 1000 * ATMOSPHERE_BAR * 1e5 / (R * (20 + KELVIN))
    return density * nozzle_speed(l_per_min, bore_mm) * bore_mm / 1000 / viscosity(co2)


def leak(volume_l: float, bar_lost: float, seconds: float) -> Measured:
    """Leak of a shut-in line [L/min at 1 atm], from what its gauge loses.

    Parameters
    ----------
    volume_l : shut-in volume: hose and regulator [L]
    bar_lost : pressure lost [bar] in `seconds` [s]

    Source: Q = V (dp/dt) / p_atm.
    """
    within("the time", seconds, 1.0, 86400.0, "s")
    value = volume_l * bar_lost / ATMOSPHERE_BAR / (seconds / 60)
    return Measured(value=value, u=0.2 * abs(value), unit="L/min")
