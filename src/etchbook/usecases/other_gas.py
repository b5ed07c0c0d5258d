"""What argon with oxygen or with helium can and cannot do: the same questions as of argon with CO2."""

from etchbook.gas import hours_left
from etchbook.gas.constants import constant, molar_mass, source
from etchbook.gas.flow import cubic_feet_per_hour, nozzle_speed
from etchbook.gas.mixtures import (
    Mixture,
    contents,
    diffusion,
    gauge_at,
    gravity_difference,
    no_liquid_above,
    reynolds,
    sound_speed,
    throttled,
)
from etchbook.gas.records import ATMOSPHERE_BAR, GasError, within
from etchbook.gas.regulator import OUT_BAR
from etchbook.quantity import Absent, Measured, spoken
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.gassing import AIR, GasAnswer, GasLine, cylinder_safety, in_litres, windy
from etchbook.usecases.parted import LYING_M, ROLLING, UPRIGHT_M

MODEL = "real-gas density, GERG-2008 (computed)"
DAY = 86400.0


def mixture_of(second: str, percent: float) -> Mixture:
    """Argon with so many percent of "o2" or "he", or a refusal."""
    if second == "o2":
        return Mixture(second="o2", share=percent / 100)
    if second == "he":
        return Mixture(second="he", share=percent / 100)
    raise RefusedError(f'the second gas is o2 or he here, not "{second}"')


def named(mixture: Mixture) -> str:
    """What the mixture is called here."""
    return f"argon with {100 * mixture.share:g} % {mixture.name}"


def can_part(mixture: Mixture, coldest_c: float) -> GasAnswer:
    """Whether the mixture can come apart in its cylinder: by gravity, or by cold.

    Parameters
    ----------
    coldest_c : coldest temperature that the cylinder has seen [°C]
    """
    within("the coldest temperature", coldest_c, -273.15, 100.0, "°C")
    limit = no_liquid_above(mixture)
    gravity = gravity_difference(mixture, height_m=UPRIGHT_M, t_c=20.0)
    apart = coldest_c > limit.value + 10
    told = f"No. {coldest_c - limit.value:.0f} K above the temperature under which any liquid could exist"
    heavier = "top richer in helium than bottom" if mixture.second == "he" else "bottom richer in argon than top"
    sentence = told if apart else f"Not covered. Below about {limit.value + 10:.0f} °C argon itself turns liquid"
    return GasAnswer(
        sentence=f"Can {named(mixture)} come apart at {coldest_c:g} °C? {sentence}.",
        lines=(
            GasLine(label="no liquid at any cylinder pressure above", answer=limit,
                    source="critical points of both gases, CoolProp 8.0.0"),
            GasLine(label=f"{heavier} by gravity, {UPRIGHT_M:g} m, at rest for ever, ideal gas",
                    answer=f"{gravity * 1e6:.1f} ppm, {100 * gravity:.4f} %", source="x (1 − x) ΔM g h / (R T)"),
        ),
        notes=(
            "A real gas under pressure parts several times more than an ideal one, which is still nothing that a "
            "bead could show.",
            "One way to a bad cylinder remains: layers left from filling (see `etchbook gas mixing`).",
            cylinder_safety().words,
        ),
    )  # fmt: skip


def mixing(mixture: Mixture, filled: float, t_c: float) -> GasAnswer:
    """How long layers from filling last, upright and lying, and what rolling can and cannot do.

    Parameters
    ----------
    filled : gauge pressure [bar]
    t_c : temperature [°C]
    """
    if not 0.001 < mixture.share < 0.999:
        raise RefusedError("layers need two gases: give a share between 0.1 and 99.9 %")
    within("the filling pressure", filled, 0.0, 320.0, "bar")
    within("the temperature", t_c, -40.0, 70.0, "°C")
    bar = filled + ATMOSPHERE_BAR
    held = diffusion(mixture, t_c, bar)
    days = [
        Measured(value=tau, u=tau * held.u / held.value, unit="d")
        for height in (UPRIGHT_M, LYING_M)
        for tau in [(100 * height) ** 2 / (9.8696 * held.value) / DAY]
    ]
    return GasAnswer(
        sentence=f"A cylinder of {named(mixture)} that was filled in layers mixes by itself within weeks upright "
        f"(time constant {spoken(days[0])}), within days lying ({spoken(days[1])}).",
        lines=(
            GasLine(label="diffusion coefficient there", answer=held, source="Fuller 1966 (from memory)"),
            GasLine(label="time constant upright, 1.3 m", answer=days[0], source="τ = h²/(π² D)"),
            GasLine(label="time constant lying, 0.22 m across", answer=days[1], source="τ = h²/(π² D)"),
        ),
        notes=(*ROLLING, cylinder_safety().words),
    )


def cylinder_contents(
    mixture: Mixture, litres: float, gauge: float, t_c: float, *, flow: float, gauge_u: float | None = None
) -> GasAnswer:
    """What is left in a cylinder, for how long, and what its gauge would show warmer or colder.

    Parameters
    ----------
    litres : water capacity [L]
    gauge, gauge_u : reading of the cylinder gauge and its standard uncertainty [bar]
    t_c : temperature of the cylinder [°C]
    flow : while the arc burns [L/min]
    """
    within("the gauge", gauge, 0.0, 320.0, "bar")
    within("the temperature", t_c, -40.0, 70.0, "°C")
    spread = constant("accuracy", "gauge_bar") if gauge_u is None else gauge_u
    read = Measured(value=gauge, u=spread, unit="bar")
    volume, mass = contents(mixture, litres, read, Measured(value=t_c, u=2.0, unit="°C"))
    hours = hours_left(volume, flow)
    lines = [
        GasLine(label="gas left at 15 °C and 1 atm", answer=volume, source=MODEL),
        GasLine(label="its mass", answer=mass, source=MODEL),
        GasLine(label=f"arc time at {flow:g} L/min ({cubic_feet_per_hour(flow):.1f} cfh)", answer=hours),
        *(
            GasLine(label=f"gauge of the same cylinder at {other:g} °C", answer=gauge_at(mixture, gauge, t_c, other),
                    source=MODEL)
            for other in (-20.0, 0.0, 20.0, 40.0)
        ),
    ]  # fmt: skip
    told = spoken(hours) if isinstance(hours, Measured) else hours.reason
    return GasAnswer(
        sentence=f"{named(mixture)}, {litres:g} L at {gauge:g} bar and {t_c:g} °C: {told} left at {flow:g} L/min.",
        lines=tuple(lines),
        notes=("A pressure that dropped overnight can be temperature alone: compare at the same temperature.",),
    )


def gas_flow(
    mixture: Mixture, reading: float, *, unit: str, scale_for: str, bore: float, wind: float | None = None
) -> GasAnswer:
    """What a flow tube's reading means, and what the flow does at the nozzle.

    Parameters
    ----------
    reading, unit : as read, in L/min or cfh
    scale_for : the gas that the tube's scale was made for: "air", "argon", "co2" or "same"
    bore : inner diameter of the nozzle [mm]
    wind : at the arc [m/s]; None where it is not known
    """
    masses = {"air": AIR, "argon": molar_mass(0.0), "co2": molar_mass(1.0), "same": mixture.molar_mass}
    if scale_for not in masses:
        raise RefusedError(f'--tube is the gas the scale was made for: {", ".join(masses)}, not "{scale_for}"')
    factor = (masses[scale_for] / mixture.molar_mass) ** 0.5
    value = in_litres(reading, unit) * factor
    speed, number = nozzle_speed(value, bore), reynolds(mixture, value, bore)
    limit = constant("flow", "reynolds_turbulent")
    state = "may be turbulent" if number > limit else "laminar by the pipe figure"
    flow = Measured(value=value, u=value * constant("accuracy", "tube_share"), unit="L/min")
    notes = ["Between 10 and 20 L/min indoors the flow is not a first suspect; measure it at the nozzle with a tube."]
    if mixture.second == "he" and mixture.share > 0.3:
        notes = ["Helium rises and shields less from above: such mixtures are asked for at higher flow (judged)."]
    return GasAnswer(
        sentence=f"{reading:g} {unit} read is {spoken(flow)} of {named(mixture)}: {state}.{windy(wind, speed)}",
        lines=(
            GasLine(label="true flow over read flow", answer=f"{factor:.3f}", source="√(M of the scale's gas / M)"),
            GasLine(label="true flow", answer=flow, source=source("accuracy", "tube_share")),
            GasLine(label="the same in cubic feet an hour", answer=f"{cubic_feet_per_hour(value):.1f} cfh"),
            GasLine(label=f"mean speed at the {bore:g} mm nozzle", answer=f"{speed:.2f} m/s"),
            GasLine(label="Reynolds number of the free bore", answer=f"{number:.0f}, {state} ({limit:.0f})",
                    source=source("flow", "reynolds_turbulent")),
        ),
        notes=tuple(notes),
    )  # fmt: skip


def regulator_frost(mixture: Mixture, gauge: float, t_c: float) -> GasAnswer:
    """How cold a regulator can get; no CO2 is there that could freeze out.

    Parameters
    ----------
    gauge : cylinder gauge [bar]
    t_c : cylinder temperature [°C]
    """
    after = throttled(mixture, t_c, gauge + ATMOSPHERE_BAR)
    cold = after.reason if isinstance(after, Absent) else f"{after.value:.0f} °C"
    return GasAnswer(
        sentence=f"Behind a regulator that gives it no heat {named(mixture)} would reach {cold}; nothing in it can "
        "freeze, so at most ice grows outside.",
        lines=(
            GasLine(label=f"gas behind a regulator that gives it no heat, at {OUT_BAR:g} bar", answer=after,
                    source="constant enthalpy, GERG-2008 (computed)"),
        ),
        notes=("The regulator's own body gives most of that heat, so this is the cold end of what can happen.",),
    )  # fmt: skip


def sound_test(
    mixture: Mixture, t_c: float, length: float, *, heard: tuple[float, float] | None, u_hz: float = 0.3
) -> GasAnswer:
    """What the tone of a tube says of this mixture beside a suspect one.

    Parameters
    ----------
    t_c : temperature of the tube [°C]
    length : of the tube, closed at one end [m]
    heard : tones of the known and of the suspect gas [Hz]
    u_hz : standard uncertainty of each tone [Hz]
    """
    within("the tube's length", length, 0.02, 5.0, "m")
    speed = sound_speed(mixture, t_c)
    near = mixture_of(mixture.second, 100 * (mixture.share + (0.01 if mixture.share < 0.1 else -0.01)))
    step = 100 * (sound_speed(near, t_c).value / speed.value - 1) * (1 if near.share > mixture.share else -1)
    lines = [
        GasLine(label=f"sound in {named(mixture)}", answer=speed, source="ideal gas, γ R T / M"),
        GasLine(label=f"tone of a {1000 * length:g} mm tube closed at one end",
                answer=f"{speed.value / (4 * length):.1f} Hz", source="f = c/4L"),
        GasLine(label=f"1 % more {mixture.name} changes the tone by", answer=f"{step:+.2f} %"),
    ]  # fmt: skip
    if mixture.second == "o2":
        sentence = "Oxygen hardly changes the sound of argon: this test does not tell it; ask for an oxygen meter."
        return GasAnswer(sentence=sentence, lines=tuple(lines))
    sentence = f"In {named(mixture)} each 1 % more helium quickens sound by {step:.2f} %: a good test."
    if heard is not None:
        sentence = _heard(mixture, t_c, heard, u_hz)
    return GasAnswer(sentence=sentence, lines=tuple(lines), notes=HANG)


def _heard(known: Mixture, t_c: float, heard: tuple[float, float], u_hz: float) -> str:
    if min(heard) <= 0:
        raise GasError("a tone is above 0 Hz")
    wanted = sound_speed(known, t_c).value * heard[1] / heard[0]
    low, high = 0.0, 1.0
    if not sound_speed(mixture_of("he", 0), t_c).value <= wanted <= sound_speed(mixture_of("he", 100), t_c).value:
        raise GasError("the ratio of the tones is that of no argon with helium: look for air in the tube")
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if sound_speed(mixture_of("he", 100 * middle), t_c).value < wanted else (low, middle)
    slope = sound_speed(mixture_of("he", 100 * min(low + 0.01, 1)), t_c).value / wanted - 1
    u = 100 * 0.01 * (2**0.5 * u_hz / heard[0]) / max(slope, 1e-4)
    return (
        f"The suspect gas holds {spoken(Measured(value=100 * low, u=u, unit='%'))} helium, where the known one holds "
        f"{100 * known.share:g} %."
    )


HANG = (
    "How: as for CO2 (see `etchbook gas sound --co2 18`), known and suspect in turn within five minutes; a mixture "
    "lighter than air (more than about 30 % helium) is sounded with the mouth of the tube downwards.",
)


def second_gas(co2: float | None, o2: float | None, he: float | None) -> Mixture | None:
    """The mixture where the second gas is oxygen or helium; None where it is CO2; a refusal where it is unclear.

    Parameters
    ----------
    co2, o2, he : shares in argon [%]; one of them
    """
    given = {name: value for name, value in (("co2", co2), ("o2", o2), ("he", he)) if value is not None}
    if len(given) != 1:
        told = "none was given" if not given else f"{' and '.join(given)} were given"
        raise RefusedError(f"one second gas in argon is reckoned, --co2, --o2 or --he in percent: {told}")
    name, percent = next(iter(given.items()))
    return None if name == "co2" else mixture_of(name, percent)
