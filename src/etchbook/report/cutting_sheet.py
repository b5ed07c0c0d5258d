"""The cutting sheet as a tagged PDF: the drawing, and the cuts and pieces to tick off."""

import json
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

from etchbook.preparation import CutPlan
from etchbook.report.cutting_sheet_drawing import cutting_svg
from etchbook.report.cutting_sheet_words import (
    WHY,
    book_words,
    facing_words,
    letter,
    mm,
    section_words,
    title,
    use_words,
)
from etchbook.report.typeset import typeset_pdf


def cutting_pdf(plan: CutPlan, *, today: date) -> bytes:
    """The cutting sheet on A4, as a tagged PDF (PDF/UA-1).

    Parameters
    ----------
    plan : the plan of cuts
    today : printed as the day of the sheet; the same plan and day give the same bytes

    Returns
    -------
    bytes
    """
    files = {
        "sheet.json": json.dumps(_contents(plan, today), ensure_ascii=False).encode(),
        "drawing.svg": cutting_svg(plan).encode(),
    }
    template = (resources.files("etchbook.report") / "cutting_sheet.typ").read_text(encoding="utf-8")
    return typeset_pdf(template, files, datetime.combine(today, time(12), tzinfo=UTC))


def _contents(plan: CutPlan, today: date) -> dict[str, Any]:
    sections = [f"section {section_words(plan, n)}" for n in range(len(plan.sections))]
    return {
        "title": title(plan),
        "year": today.year,
        "month": today.month,
        "day": today.day,
        "alt": f"Coupon from above with its cuts. {'; '.join(sections)}.",
        "caption": "Thick: saw cuts with their number and edges in mm. Dash-dotted: the plane that will be read. "
        ""
        "Crossed out: discarded. Start side: towards the start of the weld; end side: towards its end.",
        "sections": sections,
        "cuts": [
            {
                "number": str(cut.number),
                "from": mm(cut.start),
                "to": mm(cut.end),
                "parts": f"{letter(cut.before)} | {letter(cut.after)}",
                "why": WHY[cut.why],
            }
            for cut in plan.cuts
        ],
        "pieces": [
            {
                "code": piece.code,
                "span": f"{mm(piece.start)}–{mm(piece.end)}",
                "use": use_words(piece),
                "facing": facing_words(piece),
            }
            for piece in plan.pieces
        ],
        "notes": [*plan.notes, f"In the book: {book_words(plan)}"],
        "known": [{"fact": item.fact, "source": item.source, "status": item.status} for item in plan.rule.known],
    }
