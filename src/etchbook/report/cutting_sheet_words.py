"""A plan of cuts as plain data for JSON, and as lines of text."""

from dataclasses import asdict
from typing import Any

from etchbook.preparation import CutPlan, PlannedPiece

FORMAT = "etchbook cuts 1"
USES = {
    "section": "section: its {side} is ground and etched",
    "reserve": "other half: keep it",
    "test": "middle: for the other test of the rule",
    "spare": "spare: keep it",
    "discard": "discarded end",
}
SIDES = {"start": "start side", "stop": "end side", "": ""}
"""Sides of a piece in words: towards the start of the weld, and towards its end."""

WHY = {"section": "shows a section", "back": "behind a section piece", "discard": "end cut off"}


def cuts_document(plan: CutPlan) -> dict[str, Any]:
    """A plan of cuts as plain data for JSON: sections, cuts and pieces with their codes and facing sides."""
    held = asdict(plan)
    for cut, record in zip(held["cuts"], plan.cuts, strict=True):
        cut["at"] = round(record.at, 3)
    return {"format": FORMAT, **held}


def cuts_text(plan: CutPlan) -> str:
    """A plan of cuts as text, ready for the saw."""
    lines = [title(plan), ""]
    lines += [f"section {section_words(plan, n)}" for n in range(len(plan.sections))]
    lines += ["", "cut  blade from..to (middle), mm from the start of the weld"]
    lines += [
        f"[ ] {cut.number}  {mm(cut.start)}..{mm(cut.end)} ({mm(cut.at)})  {cut.before} | {cut.after}  {WHY[cut.why]}"
        for cut in plan.cuts
    ]
    lines += ["", "piece  from..to, mm"]
    lines += [
        f"[ ] {piece.code}  {mm(piece.start)}..{mm(piece.end)}  {use_words(piece)}{facing_words(piece)}"
        for piece in plan.pieces
    ]
    lines += ["", *plan.notes, f"In the book: {book_words(plan)}"]
    lines += [f"[{item.status}] {item.fact}: {item.source}" for item in plan.rule.known]
    return "\n".join(lines) + "\n"


def book_words(plan: CutPlan) -> str:
    """The command that enters these pieces into the book, with the same codes."""
    places = ",".join(f"{place:g}mm" for place in plan.at)
    return f"etchbook cut {plan.wish.coupon} --at {places} --kerf {plan.wish.kerf:g}mm"


def title(plan: CutPlan) -> str:
    """Coupon and rule in one line."""
    wish = plan.wish
    both = wish.thickness_2 is not None and wish.family != "bead"
    thick = f"{wish.thickness_1:g} and {wish.thickness_2:g}" if both else f"{wish.thickness_1:g}"
    size = f"{wish.length:g} × {wish.width:g} mm, {thick} mm thick"
    return f"{wish.coupon}: {plan.rule.title}; {wish.family}, {size}"


def section_words(plan: CutPlan, n: int) -> str:
    """One section in words: where, on which piece and side, and which piece is its other half."""
    held = plan.sections[n]
    stop = ", through a stop and start" if held.through_stop else ""
    return f"{held.number} at {mm(held.at)} mm{stop}: {held.piece}, {SIDES[held.side]}; other half: {held.other_half}"


def letter(code: str) -> str:
    """The last part of a piece's code."""
    return code.rpartition("-")[2]


def use_words(piece: PlannedPiece) -> str:
    """What a piece is for."""
    return USES[piece.use].format(side=SIDES[piece.face])


def mm(value: float) -> str:
    """A place [mm] as a rule is read, to a tenth."""
    return f"{value:.1f}".removesuffix(".0")


def facing_words(piece: PlannedPiece) -> str:
    """Which pieces face its two sides, in brackets; "" where none does."""
    sides = [f"start side faces {letter(piece.faces_before)}" if piece.faces_before else ""]
    sides.append(f"end side faces {letter(piece.faces_after)}" if piece.faces_after else "")
    told = ", ".join(side for side in sides if side)
    return f" ({told})" if told else ""
