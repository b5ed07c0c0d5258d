"""Pages of trials: a plan's documents and sheets, results on their way in."""

import csv
import io
from collections.abc import Mapping, Sequence
from datetime import date

from etchbook.quantity import Absent, Measured
from etchbook.trials.planning import Plan
from etchbook.usecases import RefusedError
from etchbook.usecases.dialling import Dialled
from etchbook.usecases.planned import plan_document
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import ReportPress, json_bytes

KEY_NAME = "key.sealed.json"


def plan_pages(made: Plan, *, today: date | None = None) -> Mapping[str, bytes]:
    """Files of a plan by name: the open plan, the sealed key, the welder's sheet with labels, the helper's sheet."""
    from etchbook.report.run_sheet import run_sheet_pdf

    day = today or date.today()
    return {
        "plan.json": json_bytes(plan_document(made)),
        KEY_NAME: json_bytes(made.key),
        "run-sheet.pdf": run_sheet_pdf(made, today=day, with_arms=False),
        "helper.sealed.pdf": run_sheet_pdf(made, today=day, with_arms=True),
    }


def results_from(words: Sequence[str], response: str) -> dict[str, Measured]:
    """Results by code: ``CODE=1.23``, ``CODE=1.23±0.05``, ``CODE=READING.json``, or a CSV file of code,value,u."""
    told: dict[str, Measured] = {}
    for word in words:
        for code, value in _results(word, response):
            if code in told:
                raise RefusedError(f"bead {code} has two results; a bead counts once")
            told[code] = value
    return told


def _results(word: str, response: str) -> list[tuple[str, Measured]]:
    if word.lower().endswith(".csv"):
        return _table(FilesDesk().text(word), word)
    code, equals, value = word.partition("=")
    if not equals or not code.strip():
        raise RefusedError(f'"{word}" is no result: write CODE=1.23, CODE=READING.json or a CSV file')
    if value.lower().endswith(".json"):
        return [(code.strip(), reading_value(value, response))]
    number, _, spread = value.partition("±")
    return [(code.strip(), _measured(number, spread or "0", code))]


def reading_value(path: str, response: str) -> Measured:
    """One dimension of a kept reading, or a refusal that says why it is not there."""
    held = ReportPress().reading(FilesDesk().text(path)).dimensions.get(response)
    if held is None:
        raise RefusedError(f"{path} has no {response}: it is no dimension of that joint")
    if isinstance(held, Absent):
        raise RefusedError(f"{path} has no {response}: {held.reason}")
    return held


def _table(text: str, name: str) -> list[tuple[str, Measured]]:
    rows = list(csv.DictReader(io.StringIO(text)))
    if not rows or not {"code", "value"} <= set(rows[0]):
        raise RefusedError(f"{name} needs a heading line code,value,u and a line for each bead")
    return [(row["code"], _measured(row["value"], row.get("u") or "0", row["code"])) for row in rows]


def _measured(value: str, spread: str, code: str) -> Measured:
    try:
        return Measured(value=float(value), u=float(spread), unit="mm")
    except ValueError:
        raise RefusedError(f"the result of {code} is a number with its u, not {value}±{spread}") from None


def contour_page(found: Dialled, response: str) -> bytes:
    """Contour lines over the first two settings, the others held where the next bead is to be."""
    from etchbook.report.contours import contour_svg

    first, second = (factor.name for factor in found.surface.factors[:2])
    held = {name: value for name, value in (found.next_bead or {}).items() if name not in (first, second)}
    return contour_svg(
        found.surface, first, second, held, response=response, beads=found.beads, next_bead=found.next_bead
    ).encode()
