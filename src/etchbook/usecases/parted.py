"""Can the mixture in the cylinder come apart, would rolling it help, and how to hear whether it has."""

from etchbook.gas import Drawn, Filling, compared, draw_off, gravity_difference, mixing_time, parting, sound_speed
from etchbook.gas.mixing import days_until, layered_top, warmer_bottom
from etchbook.gas.records import ATMOSPHERE_BAR
from etchbook.gas.sound import tube_tone
from etchbook.quantity import Absent, Measured, Quantity, spoken
from etchbook.tables.packaged import packaged
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.gassing import GasAnswer, GasLine, named

UPRIGHT_M, LYING_M = 1.3, 0.22
PHASES = "phase table, EOS-CG (computed; no measured point was seen)"
ROLLING = (
    "Rolling stirs a cylinder that was filled in layers, or warmed up again after it had parted: about ten turns, "
    "then a minute of rest (common practice).",
    "Rolling does nothing for a gas that is already mixed: gravity cannot part it again, and a single bead that "
    "looks better afterwards proves nothing.",
)


def can_part(co2: float, filled: float, filled_c: float, coldest_c: float) -> GasAnswer:
    """Whether a mixture can come apart in its cylinder, by gravity or by cold, and what would then be drawn off.

    Parameters
    ----------
    co2 : share of CO2, 0 to 1
    filled, filled_c : gauge pressure [bar] and temperature [°C] of the full cylinder
    coldest_c : coldest temperature it has seen [°C]
    """
    filling = Filling(co2=co2, bar=filled + ATMOSPHERE_BAR, t_c=filled_c)
    found = parting(filling, coldest_c)
    lines = [
        GasLine(label="no liquid at any pressure above", answer=found.boundary, source=PHASES),
        GasLine(label="this closed cylinder parts first at", answer=found.first_split, source=PHASES),
        _gravity(filling, None),
        _gravity(filling, filling.bar),
    ]
    lines += _drawn(filling, coldest_c) if found.answer == "can split" else []
    told = {"can split": "Yes", "single phase": "No", "not covered": "Not covered"}[found.answer]
    return GasAnswer(
        sentence=f"Can {named(co2)} come apart at {coldest_c:g} °C? {told}. {found.why}",
        lines=tuple(lines),
        notes=(
            "What parts when cold gives lean gas first and CO2-rich gas at the end; warmed again, the liquid leaves "
            "a CO2-rich layer at the bottom that lasts for weeks unless it is stirred.",
            "Two ways to a bad cylinder remain: layers left from filling (see `etchbook gas mixing`), and cold below "
            "the figure above.",
            "Cheapest proof: measure the gas, not the bead (see `etchbook gas sound`).",
            packaged("gases")["safety"]["rolling"],
        ),
    )


def _gravity(filling: Filling, bar: float | None) -> GasLine:
    found = gravity_difference(filling.co2, height_m=UPRIGHT_M, t_c=filling.t_c, bar=bar)
    kind = "ideal gas" if bar is None else f"real gas at {bar:.0f} bar"
    answer: Quantity | str = found
    if isinstance(found, Measured):
        answer = f"{found.value * 1e6:.1f} ppm, {100 * found.value:.4f} % CO2"
    return GasLine(label=f"bottom richer than top by gravity, {UPRIGHT_M:g} m, {kind}", answer=answer,
                   source="dμ = −M g dh, EOS-CG density (computed)")  # fmt: skip


def _drawn(filling: Filling, held_c: float) -> list[GasLine]:
    try:
        course = draw_off(filling, held_c)
    except ValueError as error:
        return [GasLine(label="gas drawn off", answer=Absent(reason=str(error)))]
    return [_moment(course, share, held_c) for share in (0.0, 0.2, 0.4, 0.6, 0.8, 0.9)]


def _moment(course: tuple[Drawn, ...], share: float, held_c: float) -> GasLine:
    moment = min(course, key=lambda each: abs(each.withdrawn - share))
    label = f"CO2 in the gas drawn off at {held_c:g} °C, {100 * share:.0f} % withdrawn"
    return GasLine(label=label, answer=f"{100 * moment.co2:.1f} %", source=PHASES)


def mixing(co2: float, filled: float, t_c: float, days: tuple[float, ...]) -> GasAnswer:
    """How long a cylinder filled in layers takes to mix by itself, upright and lying, and what rolling does.

    Parameters
    ----------
    co2 : share of CO2, above 0 and below 1
    filled : gauge pressure [bar]
    t_c : temperature [°C]
    days : since filling, to tell the gas at the valve for
    """
    if not 0.01 < co2 < 0.99:
        raise RefusedError("layers need two gases: give a share of CO2 between 1 and 99 %")
    filling = Filling(co2=co2, bar=filled + ATMOSPHERE_BAR, t_c=t_c)
    upright, lying = (mixing_time(height, t_c, filling.bar) for height in (UPRIGHT_M, LYING_M))
    lines = [
        GasLine(label="time constant upright, 1.3 m", answer=upright, source="τ = h²/(π² D)"),
        GasLine(label="time constant lying, 0.22 m across", answer=lying, source="τ = h²/(π² D)"),
        *(
            GasLine(label=f"layered at filling: CO2 at the valve after {day:g} days upright",
                    answer=f"{100 * layered_top(co2, day, upright.value):.1f} %", source="diffusion alone")
            for day in days
        ),
        GasLine(label="days until within 1 % CO2, upright", answer=f"{days_until(co2, 0.01, upright.value):.0f}"),
        GasLine(label="days until within 1 % CO2, lying", answer=f"{days_until(co2, 0.01, lying.value):.1f}"),
        GasLine(label="bottom warmer than this stirs a layer 1 % richer",
                answer=warmer_bottom(co2, t_c, filling.bar), source="density table (computed)"),
    ]  # fmt: skip
    return GasAnswer(
        sentence=f"A cylinder of {named(co2)} that was filled in layers mixes by itself in weeks upright "
        f"(time constant {upright.value:.0f} days), in days lying ({lying.value:.1f}).",
        lines=tuple(lines),
        notes=(
            *ROLLING,
            "Filling jets normally mix the gas already: a layered cylinder from a sound filler is a rare thing, "
            "1 in 100 at most (judged).",
            packaged("gases")["safety"]["rolling"],
        ),
    )


def sound_test(
    known: float, t_c: float, length: float, *, heard: tuple[float, float] | None, u_hz: float = 0.3, drift: float = 0.2
) -> GasAnswer:
    """How a tube tells two gases apart, and what two tones say where they were heard.

    Parameters
    ----------
    known : share of CO2 of the known gas
    t_c : temperature of the tube [°C]
    length : of the tube, closed at one end [m]
    heard : tones of the known and of the suspect gas [Hz]
    u_hz : standard uncertainty of each tone [Hz]
    drift : standard uncertainty of the temperature's change between the two [K]
    """
    speed = sound_speed(known, t_c)
    nearby = [share for share in (known - 0.05, known - 0.01, known + 0.01, known + 0.05) if 0 <= share <= 1]
    lines = [
        GasLine(label=f"sound in {named(known)}", answer=speed, source="EOS-CG (computed)"),
        GasLine(label=f"tone of a {1000 * length:g} mm tube closed at one end",
                answer=f"{tube_tone(known, length, t_c):.1f} Hz", source="f = c/4L"),
        *(
            GasLine(label=f"tone with {100 * share:.0f} % CO2",
                    answer=f"{tube_tone(share, length, t_c) - tube_tone(known, length, t_c):+.2f} Hz")
            for share in nearby
        ),
    ]  # fmt: skip
    sentence = f"In {named(known)} each 1 % more CO2 slows sound by about 0.2 %: compare with a known cylinder."
    if heard is not None:
        tones = [Measured(value=tone, u=u_hz, unit="Hz") for tone in heard]
        found = compared(known, tones[0], tones[1], Measured(value=t_c, u=drift, unit="°C"))
        percent = Measured(value=100 * found.value, u=100 * found.u, unit="%")
        lines.append(GasLine(label="CO2 in the suspect gas", answer=percent, source="ratio of the two tones"))
        sentence = f"The suspect gas holds {spoken(percent)} CO2, where the known one holds {100 * known:g} %."
    return GasAnswer(sentence=sentence, lines=tuple(lines), notes=HOW)


HOW = (
    "How: a tube closed at one end, hung mouth up because the gas is heavier than air; fill it through a thin hose "
    "for half a minute at 2 L/min, take the hose out, and sound it with a phone's tone generator or a tap, recording "
    "at least 4 s.",
    "Read the lowest tone to 0.3 Hz. Known, suspect, known, suspect: five of each within five minutes, in the same "
    "tube and the same room; tube length and end correction then cancel.",
    "1 K of warming between the two counts like 0.8 % CO2, so keep hands off the tube. Air left in the tube raises "
    "the tone: purge until it no longer falls.",
    "Argon with CO2 displaces air: do this in a ventilated place.",
)
