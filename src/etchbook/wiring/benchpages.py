"""Bench cards and cutting sheets as pages of a kind: text, json, pdf, and svg for the cuts."""

from datetime import date

from etchbook.preparation import CutPlan, PreparationPlan
from etchbook.report.card import card_pdf
from etchbook.report.card_words import preparation_document, preparation_text
from etchbook.report.cutting_sheet import cutting_pdf
from etchbook.report.cutting_sheet_drawing import cutting_svg
from etchbook.report.cutting_sheet_words import WHY, cuts_document, cuts_text, facing_words, mm, use_words
from etchbook.wiring.press import json_bytes


def preparation_page(kind: str, plan: PreparationPlan, *, piece: str = "", today: date | None = None) -> bytes:
    """A way to prepare a face as text, json or pdf."""
    if kind == "json":
        return json_bytes(preparation_document(plan))
    if kind == "pdf":
        return card_pdf(plan, today=today or date.today(), piece=piece)
    if kind == "text":
        return preparation_text(plan).encode()
    raise TypeError(f"no page of kind {kind}")


def cuts_page(kind: str, plan: CutPlan, *, today: date | None = None) -> bytes:
    """A plan of cuts as text, json, svg or pdf."""
    if kind == "json":
        return json_bytes(cuts_document(plan))
    if kind == "pdf":
        return cutting_pdf(plan, today=today or date.today())
    if kind == "svg":
        return cutting_svg(plan).encode()
    if kind == "text":
        return cuts_text(plan).encode()
    raise TypeError(f"no page of kind {kind}")


def cuts_rows(plan: CutPlan) -> tuple[list[tuple[str, str, str]], list[tuple[str, str, str]]]:
    """A plan of cuts as rows for a page: cuts (number, from and to, why), pieces (code, from and to, what for)."""
    sawn = [
        (
            str(cut.number),
            f"{mm(cut.start)} to {mm(cut.end)} mm",
            f"{WHY[cut.why]}, between {cut.before} and {cut.after}",
        )
        for cut in plan.cuts
    ]
    made = [
        (piece.code, f"{mm(piece.start)} to {mm(piece.end)} mm", f"{use_words(piece)}{facing_words(piece)}")
        for piece in plan.pieces
    ]
    return sawn, made
