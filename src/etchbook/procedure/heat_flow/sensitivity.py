"""How much the fused width, depth and area answer to what people forget to log."""

from collections.abc import Mapping
from dataclasses import dataclass

from etchbook.procedure.heat_flow.coupon import Coupon
from etchbook.procedure.heat_flow.molten import Fused, fused
from etchbook.procedure.melting import amps_from_feed


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """What one change does to the fused section, by conduction.

    Parameters
    ----------
    words : the change in words
    width, depth : [mm]
    area : [mm²]
    t85 : [s]; nan where the reference or the changed bead has none
    """

    words: str
    width: float
    depth: float
    area: float
    t85: float


def change(reference: Coupon, words: str, **changes: float) -> Change:
    """Difference that a change of the coupon or of the source makes.

    Parameters
    ----------
    reference : the bead as it was
    words : the change in words
    changes : fields of `Coupon` with their new values; the bead stays in the middle of a plate of new length

    Returns
    -------
    Change
        New less reference. Conduction only: real swings of wetting are larger, in the same direction.
    """
    moved = dict(changes)
    if "length" in moved and "bead_start" not in moved:
        moved["bead_length"] = min(reference.bead_length, moved["length"])
        moved["bead_start"] = (moved["length"] - moved["bead_length"]) / 2
    before, after = fused(reference), fused(reference.but(**moved))
    return _difference(words, before, after)


def _difference(words: str, before: Fused, after: Fused) -> Change:
    return Change(
        words=words,
        width=after.width - before.width,
        depth=after.depth - before.depth,
        area=after.area - before.area,
        t85=after.t85 - before.t85,
    )


def stick_out_change(reference: Coupon, *, feed: float, wire: float, stick_out: float, by: float) -> Change:
    """What another stick-out at the same feed does: other amps, and the heat follows them.

    Parameters
    ----------
    reference : the bead as it was; its power belongs to the stick-out given here
    feed : [m/min]; wire, stick_out : [mm]; by : change of stick-out [mm]

    Returns
    -------
    Change
        At unchanged volts of the machine: what the longer wire takes from the arc it brings along as its own heat.
    """
    share = amps_from_feed(feed, wire, stick_out + by) / amps_from_feed(feed, wire, stick_out)
    return change(reference, f"stick-out {by:+g} mm", power=reference.power * share)


def usual_changes(reference: Coupon) -> Mapping[str, Change]:
    """The changes people forget: plate 100 K warmer, 4 mm thicker, plate half and twice as large, power and speed.

    Parameters
    ----------
    reference : the bead as it was

    Returns
    -------
    mapping from start_temperature, thickness, larger_plate, power, travel
    """
    thicker = reference.thickness + 4
    length, width = 2 * reference.length, 2 * reference.width
    return {
        "start_temperature": change(reference, "start temperature +100 K", start=reference.start + 100),
        "thickness": change(reference, f"thickness {thicker:g} mm", thickness=thicker),
        "larger_plate": change(reference, f"plate {length:g} × {width:g} mm", length=length, width=width),
        "power": change(reference, "heat into the plate +5 %", power=1.05 * reference.power),
        "travel": change(reference, "travel speed +10 %", travel=1.1 * reference.travel),
    }
