"""What is known of a bead, and what was reckoned from it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, fields

from etchbook.quantity import Absent, Measured, Quantity
from etchbook.terms import Family


class ProcedureError(ValueError):
    """A figure that cannot be reckoned from what was given; its text is one plain sentence."""


SIGNED = ("start_temperature", "interpass_temperature", "ambient")
"""Settings that may be below zero."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Settings:
    """What was set, read or seen of one bead; None or "" where it is not known, and nothing is guessed for it.

    Parameters
    ----------
    process : ISO 4063 number such as "135"
    material : "carbon steel", "stainless steel" or "aluminium"
    joint : tee, lap, corner, butt or bead
    volts, amps : means over the bead [V], [A]
    power : mean of the instantaneous power [W]; energy : its sum over the bead [J]
    wire_feed : [m/min]; wire_diameter : [mm]
    travel : travel speed [mm/s]; bead_length [mm] and arc_time [s] give it where it is missing
    stick_out : contact tip to work [mm]
    co2 : CO2 in the argon [%]; gas_flow : shielding gas [L/min]; nozzle : bore of the gas nozzle [mm]
    thickness_1, thickness_2, throat : as in `Joint` [mm]
    plate_length, plate_width : of the coupon, along and across the bead [mm]
    start_temperature, interpass_temperature, ambient : [°C]; interpass counts where it is stated
    loss : surface heat loss of the coupon [W/(m²·K)]
    hydrogen : diffusible hydrogen of the consumable [ml/100 g]
    cable_length : out and back together [m]; cable_area : copper [mm²]
    composition : of the plate, by element [% by mass]
    u : standard uncertainty of any of these, by name, in its unit; what is not listed is taken as exact
    """

    process: str = ""
    material: str = ""
    joint: Family | None = None
    volts: float | None = None
    amps: float | None = None
    power: float | None = None
    energy: float | None = None
    wire_feed: float | None = None
    wire_diameter: float | None = None
    travel: float | None = None
    bead_length: float | None = None
    arc_time: float | None = None
    stick_out: float | None = None
    co2: float | None = None
    gas_flow: float | None = None
    nozzle: float | None = None
    thickness_1: float | None = None
    thickness_2: float | None = None
    throat: float | None = None
    plate_length: float | None = None
    plate_width: float | None = None
    start_temperature: float | None = None
    interpass_temperature: float | None = None
    ambient: float | None = None
    loss: float | None = None
    hydrogen: float | None = None
    cable_length: float | None = None
    cable_area: float | None = None
    composition: Mapping[str, float] = field(default_factory=dict)
    u: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name in numbered():
            _checked(name, getattr(self, name))
        for name, spread in self.u.items():
            if not (math.isfinite(spread) and spread >= 0):
                raise ProcedureError(f"the uncertainty of {name} is {spread:g}: give a number that is not negative")


def numbered() -> tuple[str, ...]:
    """Names of the settings that are numbers."""
    words = ("process", "material", "joint", "composition", "u")
    return tuple(one.name for one in fields(Settings) if one.name not in words)


def _checked(name: str, value: float | None) -> None:
    if value is None:
        return
    if not math.isfinite(value):
        raise ProcedureError(f"{name} is {value}: give a finite number")
    if name in SIGNED:
        if value < -273.15:
            raise ProcedureError(f"{name} is {value:g} °C, colder than anything can be")
    elif name == "co2" and not 0 <= value <= 100:
        raise ProcedureError(f"co2 is {value:g} %: give the share of CO2 in the argon, 0 to 100 %")
    elif value < 0 or (value == 0 and name not in ("co2", "loss")):
        raise ProcedureError(f"{name} is {value:g}: give a number above zero, or leave it out")


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """One reckoned figure.

    Parameters
    ----------
    id, label : machine name, and the words a person reads
    quantity : value with u, or the reason why there is none
    notes : what is out of range, and what was assumed
    source, status : where the formula stands and how that is known
    """

    id: str
    label: str
    quantity: Quantity
    notes: tuple[str, ...] = ()
    source: str = ""
    status: str = ""

    @property
    def value(self) -> float | None:
        """The bare number, None where there is none."""
        return self.quantity.value if isinstance(self.quantity, Measured) else None


@dataclass(frozen=True, kw_only=True, slots=True)
class ProcedureFigures:
    """Everything that a bead's settings come to, in the order of a welding procedure sheet."""

    figures: Mapping[str, Figure]

    def __getitem__(self, name: str) -> Figure:
        return self.figures[name]

    @property
    def known(self) -> tuple[Figure, ...]:
        """The figures that have a value."""
        return tuple(one for one in self.figures.values() if isinstance(one.quantity, Measured))

    @property
    def absent(self) -> tuple[Figure, ...]:
        """The figures that have none, each with its reason."""
        return tuple(one for one in self.figures.values() if isinstance(one.quantity, Absent))


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """One dimension as predicted from the settings, beside what was measured.

    `verdict` is "agree", "differ" or "cannot say"; it is held at two standard uncertainties of the difference.
    """

    id: str
    label: str
    predicted: Quantity
    measured: Quantity
    difference: Quantity
    verdict: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Pointer:
    """A setting that would explain what does not fit, with the reason in one sentence."""

    setting: str
    reason: str


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionComparison:
    """Settings and section side by side, and the settings that do not fit."""

    rows: tuple[Beside, ...]
    pointers: tuple[Pointer, ...]
    summary: str
