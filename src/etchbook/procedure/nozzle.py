"""Flow in the gas nozzle: smooth or turbulent."""

import math

from etchbook.procedure.formulas import Range, published

ARGON, CO2 = (39.948, 2.231e-5), (44.0095, 1.467e-5)
"""Molar mass [g/mol] and viscosity at 20 °C [Pa·s]."""

MOLAR = 24.0551
"""Litres in a mole at 20 °C and 1.01325 bar."""


def mix_density(co2: float) -> float:
    """Density of argon with CO2 at 20 °C and 1.013 bar, as an ideal gas [kg/m³]; co2 [%]."""
    share = co2 / 100
    return ((1 - share) * ARGON[0] + share * CO2[0]) / MOLAR


def mix_viscosity(co2: float) -> float:
    """Viscosity of argon with CO2 at 20 °C by Wilke's rule [Pa·s]; co2 [%]. Source: Wilke 1950 (from memory)."""
    share = co2 / 100
    amounts, gases = (1 - share, share), (ARGON, CO2)
    total = 0.0
    for x, (mass, mu) in zip(amounts, gases, strict=True):
        below = sum(
            y * (1 + math.sqrt(mu / other_mu) * (other / mass) ** 0.25) ** 2 / math.sqrt(8 * (1 + mass / other))
            for y, (other, other_mu) in zip(amounts, gases, strict=True)
        )
        total += x * mu / below if x else 0.0
    return total


@published(
    "Reynolds number in the nozzle",
    "",
    "Re = 4 ρ V̇ / (π D µ), mixture viscosity by Wilke's rule; 2300 is the value for pipes",
    "from memory",
    valid=(Range(name="co2", least=0, most=100, unit="%"),),
)
def nozzle_reynolds(flow: float, nozzle: float, co2: float) -> float:
    """Reynolds number of the shielding gas in the open bore of the nozzle.

    Parameters
    ----------
    flow : [L/min] at 20 °C and 1.013 bar
    nozzle : bore D [mm]
    co2 : CO2 in argon [%]

    Returns
    -------
    [no unit]
        Above about 2300 the flow may be turbulent; tip and diffuser can trip it earlier.
    """
    volume = flow / 60000
    return 4 * mix_density(co2) * volume / (math.pi * nozzle / 1000 * mix_viscosity(co2))


@published("gas speed at the nozzle", "m/s", "flow over the open bore", "reckoned")
def nozzle_speed(flow: float, nozzle: float) -> float:
    """Mean speed of the shielding gas in the open bore.

    Parameters
    ----------
    flow : [L/min]
    nozzle : bore [mm]

    Returns
    -------
    [m/s]
    """
    return flow / 60000 / (math.pi / 4 * (nozzle / 1000) ** 2)
