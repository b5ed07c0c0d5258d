"""A page for each indication: what was measured, its causes with the evidence, and the cheapest next test."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from etchbook.evidence import Verdict
from etchbook.picture import Picture
from etchbook.quantity import Absent, spoken
from etchbook.report.indication_drawings import close_window, crop_svg, crop_window, place_svg, profile_svg
from etchbook.report.indication_words import figures, kind_words, place_words
from etchbook.report.svg import printable
from etchbook.section import Indication, Reading
from etchbook.usecases.explained import (
    piece_words,
    prior_lines,
    range_words,
    rest_words,
    result_words,
    shown_verdicts,
    test_words,
)
from etchbook.usecases.explaining import CAUTION, Advice, Explanation
from etchbook.usecases.profiling import profile_across

MOST_PAGES = 12
"""Indications beyond this many are listed without a page of their own."""


@dataclass(frozen=True, kw_only=True, slots=True)
class IndicationPage:
    """One page: its entries as plain text and its drawings as SVG, by name (crop, close, profile, place)."""

    entries: dict[str, Any]
    drawings: dict[str, str]


def indication_pages(
    reading: Reading, explained: Sequence[Explanation], picture: Picture
) -> tuple[list[IndicationPage], list[dict[str, str]]]:
    """Pages of the indications of a reading, and rows for those that get none.

    Lines and families come before blobs; at most `MOST_PAGES` get a page.
    """
    pairs = sorted(zip(explained, reading.indications, strict=True), key=lambda pair: pair[1].kind == "blob")
    chosen = [pair for pair in pairs if len(pair[1].points)][:MOST_PAGES]
    pages = [_page(item, found, reading, picture) for item, found in chosen]
    named = {item.indication for item, _ in chosen}
    return pages, [_row(item, found) for item, found in pairs if item.indication not in named]


def _page(item: Explanation, found: Indication, reading: Reading, picture: Picture) -> IndicationPage:
    window = crop_window(found, picture)
    drawings = {"crop": crop_svg(found, picture, reading.scale, window, traced=True)}
    near = close_window(found, picture)
    if near[2] - near[0] < 0.7 * (window[2] - window[0]):
        drawings["close"] = crop_svg(found, picture, reading.scale, near, traced=False)
    if found.where.startswith("member"):
        drawings["place"] = place_svg(found)
    seen = profile_across(picture, found, reading.scale)
    if not isinstance(seen, Absent):
        drawings["profile"] = profile_svg(seen, found)
    return IndicationPage(entries=_clean(_entries(item, found)), drawings=drawings)


def _entries(item: Explanation, found: Indication) -> dict[str, Any]:
    return {
        "name": item.indication,
        "title": f"Indication {item.indication}: {kind_words(found)}, {place_words(found.where)}",
        "verdict": f"{item.weighed.sentence}.",
        "crop_caption": "The photo at its full resolution; the dots are the line as it was traced.",
        "close_caption": "The middle of it, pixel for pixel, with nothing drawn on it.",
        "figures": figures(found),
        "causes": [_cause(item, verdict) for verdict in shown_verdicts(item)],
        "rest": rest_words(item),
        "ruled_out": ", ".join(cause.label for cause in item.weighed.ruled_out),
        "place": item.place,
        "priors": list(prior_lines(item)),
        "tests": [_test(item, place) for place in range(min(len(item.tests), 3))],
        "question": item.questions[0][0].question if item.questions and not item.stop else "",
        "stop": item.stop,
        "advice": [
            {
                "text": row.text,
                "kind": "sources disagree" if row.conflict else "advice",
                "source": f"{row.source}, {row.status}",
            }
            for row in item.advice
        ],
        "bead": "" if item.bead is None else f"{item.bead.text} ({item.bead.source}, {item.bead.status})",
        "words": [{"by": remark.by, "text": remark.text} for remark in item.words],
        "caution": CAUTION,
    }


def _advice(row: Advice) -> dict[str, str]:
    kind = "sources disagree" if row.conflict else "advice"
    return {"text": row.text, "kind": kind, "source": f"{row.source}, {row.status}"}


def _cause(item: Explanation, verdict: Verdict) -> dict[str, Any]:
    held = f"; {verdict.held_back}" if verdict.held_back else ""
    return {
        "word": verdict.word,
        "label": verdict.cause.label,
        "means": verdict.cause.means,
        "chance": range_words(verdict) + held,
        "for": [piece_words(item.table, piece) for piece in verdict.evidence_for],
        "against": [piece_words(item.table, piece) for piece in verdict.evidence_against],
    }


def _test(item: Explanation, place: int) -> dict[str, Any]:
    test = item.tests[place]
    results = list(result_words(item.table, test)) if place == 0 else []
    source = f"{test.test.source}, {test.test.status}"
    return {"text": test_words(test), "how": test.test.how if place == 0 else "", "results": results, "source": source}


def _row(item: Explanation, found: Indication) -> dict[str, str]:
    row = {
        "name": item.indication,
        "what": f"{kind_words(found)}, {place_words(found.where)}",
        "length": spoken(found.length),
        "verdict": item.weighed.sentence,
    }
    return {key: printable(value) for key, value in row.items()}


def _clean(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {key: _clean(part) for key, part in value.items()}
    return [_clean(part) for part in value] if isinstance(value, list) else value
