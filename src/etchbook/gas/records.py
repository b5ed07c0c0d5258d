"""What the gas room speaks in."""

from dataclasses import dataclass

from etchbook.quantity import Measured, Quantity

R = 8.314462618
"""Molar gas constant [J/(mol K)] (CODATA 2018, exact)."""

KELVIN = 273.15
ATMOSPHERE_BAR = 1.01325


class GasError(ValueError):
    """A question about gas that makes no sense; its text is one plain sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Filling:
    """How a cylinder was filled: share of CO2 (0 to 1), absolute pressure [bar] at a temperature [°C]."""

    co2: float
    bar: float
    t_c: float

    def __post_init__(self) -> None:
        share(self.co2)
        within("the filling pressure", self.bar, 1.0, 320.0, "bar")
        within("the filling temperature", self.t_c, -40.0, 70.0, "°C")


@dataclass(frozen=True, kw_only=True, slots=True)
class Split:
    """A cylinder's content parted into liquid and vapour.

    Parameters
    ----------
    bar : absolute pressure [bar]
    liquid_co2, vapour_co2 : mole fractions of CO2
    liquid_volume : share of the cylinder's volume that is liquid
    """

    bar: float
    liquid_co2: float
    vapour_co2: float
    liquid_volume: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Parting:
    """Whether a mixture can come apart.

    Parameters
    ----------
    answer : "single phase", "can split" or "not covered"
    why : one sentence
    boundary : warmest temperature at which a liquid can exist at any pressure [°C]
    first_split : temperature at which this closed cylinder parts first [°C]
    """

    answer: str
    why: str
    boundary: Quantity
    first_split: Quantity


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """One moment while gas is drawn off: share withdrawn so far, CO2 of what comes out, pressure [bar, absolute]."""

    withdrawn: float
    co2: float
    bar: float


def share(co2: float) -> float:
    """A share of CO2 between 0 and 1, or a refusal."""
    if not 0 <= co2 <= 1:
        raise GasError(f"the share of CO2 lies between 0 and 100 %, not at {100 * co2:g} %")
    return co2


def within(name: str, value: float, least: float, most: float, unit: str) -> float:
    """A value between two bounds, or a refusal that names all three."""
    if not least <= value <= most:
        raise GasError(f"{name} lies between {least:g} and {most:g} {unit} here, not at {value:g} {unit}")
    return value


def exact(value: float, unit: str, relative: float = 0.0, u: float = 0.0) -> Measured:
    """A value with a relative or an absolute standard uncertainty."""
    return Measured(value=value, u=abs(value) * relative + u, unit=unit)
