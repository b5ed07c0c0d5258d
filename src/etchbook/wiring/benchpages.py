"""Bench cards and cutting sheets as pages of a kind: text, json, pdf, and svg for the cuts."""

from datetime import date

from etchbook.preparation import CutPlan, PreparationPlan
from etchbook.report.card import card_pdf
from etchbook.report.card_words import preparation_document, preparation_text
from etchbook.report.cutting_sheet import cutting_pdf
from etchbook.report.cutting_sheet_drawing import cutting_svg
from etchbook.report.cutting_sheet_words import cuts_document, cuts_text
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
