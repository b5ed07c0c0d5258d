"""What each test asks of the cuts."""

from dataclasses import replace
from typing import Any

from etchbook.preparation.coupon import CutRule, CuttingError, CutWish
from etchbook.preparation.records import Known
from etchbook.tables.packaged import packaged

OWN = "own"
WELDS = {"tee": "fillet", "lap": "fillet", "corner": "fillet", "butt": "butt", "bead": "bead"}
WELD_WORDS = {
    "fillet": "fillet weld",
    "butt": "butt weld",
    "tee_full": "tee joint of full penetration",
    "branch": "branch connection",
    "bead": "bead on plate",
}


def cut_tests() -> tuple[str, ...]:
    """What may be proven: names for `prove`."""
    return (*dict.fromkeys(row["id"] for row in packaged("cut-plans")["rule"]), OWN)


def cut_rule(wish: CutWish) -> CutRule:
    """The rule that a wish falls under, with what the wish asks for beyond it.

    Parameters
    ----------
    wish : own plans need no rule; others may ask for more sections and longer discards, never for less
    """
    if wish.prove == OWN:
        return _own(wish)
    rule = _rule(_row(wish))
    if wish.sections is not None and wish.sections < rule.sections:
        raise CuttingError(
            f"{rule.title} asks for {rule.sections} sections, not {wish.sections}; use {rule.sections} or more"
        )
    if wish.discard is not None and wish.discard < rule.discard:
        raise CuttingError(f"{rule.title} discards {rule.discard:g} mm at each end, not {wish.discard:g} mm")
    return replace(rule, sections=wish.sections or rule.sections, discard=wish.discard or rule.discard)


def _row(wish: CutWish) -> dict[str, Any]:
    rows = packaged("cut-plans")["rule"]
    mine = [row for row in rows if row["id"] == wish.prove]
    if not mine:
        raise CuttingError(f'"{wish.prove}" is no test that cuts are planned for: use one of {", ".join(cut_tests())}')
    weld = _weld(wish)
    for row in mine:
        if row["weld"] == weld:
            return {**packaged("cut-plans")["defaults"], **row}
    known = " or ".join(WELD_WORDS[row["weld"]] for row in mine)
    raise CuttingError(
        f"no number of sections is known here for {wish.prove} on a {WELD_WORDS[weld]}, only on a {known}: "
        "plan it as own"
    )


def _weld(wish: CutWish) -> str:
    if wish.branch:
        return "branch"
    if wish.full_penetration and wish.family == "tee":
        return "tee_full"
    return WELDS[wish.family]


def _rule(row: dict[str, Any]) -> CutRule:
    where = ", ".join(part for part in (row["source"], row["edition"], row["clause"]) if part)
    fate = "cut off" if row["place"] == "end_section" else "discarded"
    stop = f", {row['through_stop']} of them through a stop and start" if row["through_stop"] else ""
    return CutRule(
        id=row["id"],
        title=row["title"],
        sections=row["sections"],
        through_stop=row["through_stop"],
        discard=float(row["discard_mm"]),
        place=row["place"],
        notes=(row["note"],) if "note" in row else (),
        known=(
            Known(fact=f"{_counted(row['sections'])}{stop}", source=where, status=row["status"]),
            Known(
                fact=f"{row['discard_mm']} mm {fate} at each end",
                source=row["title"].partition(",")[0],
                status=row["discard_status"],
            ),
        ),
    )


def _counted(count: int) -> str:
    return f"{count} section{'s' if count > 1 else ''}"


def _own(wish: CutWish) -> CutRule:
    count = wish.sections or len(wish.at) or 1
    discard = 25.0 if wish.discard is None else wish.discard
    how = "asked for" if wish.discard is not None else "usual in ISO 15614-1"
    return CutRule(
        id=OWN,
        title="own plan",
        sections=count,
        through_stop=min(count, len(wish.start_stops)),
        discard=discard,
        place="even",
        notes=(),
        known=(
            Known(fact=_counted(count), source="own plan", status="given by the user"),
            Known(
                fact=f"{discard:g} mm discarded at each end",
                source=how,
                status="given by the user" if wish.discard is not None else "seen",
            ),
        ),
    )
