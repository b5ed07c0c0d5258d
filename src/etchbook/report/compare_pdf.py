"""A comparison of two groups of beads as a tagged PDF."""

import json
from collections.abc import Mapping
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

from etchbook.procedure.heat_flow import CONDUCTION
from etchbook.quantity import Absent
from etchbook.report.compare_page import CAPTIONS, bead_line, titled
from etchbook.report.compareplots import strip_pages
from etchbook.report.typeset import typeset_pdf
from etchbook.usecases.comparing import Comparison
from etchbook.usecases.comparing_words import dimension_table, moved_lines, verdict_words, view_rows, views_heading
from etchbook.usecases.effects import effect_table

PLOTS = ("order.svg", "start-temperature.svg")


def compare_pdf(made: Comparison, question: str, drawings: Mapping[str, str], *, today: date) -> bytes:
    """The comparison on A4, with its drawings.

    Parameters
    ----------
    made : the comparison
    question : id of the dimension it is about
    drawings : SVG by file name, as `compareplots` makes them
    today : printed as the day of the page; the same input and day give the same bytes
    """
    template = (resources.files("etchbook.report") / "compare.typ").read_text(encoding="utf-8")
    sheet = _contents(made, question, drawings, today)
    files = {name: svg.encode() for name, svg in drawings.items()}
    files |= {f"strips-{at}.svg": svg.encode() for at, svg in enumerate(strip_pages(made))}
    files["sheet.json"] = json.dumps(sheet, ensure_ascii=False).encode()
    return typeset_pdf(template, files, datetime.combine(today, time(12), tzinfo=UTC))


def _contents(made: Comparison, question: str, drawings: Mapping[str, str], today: date) -> dict[str, Any]:
    row = next(row for row in made.rows if row.dimension == question)
    headings, effects = effect_table(made.beside)
    rows = made.expected
    unknown = f"What the settings would do is not known: {rows.reason}." if isinstance(rows, Absent) else ""
    return {
        "title": titled(made),
        "beads": bead_line(made),
        "date": today.isoformat(),
        "year": today.year,
        "month": today.month,
        "day": today.day,
        "row_headings": list(dimension_table(made)[0]),
        "verdict": verdict_words(row),
        "views_heading": views_heading(row),
        "views": [list(cells) for cells in view_rows(row)],
        "splits": [part.words for part in made.splits.values()],
        "moved": moved_lines(made),
        "unknown": unknown,
        "effect_headings": list(headings),
        "effects": [list(cells) for cells in effects],
        "conduction": CONDUCTION[0].upper() + CONDUCTION[1:] + ".",
        "hints": [hint[0].upper() + hint[1:] + "." for hint in made.beside.hints],
        "rows": [list(cells) for cells in dimension_table(made)[1]],
        "notes": list(made.notes),
        "outlines": _drawn(drawings, ("outlines.svg",), made),
        "plots": _drawn(drawings, PLOTS, made),
        "strips": [_drawing(f"strips-{at}.svg", "strips.svg", made) for at in range(len(strip_pages(made)))],
    }


def _drawn(drawings: Mapping[str, str], names: tuple[str, ...], made: Comparison) -> list[dict[str, str]]:
    return [_drawing(name, name, made) for name in names if name in drawings]


def _drawing(file: str, kind: str, made: Comparison) -> dict[str, str]:
    return {"file": file, "caption": CAPTIONS[kind], "alt": f"{titled(made)}: {CAPTIONS[kind]}"}
