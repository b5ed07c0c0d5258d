"""What a differing setting is expected to do to a bead, by our own conduction model, beside what was seen."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from etchbook.gas import gravity_difference
from etchbook.procedure.heat_flow import Coupon
from etchbook.procedure.heat_flow.molten import Fused, fused
from etchbook.procedure.melting import amps_from_feed
from etchbook.quantity import Measured
from etchbook.terms.settings import SETTINGS
from etchbook.trials.amount_shape import bead_height, fillet_convexity

SettingValue = float | str
Settings = Mapping[str, SettingValue]

VOLTS_PER_CO2 = 0.04
"""Volts of arc that 1 % more CO2 in argon asks for, near 20 % (judged from set-up charts, research note M4)."""
FULL_BAR, UPRIGHT_M = 200.0, 1.3
FILLETS = ("tee", "lap")


@dataclass(frozen=True, kw_only=True, slots=True)
class Expected:
    """What one setting's difference alone would do.

    Parameters
    ----------
    setting, words : id, and the change in words
    width : of the bead, or of a fillet its mean leg, which is taken to go with the fused width [mm]
    depth : of the fused part of the plate [mm]
    height : of the bead, or of a fillet its convexity [mm]; None where leg or deposited area are not known
    source : how it was reckoned
    counted : whether it counts in what all of them do together; False where another row holds it already
    """

    setting: str
    words: str
    width: float
    depth: float
    height: float | None
    source: str = "conduction"
    counted: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Form:
    """What of group a's bead the effect is told on: joint family, deposited area [mm²], mean leg [mm]."""

    family: str = "bead"
    deposited: float | None = None
    leg: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """A setting's way into the model: the coupon after it, and the amount of metal after it over that before."""

    coupon: Coupon
    metal: float = 1.0
    words: str = ""
    source: str = "conduction"
    counted: bool = True


Way = Callable[[Coupon, Sequence[Settings], Sequence[Settings]], Move | None]
Change = Callable[[Coupon, float, float, Sequence[Settings], Sequence[Settings]], Move | None]


def expected(
    reference: Coupon, a: Sequence[Settings], b: Sequence[Settings], *, form: Form = Form()
) -> tuple[Expected, ...]:
    """Effect of each differing setting by itself, from group a's bead; then of all of them together.

    Parameters
    ----------
    reference : plate and heat of a bead of group a
    a, b : settings of each bead
    form : of group a's bead

    Returns
    -------
    tuple of Expected
        Conduction only: real swings of wetting are larger, in the same direction. The last one has the setting
        ``together`` where two or more count.
    """
    old = fused(reference)
    told: list[Expected] = []
    moved, metal = reference, 1.0
    for name, way in WAYS.items():
        move = way(reference, a, b)
        if move is None:
            continue
        told.append(_one(name, old, move, _words(name, a, b) + move.words, form))
        if move.counted:
            moved, metal = (way(moved, a, b) or move).coupon, metal * move.metal
    if sum(one.counted for one in told) > 1:
        told.append(_one("together", old, Move(coupon=moved, metal=metal), "all of these together", form))
    return tuple(told)


def _by_number(name: str, change: Change, coupon: Coupon, a: Sequence[Settings], b: Sequence[Settings]) -> Move | None:
    """A change where both groups have a mean of this setting and the two differ."""
    before, after = _mean(a, name), _mean(b, name)
    if before is None or after is None or abs(after - before) < 1e-9:
        return None
    return change(coupon, before, after, a, b)


def _words(name: str, a: Sequence[Settings], b: Sequence[Settings]) -> str:
    if name == "cylinder":
        return "another cylinder: all that gravity parts in one"
    unit = SETTINGS[name].unit
    return f"{SETTINGS[name].label} {_mean(a, name):.4g} to {_mean(b, name):.4g}{' ' + unit if unit else ''}"


def _mean(beads: Sequence[Settings], name: str) -> float | None:
    values = [bead[name] if name in bead else _in_gas(bead) if name == "co2" else None for bead in beads]
    numbers = [float(value) for value in values if value is not None and not isinstance(value, str)]
    return sum(numbers) / len(numbers) if numbers and len(numbers) == len(beads) else None


def _in_gas(bead: Settings) -> float | None:
    """Percent of CO2 out of a gas that is named by its composition, such as ``Ar + 18 % CO2``."""
    found = re.search(r"(\d+(?:[.,]\d+)?)\s*%\s*CO2", str(bead.get("gas", "")), re.IGNORECASE)
    return float(found[1].replace(",", ".")) if found else None


def _one(name: str, old: Fused, move: Move, words: str, form: Form) -> Expected:
    new = fused(move.coupon)
    width, height = _told_on(form, old.width, new.width, move.metal)
    return Expected(setting=name, words=words, width=width, depth=new.depth - old.depth, height=height,
                    source=move.source, counted=move.counted)  # fmt: skip


def _told_on(form: Form, old: float, new: float, metal: float) -> tuple[float, float | None]:
    """Change of width (of a fillet: its leg) and of height (of a fillet: its convexity)."""
    area = form.deposited
    if min(old, new) <= 0:
        return new - old, None
    if form.family in FILLETS and form.leg:
        leg = form.leg * new / old
        rise = None if area is None else fillet_convexity(area * metal, leg) - fillet_convexity(area, form.leg)
        return leg - form.leg, rise
    if form.family == "bead" and area is not None:
        return new - old, bead_height(area * metal, new) - bead_height(area, old)
    return new - old, None


def _field(field: str) -> Change:
    """A field of the coupon moves as the setting does, from whatever the reference has."""
    return lambda coupon, before, after, *_: Move(coupon=coupon.but(**{field: getattr(coupon, field) + after - before}))


def _share(coupon: Coupon, before: float, after: float, *_: Sequence[Settings]) -> Move | None:
    return Move(coupon=coupon.but(power=coupon.power * after / before)) if before > 0 else None


def _travel(coupon: Coupon, before: float, after: float, *_: Sequence[Settings]) -> Move | None:
    """More speed lays less metal to the millimetre."""
    return Move(coupon=coupon.but(travel=coupon.travel + after - before), metal=before / after) if after > 0 else None


def _length(coupon: Coupon, before: float, after: float, *_: Sequence[Settings]) -> Move | None:
    length = coupon.length + after - before
    bead = min(coupon.bead_length, length)
    return Move(coupon=coupon.but(length=length, bead_length=bead, bead_start=(length - bead) / 2))


def _wire(
    name: str, coupon: Coupon, before: float, after: float, a: Sequence[Settings], b: Sequence[Settings]
) -> Move | None:
    """Wire feed, wire diameter or stick-out, by the amps that melt the wire; logged amps tell that by themselves."""
    held = {part: _mean(a, part) for part in ("wire_feed", "wire_diameter", "stick_out")}
    metal = {"wire_feed": after / before, "wire_diameter": (after / before) ** 2}.get(name, 1.0) if before > 0 else 1.0
    logged = _mean(a, "amps") is not None and _mean(b, "amps") is not None
    amps = [_amps({**held, name: value}) for value in (before, after)]
    if amps[0] is None or amps[1] is None:
        return Move(coupon=coupon, metal=metal, source="amount of metal alone") if metal != 1.0 else None
    words = f" ({amps[0]:.0f} to {amps[1]:.0f} A by the melting balance)"
    source = "melting balance (constants from memory), conduction"
    melted = coupon.but(power=coupon.power * amps[1] / amps[0])
    if not logged:
        return Move(coupon=melted, metal=metal, words=words, source=source)
    if metal != 1.0:
        return Move(coupon=coupon, metal=metal, words="; its heat is in the amps", source="amount of metal alone")
    return Move(coupon=melted, words=words, source=f"{source}; the logged amps hold it already", counted=False)


def _amps(held: Mapping[str, float | None]) -> float | None:
    feed, wire, stick_out = (held[part] for part in ("wire_feed", "wire_diameter", "stick_out"))
    if feed is None or wire is None or stick_out is None or min(feed, wire, stick_out) <= 0:
        return None
    return amps_from_feed(feed, wire, stick_out)


def _co2(coupon: Coupon, before: float, after: float, a: Sequence[Settings], _: Sequence[Settings]) -> Move | None:
    """More CO2 asks for more volts at the arc: counted as if the volts had moved by as much."""
    volts = _mean(a, "volts")
    if volts is None or volts <= 0:
        return None
    step = VOLTS_PER_CO2 * (after - before)
    return Move(coupon=coupon.but(power=coupon.power * (volts + step) / volts), words=f" (like {step:+.2g} V)",
                source="volts by CO2 judged, conduction")  # fmt: skip


def _gravity(coupon: Coupon, a: Sequence[Settings], b: Sequence[Settings]) -> Move | None:
    """What standing upright could part in a full cylinder, which is all that rolling could put right."""
    names = [{str(bead[key]) for bead in group if (key := "cylinder") in bead} for group in (a, b)]
    share = _mean(a, "co2")
    if not all(names) or names[0] == names[1] or share is None or not 0 < share < 100:
        return None
    parted = gravity_difference(share / 100, height_m=UPRIGHT_M, t_c=20.0, bar=FULL_BAR)
    if not isinstance(parted, Measured):
        return None
    percent = 100 * parted.value
    move = _co2(coupon, share, share - percent, a, b)
    return None if move is None else Move(coupon=move.coupon, words=f" ({percent:.3f} % CO2)",
                                          source="gravity by EOS-CG, volts by CO2 judged, conduction",
                                          counted=False)  # fmt: skip


def _start(coupon: Coupon, before: float, after: float, a: Sequence[Settings], b: Sequence[Settings]) -> Move | None:
    """The temperature before the first bead, where none before this bead was logged."""
    if _mean(a, "interpass_temperature") is not None and _mean(b, "interpass_temperature") is not None:
        return None
    return Move(coupon=coupon.but(start=coupon.start + after - before))


def _ways(**changes: Change) -> dict[str, Way]:
    return {name: partial(_by_number, name, change) for name, change in changes.items()}


WAYS: Mapping[str, Way] = {
    **_ways(
        start_temperature=_start,
        interpass_temperature=_field("start"),
        thickness_1=_field("thickness"),
        plate_length=_length,
        plate_width=_field("width"),
        travel=_travel,
        volts=_share,
        amps=_share,
        wire_feed=partial(_wire, "wire_feed"),
        wire_diameter=partial(_wire, "wire_diameter"),
        stick_out=partial(_wire, "stick_out"),
        co2=_co2,
    ),
    "cylinder": _gravity,
}
