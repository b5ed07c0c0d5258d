"""What the gas can and cannot do: contents, flow, regulator. (Coming apart and its test: `parted`.)"""

from dataclasses import dataclass

from etchbook.gas import contents as gas_contents
from etchbook.gas import gauge_at, hours_left, reynolds
from etchbook.gas.constants import constant, molar_mass, source
from etchbook.gas.flow import cubic_feet_per_hour, gas_factor, litres_per_minute, nozzle_speed
from etchbook.gas.records import ATMOSPHERE_BAR, within
from etchbook.gas.regulator import OUT_BAR, frost_point, heat_drawn, throttled
from etchbook.quantity import Absent, Measured, Quantity, spoken
from etchbook.tables.packaged import packaged
from etchbook.usecases.errors import RefusedError

MODEL = "real-gas density, EOS-CG (computed)"
AIR = 28.965


@dataclass(frozen=True, kw_only=True, slots=True)
class GasLine:
    """One figure of an answer: what it is, the figure or words, where it comes from."""

    label: str
    answer: Quantity | str
    source: str = ""

    @property
    def words(self) -> str:
        """The figure as it is printed."""
        if isinstance(self.answer, Absent):
            return self.answer.reason
        return self.answer if isinstance(self.answer, str) else spoken(self.answer)


@dataclass(frozen=True, kw_only=True, slots=True)
class GasAnswer:
    """An answer about gas: the sentence that comes first, the figures, and what to know beside them."""

    sentence: str
    lines: tuple[GasLine, ...]
    notes: tuple[str, ...] = ()

    def __str__(self) -> str:
        rows = [f"  {line.label}: {line.words}" for line in self.lines]
        return "\n".join([self.sentence, *rows, *(f"  {note}" for note in self.notes)])


def co2_share(percent: float) -> float:
    """A share from a percentage, or a refusal."""
    if not 0 <= percent <= 100:
        raise RefusedError(f"the share of CO2 is a percentage, 0 to 100, not {percent:g}")
    return percent / 100


def named(co2: float) -> str:
    """What the mixture is called here."""
    if co2 in (0.0, 1.0):
        return "pure CO2" if co2 else "pure argon"
    return f"argon with {100 * co2:g} % CO2"


def cylinder_contents(
    co2: float, litres: float, gauge: float, t_c: float, *, flow: float, gauge_u: float | None = None, t_u: float = 2.0
) -> GasAnswer:
    """What is left in a cylinder, for how long, and what its gauge would show warmer or colder.

    Parameters
    ----------
    co2 : share of CO2, 0 to 1
    litres : water capacity [L]
    gauge : reading of the cylinder gauge [bar above air]
    t_c : temperature of the cylinder [°C]
    flow : flow while the arc burns [L/min]
    gauge_u, t_u : standard uncertainties [bar, K]; of a class 2.5 gauge where None
    """
    if co2 == 1:
        raise RefusedError("pure CO2 stands as liquid in its cylinder: weigh it, the gauge does not tell")
    within("the gauge", gauge, 0.0, 320.0, "bar")
    within("the temperature", t_c, -40.0, 70.0, "°C")
    spread = constant("accuracy", "gauge_bar") if gauge_u is None else gauge_u
    read = Measured(value=gauge, u=spread, unit="bar")
    volume, mass = gas_contents(co2, litres, read, Measured(value=t_c, u=t_u, unit="°C"))
    naive = litres * gauge / ATMOSPHERE_BAR / 1000
    hours = hours_left(volume, flow)
    lines = [
        GasLine(label="gas left at 15 °C and 1 atm", answer=volume, source=MODEL),
        GasLine(label="its mass", answer=mass, source=MODEL),
        GasLine(label=f"arc time at {flow:.3g} L/min ({cubic_feet_per_hour(flow):.1f} cfh)", answer=hours),
        GasLine(label="pressure times volume would say", answer=f"{naive:.2f} m³", source="ideal gas, for comparison"),
    ]
    for other in (-20.0, 0.0, 20.0, 40.0):
        shown = gauge_at(co2, gauge, t_c, other)
        lines.append(GasLine(label=f"gauge of the same cylinder at {other:g} °C", answer=shown, source=MODEL))
    told = spoken(hours) if isinstance(hours, Measured) else hours.reason
    gauge_note = f"The gauge is taken with u = {spread:g} bar" + (
        f": {source('accuracy', 'gauge_bar')}." if gauge_u is None else "."
    )
    return GasAnswer(
        sentence=f"{named(co2)}, {litres:g} L at {gauge:g} bar and {t_c:g} °C: {told} left at {flow:.3g} L/min.",
        lines=tuple(lines),
        notes=(
            gauge_note,
            "A pressure that dropped overnight can be temperature alone: compare at the same temperature.",
            "Near the end a single-stage regulator first gives more, then collapses: "
            "gauge low, hiss changed, sudden porosity (common practice).",
        ),
    )


def gas_flow(
    co2: float, reading: float, *, unit: str, scale_for: str, bore: float, wind: float | None = None
) -> GasAnswer:
    """What a flow tube's reading means, and what the flow does at the nozzle.

    Parameters
    ----------
    co2 : share of CO2, 0 to 1
    reading : as read
    unit : "L/min" or "cfh"
    scale_for : the gas that the tube's scale was made for: "air", "argon", "co2" or "same"
    bore : inner diameter of the nozzle [mm]
    wind : wind at the arc [m/s]; None where it is not known
    """
    read = in_litres(reading, unit)
    factor = _factor(scale_for, co2)
    value = read * factor
    flow = Measured(value=value, u=value * constant("accuracy", "tube_share"), unit="L/min")
    number, speed = reynolds(co2, value, bore), nozzle_speed(value, bore)
    limit = constant("flow", "reynolds_turbulent")
    state = "may be turbulent" if number > limit else "laminar by the pipe figure"
    lines = [
        GasLine(label="true flow over read flow", answer=f"{factor:.3f}", source="√(M of the scale's gas / M)"),
        GasLine(label="true flow", answer=flow, source=source("accuracy", "tube_share")),
        GasLine(label="the same in cubic feet an hour", answer=f"{cubic_feet_per_hour(value):.1f} cfh"),
        GasLine(label=f"mean speed at the {bore:g} mm nozzle", answer=f"{speed:.2f} m/s"),
        GasLine(
            label="Reynolds number of the free bore",
            answer=f"{number:.0f}, {state} ({limit:.0f})",
            source=source("flow", "reynolds_turbulent"),
        ),
        GasLine(label="wind that calls for shelter", answer="2.2 m/s", source=source("flow", "wind_m_per_s")),
    ]
    return GasAnswer(
        sentence=f"{reading:g} {unit} read is {spoken(flow)} of {named(co2)}: {state}.{windy(wind, speed)}",
        lines=tuple(lines),
        notes=(
            "Between 10 and 20 L/min indoors the flow is not a first suspect; measure it at the nozzle with a tube.",
            "A flow gauge that is a pressure gauge on an orifice keeps its reading when the nozzle clogs.",
            "Shielding in wind goes with the nozzle speed over the wind speed, so the wind figure is no guarantee.",
        ),
    )


def in_litres(reading: float, unit: str) -> float:
    """A flow reading in L/min, or a refusal."""
    if unit not in ("L/min", "cfh"):
        raise RefusedError(f'--unit is "L/min" or "cfh", not "{unit}"')
    if not 0 < reading <= 400:
        raise RefusedError(f"a flow reading lies between 0 and 400, not at {reading:g}")
    return litres_per_minute(reading) if unit == "cfh" else reading


def _factor(scale_for: str, co2: float) -> float:
    masses = {"air": AIR, "argon": molar_mass(0.0), "co2": molar_mass(1.0), "same": molar_mass(co2)}
    if scale_for not in masses:
        raise RefusedError(f'--tube is the gas the scale was made for: {", ".join(masses)}, not "{scale_for}"')
    return gas_factor(masses[scale_for], co2)


def windy(wind: float | None, speed: float) -> str:
    """What a wind [m/s] means beside the speed of the gas at the nozzle [m/s]; "" where it is not known."""
    if wind is None:
        return ""
    if wind < 0:
        raise RefusedError(f"--wind is a speed in m/s, not {wind:g}")
    limit = constant("flow", "wind_m_per_s")
    calls = "shelter the arc" if wind > limit else "below the figure that calls for shelter"
    return f" Wind {wind:g} m/s: {calls}; the nozzle's gas leaves at {speed:.2f} m/s."


def regulator_frost(co2: float, gauge: float, t_c: float, flow: float) -> GasAnswer:
    """Whether the regulator can frost up and make the flow hunt.

    Parameters
    ----------
    co2 : share of CO2, 0 to 1
    gauge : cylinder gauge [bar above air]
    t_c : cylinder temperature [°C]
    flow : flow [L/min]
    """
    after = throttled(co2, t_c, gauge + ATMOSPHERE_BAR)
    frost = frost_point(co2)
    per_kelvin = heat_drawn(co2, flow)
    cooled = t_c - after.value if isinstance(after, Measured) else None
    drawn = "" if cooled is None else f"; {per_kelvin * cooled:.0f} W to undo all of its cooling"
    return GasAnswer(
        sentence=_frosty(after, frost, t_c),
        lines=(
            GasLine(label=f"gas behind a regulator that gives it no heat, at {OUT_BAR:g} bar", answer=after,
                    source="constant enthalpy, EOS-CG (computed)"),
            GasLine(label="solid CO2 comes out below", answer=frost, source="sublimation line (from memory)"),
            GasLine(label="heat the regulator must give", answer=f"{per_kelvin:.2f} W for each kelvin{drawn}"),
        ),
        notes=(
            "The look-see: frost or dew on the regulator's body, and a flow that hunts. "
            "A cold store, a full cylinder and a high flow belong to it.",
            "The regulator's own body gives most of that heat, so this is the cold end of what can happen.",
        ),
    )  # fmt: skip


def _frosty(after: Quantity, frost: Quantity, t_c: float) -> str:
    if isinstance(after, Absent):
        return f"The gas would get {after.reason}."
    if isinstance(frost, Measured) and after.value < frost.value + 5:
        return f"Without heat from the regulator the gas would fall to {after.value:.0f} °C, cold enough for CO2 frost."
    if after.value < 0:
        told = "cold enough for ice outside, not for CO2 frost inside"
        return f"Without heat from the regulator the gas would fall from {t_c:g} to {after.value:.0f} °C: {told}."
    return f"The gas would cool to {after.value:.0f} °C: no frost."


@dataclass(frozen=True, kw_only=True, slots=True)
class Safety:
    """What to heed before a cylinder is touched, and how it is known."""

    words: str
    status: str


def cylinder_safety() -> Safety:
    """The line that stands wherever somebody will handle a cylinder."""
    held = packaged("gases")["safety"]
    return Safety(words=held["rolling"], status=held["status"])
