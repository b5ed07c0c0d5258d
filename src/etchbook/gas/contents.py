"""What a gauge and a thermometer say about a cylinder."""

import math

from etchbook.gas.constants import constant, molar_mass
from etchbook.gas.density import molar_density, pressure_at
from etchbook.gas.records import ATMOSPHERE_BAR, KELVIN, GasError, R, within
from etchbook.quantity import Absent, Measured, Quantity

NORMAL_C = 15.0
"""Gas volumes are stated at 15 °C and 1.01325 bar."""


def molar_volume(t_c: float = NORMAL_C) -> float:
    """Litres of ideal gas to the mole at 1.01325 bar (23.6448 at 15 °C)."""
    return R * (t_c + KELVIN) / (ATMOSPHERE_BAR * 100)


def contents(
    co2: float, litres: float, gauge_bar: Measured, t_c: Measured, *, left_bar: float = 0.0, stated_c: float = NORMAL_C
) -> tuple[Quantity, Quantity]:
    """Usable gas [m³ at 1.01325 bar] and its mass [kg], by the density of the real gas.

    Parameters
    ----------
    co2 : share of CO2
    litres : water capacity of the cylinder [L]
    gauge_bar : reading of the gauge [bar above air]
    t_c : temperature of the cylinder [°C]
    left_bar : gauge reading at which the cylinder counts as empty [bar]
    stated_c : temperature that gas volumes are stated at [°C]; 15 in the trade

    Returns
    -------
    volume, mass
        u covers gauge, thermometer and density model; both Absent where pressure alone does not tell.

    Source: V = (ρ(p, T) − ρ(p_end, T)) V_cylinder, EOS-CG density.
    """
    within("the cylinder's volume", litres, 0.1, 2000.0, "L")
    within("the gauge", gauge_bar.value, 0.0, 320.0, "bar")
    if left_bar > gauge_bar.value:
        raise GasError(f"the cylinder counts as empty at {left_bar:g} bar, above the gauge's {gauge_bar.value:g} bar")
    full = _moles(co2, gauge_bar.value, t_c.value)
    left = _moles(co2, left_bar, t_c.value)
    if isinstance(full, Absent) or isinstance(left, Absent):
        missing = full if isinstance(full, Absent) else left
        return missing, missing
    spread = math.hypot(full.u, _slope(co2, gauge_bar, t_c, 0), _slope(co2, gauge_bar, t_c, 1))
    moles, u = (full.value - left.value) * litres, spread * litres
    volume = molar_volume(stated_c) / 1000
    mass = molar_mass(co2) / 1000
    return (
        Measured(value=moles * volume, u=u * volume, unit="m³"),
        Measured(value=moles * mass, u=u * mass, unit="kg"),
    )


def _moles(co2: float, gauge_bar: float, t_c: float) -> Quantity:
    return molar_density(co2, t_c, gauge_bar + ATMOSPHERE_BAR)


def _slope(co2: float, gauge: Measured, t_c: Measured, which: int) -> float:
    """Change of content [mol/L] by one standard uncertainty of the gauge (0) or the thermometer (1)."""
    u = (gauge.u, t_c.u)[which]
    if u == 0:
        return 0.0
    low = _moles(co2, max(gauge.value - (u if which == 0 else 0), 0.0), t_c.value - (u if which else 0))
    high = _moles(co2, gauge.value + (u if which == 0 else 0), t_c.value + (u if which else 0))
    if isinstance(low, Absent) or isinstance(high, Absent):
        return 0.0
    return abs(high.value - low.value) / 2


def hours_left(volume: Quantity, flow_l_per_min: float) -> Quantity:
    """Hours of arc time at a flow [L/min, stated like the volume]."""
    within("the flow", flow_l_per_min, 0.1, 200.0, "L/min")
    if isinstance(volume, Absent):
        return volume
    per_hour = flow_l_per_min * 60 / 1000
    return Measured(value=volume.value / per_hour, u=volume.u / per_hour, unit="h")


def gauge_at(co2: float, gauge_bar: float, t_c: float, other_c: float) -> Quantity:
    """What the gauge of a closed cylinder shows at another temperature [bar above air].

    Parameters
    ----------
    gauge_bar, t_c : what it shows [bar above air] at which temperature [°C]
    other_c : the other temperature [°C]

    Source: constant molar density, EOS-CG density table.
    """
    content = molar_density(co2, t_c, gauge_bar + ATMOSPHERE_BAR, method="table")
    if isinstance(content, Absent):
        return content
    found = pressure_at(co2, content.value, other_c)
    if isinstance(found, Absent):
        return found
    share = constant("accuracy", "density_share")
    return Measured(value=found.value - ATMOSPHERE_BAR, u=found.value * share, unit="bar")
