"""What differing settings would do, put beside what was seen of the bead; and which way the others usually go."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.procedure.heat_flow import Coupon
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.tables.packaged import packaged
from etchbook.trials.confounding import Suspect, setting_words
from etchbook.usecases.expecting import FILLETS, Expected, Form, Settings, expected

Sides = Mapping[str, tuple[Quantity, Quantity]]
FILLET_NOTE = (
    "Expected effects: the legs of a fillet are taken to go with the fused width, its convexity with the deposited "
    "area at those legs (a parabolic cap); the model is a bead on plate of the thickness of member 1."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """Expected effects and what was seen of the same three measures.

    Parameters
    ----------
    rows : expected effects, all of them together last; Absent where the heat is not known
    labels : what is called width, height and depth on this joint
    seen : the observed differences of these [mm]; None where they were not read
    hints : which way settings that no formula reckons usually move a bead (common practice)
    """

    rows: tuple[Expected, ...] | Absent
    labels: tuple[str, str, str]
    seen: tuple[float | None, float | None, float | None]
    hints: tuple[str, ...]


def beside(
    coupon: Coupon | Absent | None,
    family: str,
    settings: tuple[Sequence[Settings], Sequence[Settings]],
    sides: Sides,
    suspects: Sequence[Suspect],
) -> Beside:
    """Expected effects beside the observed differences.

    Parameters
    ----------
    coupon : plate and heat of a bead of group a, or why they are not known
    family : of the joint
    settings : of each bead, both groups
    sides : mean of each dimension on both sides
    suspects : settings that differ
    """
    legs = _leg(sides)
    rows: tuple[Expected, ...] | Absent
    if isinstance(coupon, Coupon):
        area = sides.get("deposited_area", (None, None))[0]
        form = Form(family=family, deposited=_value(area), leg=legs[0])
        rows = expected(coupon, *settings, form=form)
    else:
        rows = coupon or Absent(reason="the settings were not given")
    reckoned = {row.setting for row in rows} if isinstance(rows, tuple) else set()
    return Beside(rows=rows, labels=_labels(family), seen=_seen(family, sides, legs), hints=_hints(suspects, reckoned))


def _labels(family: str) -> tuple[str, str, str]:
    if family in FILLETS:
        return "mean leg", "convexity", "penetration into member 1"
    return "weld width", "excess weld metal" if family in ("bead", "butt") else "convexity", "penetration"


def _seen(
    family: str, sides: Sides, legs: tuple[float | None, float | None]
) -> tuple[float | None, float | None, float | None]:
    leg = None if legs[0] is None or legs[1] is None else legs[1] - legs[0]
    width = leg if family in FILLETS else _apart(sides, "weld_width")
    height = _apart(sides, "excess_weld_metal" if family in ("bead", "butt") else "convexity")
    return width, height, _apart(sides, "penetration_1")


def _apart(sides: Sides, name: str) -> float | None:
    a, b = (_value(side) for side in sides.get(name, (None, None)))
    return None if a is None or b is None else b - a


def _leg(sides: Sides) -> tuple[float | None, float | None]:
    """Mean leg of a fillet on both sides."""
    pairs = [[_value(sides.get(name, (None, None))[side]) for name in ("leg_1", "leg_2")] for side in (0, 1)]
    first, second = (None if one is None or two is None else (one + two) / 2 for one, two in pairs)
    return first, second


def _value(held: Quantity | None) -> float | None:
    return held.value if isinstance(held, Measured) else None


def _hints(suspects: Sequence[Suspect], reckoned: set[str]) -> tuple[str, ...]:
    table = packaged("directions")
    words = {row["setting"]: row["words"] for row in table["direction"]}
    return tuple(
        f"{setting_words(one.setting)}: {words[one.setting]} ({table['status']})"
        for one in suspects
        if one.kind != "not logged" and one.setting in words and one.setting not in reckoned
    )


def effect_table(held: Beside) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """Headings and rows of the expected effects, with what was seen as the last row; no rows where nothing differs."""
    headings = ("expected of this alone", *(f"{label}, mm" for label in held.labels), "how it was reckoned")
    if isinstance(held.rows, Absent) or not held.rows:
        return headings, []
    rows = [(one.words, *map(_signed, (one.width, one.height, one.depth)), one.source) for one in held.rows]
    return headings, [*rows, ("what was seen", *map(_signed, held.seen), "the readings")]


def _signed(value: float | None) -> str:
    if value is None:
        return ""
    return f"{value:+.2f}" if abs(value) >= 0.005 or value == 0 else "under 0.01"
