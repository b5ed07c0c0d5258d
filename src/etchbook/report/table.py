"""Dimensions as a table of comma-separated values."""

import csv
from io import StringIO

from etchbook.acceptance.records import Judgement
from etchbook.quantity import Absent, expanded
from etchbook.report.svg import printable
from etchbook.report.wording import factor_words
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS, dimensions_of

HEADINGS = (
    "picture",
    "dimension",
    "label",
    "value",
    "u",
    "unit",
    "U",
    "k",
    "not read because",
    "held against",
    "verdict",
)


def dimensions_csv(reading: Reading, judgement: Judgement | None = None) -> str:
    """One row a dimension, in the order in which they are told (RFC 4180, UTF-8).

    Parameters
    ----------
    reading : the reading
    judgement : adds what each dimension was held against and the verdicts on it
    """
    held = StringIO()
    rows = csv.writer(held)
    rows.writerow(HEADINGS)
    for term in dimensions_of(reading.joint.family):
        against, verdicts = _judged(term.id, judgement)
        rows.writerow(
            [safe(cell) for cell in (reading.picture.name, term.id, *_cells(reading, term.id), against, verdicts)]
        )
    return held.getvalue()


def safe(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula; numbers are left as they are."""
    text = printable(cell)
    if text[:1] in ("=", "+", "-", "@") and not _is_number(text):
        return "'" + text
    return text


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _cells(reading: Reading, name: str) -> tuple[str, ...]:
    value, label = reading.dimensions.get(name), DIMENSIONS[name].label
    if value is None or isinstance(value, Absent):
        reason = "it was not reckoned for this reading" if value is None else value.reason
        return label, "", "", "", "", "", reason
    # Figures for further reckoning keep their digits here; print rounds them.
    numbers = f"{value.value:.6g}", f"{value.u:.3g}", value.unit, f"{expanded(value):.3g}"
    return label, *numbers, factor_words(value), ""


def _judged(name: str, judgement: Judgement | None) -> tuple[str, str]:
    found = [item for item in judgement.findings if item.dimension == name] if judgement else []
    if judgement is None or not found:
        return "", ""
    return judgement.title, "; ".join(f"{item.limit.number} {item.verdict}".strip() for item in found)
