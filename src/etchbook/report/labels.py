"""Labels as a PDF: a square code to scan, the code to read, what a person wants to see beside it."""

import io
import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

from etchbook.report.label_sheets import SHEETS, Sheet
from etchbook.report.svg import printable
from etchbook.report.typeset import typeset_pdf
from etchbook.usecases.keeping.labels import Label

PT = 72 / 25.4
RIM = 1.6
"""Kept free along the edge of a label, for paper that does not lie quite true [mm]."""

WIDE = 0.68
"""About how wide a bold letter or digit is, in parts of its size."""

NARROW = 0.54
"""The same for plain text."""


def labels_pdf(labels: Sequence[Label], sheet: str, *, today: date, skip: int = 0) -> bytes:
    """Labels on sheets or on a roll, as a tagged PDF.

    Parameters
    ----------
    labels : what stands on them
    sheet : size of a label, a name out of SHEETS
    today : day of the page; the same labels and day give the same bytes
    skip : labels already used on the first sheet
    """
    paper = SHEETS[sheet]
    files = {f"code_{k}.svg": square_code(label.scanned) for k, label in enumerate(labels)}
    pages = [
        [_cell(label, k, number, paper) for k, label in enumerate(labels) for number in [k + skip]
         if number // paper.count == page]
        for page in range((len(labels) + skip - 1) // paper.count + 1)
    ]  # fmt: skip
    content = {
        "page": paper.page,
        "label": paper.label,
        "pages": pages,
        "year": today.year,
        "month": today.month,
        "day": today.day,
    }
    files["sheet.json"] = json.dumps(content, ensure_ascii=False).encode()
    template = (resources.files("etchbook.report") / "labels.typ").read_text(encoding="utf-8")
    return typeset_pdf(template, files, datetime.combine(today, time(12), tzinfo=UTC))


def square_code(text: str) -> bytes:
    """A QR code as SVG with its quiet rim; a quarter of it may be scratched and it is read all the same."""
    import segno

    out = io.BytesIO()
    segno.make(text, error="q", micro=False, boost_error=False).save(
        out, kind="svg", border=4, xmldecl=False, svgns=True, unit="mm"
    )
    return out.getvalue()


def _cell(label: Label, k: int, number: int, paper: Sheet) -> dict[str, Any]:
    x, y = paper.place(number)
    width, height = paper.label
    tall = width < 1.5 * height
    inner = width - 2 * RIM, height - 2 * RIM
    side = min(inner[0], inner[1] * 0.72) if tall else min(inner[1], inner[0] * 0.45)
    room = inner[0] if tall else inner[0] - side - 0.6
    # A code too long for one line is broken behind a hyphen rather than made too small to read.
    size = min(0.34 * height * PT, room * PT / (WIDE * len(label.written)), 20.0)
    small = 0.0 if tall else min(8.0, max(5.0, 0.075 * height * PT + 3.0))
    lines = 0 if tall else int(max(0.0, (inner[1] * PT - size * 1.5) / (small * 1.35)))
    return {
        "x": x,
        "y": y,
        "code": label.written,
        "picture": f"code_{k}.svg",
        "alt": f"Square code that says {label.scanned}",
        "tall": tall,
        "side": side,
        "room": room,
        "size": size,
        "small": small,
        "lines": [_shortened(printable(line), room * PT / (NARROW * small)) for line in label.lines[:lines]],
    }


def _shortened(line: str, signs: float) -> str:
    """As much of a line as there is room for."""
    return line if len(line) <= signs else f"{line[: max(1, int(signs) - 1)].rstrip()}…"
