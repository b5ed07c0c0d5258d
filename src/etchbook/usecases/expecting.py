"""What a differing setting is expected to do to a bead, by our own conduction model, beside what was seen."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from etchbook.procedure.heat_flow import Coupon
from etchbook.procedure.heat_flow.molten import fused
from etchbook.procedure.melting import amps_from_feed
from etchbook.trials.amount_shape import bead_height

SettingValue = float | str


@dataclass(frozen=True, kw_only=True, slots=True)
class Expected:
    """What one setting's difference alone would do.

    Parameters
    ----------
    setting, words : id, and the change in words
    width, depth : of the fused part of the plate [mm]
    height : of the bead [mm], where its deposited area is known; None otherwise
    """

    setting: str
    words: str
    width: float
    depth: float
    height: float | None


def expected(
    reference: Coupon,
    a: Sequence[Mapping[str, SettingValue]],
    b: Sequence[Mapping[str, SettingValue]],
    *,
    deposited: float | None = None,
) -> tuple[Expected, ...]:
    """Effect of each differing setting by itself, from group a's bead.

    Parameters
    ----------
    reference : plate and heat of a bead of group a
    a, b : settings of each bead
    deposited : deposited area of group a [mm²], for the height

    Returns
    -------
    tuple of Expected
        Conduction only: real swings of wetting are larger, in the same direction. Height by a parabolic cap.
    """
    told = []
    for name, change in WAYS.items():
        before, after = _mean(a, name), _mean(b, name)
        if before is not None and after is not None and abs(after - before) > 1e-9:
            moved = change(reference, before, after, a)
            if moved is not None:
                told.append(_one(name, reference, moved, before, after, deposited))
    return tuple(told)


def _mean(beads: Sequence[Mapping[str, SettingValue]], name: str) -> float | None:
    values = [bead[name] for bead in beads if name in bead]
    numbers = [float(value) for value in values if not isinstance(value, str)]
    return sum(numbers) / len(numbers) if numbers and len(numbers) == len(beads) else None


def _one(name: str, reference: Coupon, moved: Coupon, before: float, after: float, deposited: float | None) -> Expected:
    old, new = fused(reference), fused(moved)
    height = None
    if deposited is not None and old.width > 0 and new.width > 0:
        # More speed lays less metal to the millimetre, more feed more of it.
        grown = {"travel": before / after, "wire_feed": after / before}.get(name, 1.0)
        height = bead_height(deposited * grown, new.width) - bead_height(deposited, old.width)
    words = f"{name.replace('_', ' ')} {before:g} to {after:g}"
    return Expected(setting=name, words=words, width=new.width - old.width, depth=new.depth - old.depth, height=height)


Change = Callable[[Coupon, float, float, Sequence[Mapping[str, SettingValue]]], Coupon | None]


def _field(field: str) -> Change:
    """A field of the coupon moves as the setting does, from whatever the reference has."""
    return lambda coupon, before, after, _: coupon.but(**{field: getattr(coupon, field) + after - before})


def _share(coupon: Coupon, before: float, after: float, _: Sequence[Mapping[str, SettingValue]]) -> Coupon | None:
    return coupon.but(power=coupon.power * after / before) if before > 0 else None


def _length(coupon: Coupon, before: float, after: float, _: Sequence[Mapping[str, SettingValue]]) -> Coupon | None:
    length = coupon.length + after - before
    bead = min(coupon.bead_length, length)
    return coupon.but(length=length, bead_length=bead, bead_start=(length - bead) / 2)


def _stick_out(
    coupon: Coupon, before: float, after: float, beads: Sequence[Mapping[str, SettingValue]]
) -> Coupon | None:
    """Through the amps, which fall as the wire gets longer; where amps are logged they tell it by themselves."""
    feed, wire = _mean(beads, "wire_feed"), _mean(beads, "wire_diameter")
    if feed is None or wire is None or _mean(beads, "amps") is not None:
        return None
    share = amps_from_feed(feed, wire, after) / amps_from_feed(feed, wire, before)
    return coupon.but(power=coupon.power * share)


WAYS: Mapping[str, Change] = {
    "start_temperature": _field("start"),
    "thickness_1": _field("thickness"),
    "plate_length": _length,
    "plate_width": _field("width"),
    "travel": _field("travel"),
    "volts": _share,
    "amps": _share,
    "stick_out": _stick_out,
}
