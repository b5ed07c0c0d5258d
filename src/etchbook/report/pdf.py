"""The report as a tagged PDF."""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

from etchbook.acceptance.records import Judgement, Verdict
from etchbook.picture import Picture
from etchbook.report.contents import contents
from etchbook.report.cut_sketch import cut_sketch
from etchbook.report.drawing import drawing_svg
from etchbook.report.facts import Issue
from etchbook.report.indication_page import IndicationPage, indication_pages
from etchbook.report.overlay import overlay_svg, weld_window
from etchbook.report.shapes import shape_svg, slug
from etchbook.report.strokes import measured_lines
from etchbook.report.typeset import typeset_pdf
from etchbook.section import Reading
from etchbook.usecases.explaining import Explanation


def pdf(
    reading: Reading,
    picture: Picture,
    judgement: Judgement | None = None,
    *,
    today: date,
    explained: Sequence[Explanation] | None = None,
) -> bytes:
    """The report on A4, as a tagged PDF (PDF/UA-1) with our own typeface inside.

    Parameters
    ----------
    reading, picture : the reading and its photo
    judgement : what it was held against, where it was
    today : printed as the day of the report; the same input and day give the same bytes
    explained : one for each indication; without them indications get no page

    Returns
    -------
    bytes
    """
    window = weld_window(reading)
    sheet = contents(Issue(reading=reading, judgement=judgement, window=window, today=today))
    pages, further = ([], []) if explained is None else indication_pages(reading, explained, picture)
    sheet |= _for_template(reading, judgement, today) | {"indications": [_entries(page) for page in pages]}
    files = {
        "sheet.json": json.dumps(sheet | {"further": further}, ensure_ascii=False).encode(),
        "indication.typ": (resources.files("etchbook.report") / "indication.typ").read_bytes(),
        "photo.svg": overlay_svg(reading, picture, window=window, longest=1900).encode(),
        "drawing.svg": drawing_svg(reading).encode(),
        "cut.svg": cut_sketch(reading.preparation.cut, reading.preparation.specimen).encode(),
    }
    files |= {f"shape_{slug(verdict)}.svg": shape_svg(verdict).encode() for verdict in Verdict}
    files |= {name: svg for page in pages for name, svg in _drawings(page).items()}
    template = (resources.files("etchbook.report") / "sheet.typ").read_text(encoding="utf-8")
    return typeset_pdf(template, files, datetime.combine(today, time(12), tzinfo=UTC))


def _entries(page: IndicationPage) -> dict[str, Any]:
    name = page.entries["name"]
    return page.entries | {"drawings": {kind: f"indication_{name}_{kind}.svg" for kind in page.drawings}}


def _drawings(page: IndicationPage) -> dict[str, bytes]:
    return {f"indication_{page.entries['name']}_{kind}.svg": svg.encode() for kind, svg in page.drawings.items()}


def _for_template(reading: Reading, judgement: Judgement | None, today: date) -> dict[str, Any]:
    lines = "; ".join(line.words for line in measured_lines(reading))
    return {
        "year": today.year,
        "month": today.month,
        "day": today.day,
        "odds": "" if judgement is None else f"{1 / judgement.risk:.0f}",
        "photo_alt": f"Photo of the section with outline and measured lines. {lines}.",
        "drawing_alt": f"Line drawing of the section. {lines}.",
    }
