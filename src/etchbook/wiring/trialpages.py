"""Pages of trials: a plan's documents and sheets, results on their way in."""

import csv
import io
import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date

from etchbook.quantity import Absent, Measured
from etchbook.trials.planning import Plan
from etchbook.usecases import RefusedError
from etchbook.usecases.dialling import Dialled
from etchbook.usecases.planned import plan_document
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import ReportPress, json_bytes

KEY_NAME = "key.sealed.json"


def plan_pages(made: Plan, *, today: date | None = None, only: str = "") -> Mapping[str, bytes]:
    """Files of a plan by name: the open plan, the sealed key, the welder's sheet with labels, the helper's sheet.

    Parameters
    ----------
    today : printed as the day of the sheets
    only : name of the one that is wanted; all of them where ""
    """
    from etchbook.report.run_sheet import run_sheet_pdf

    day = today or date.today()
    makers: dict[str, Callable[[], bytes]] = {
        "plan.json": lambda: json_bytes(plan_document(made)),
        KEY_NAME: lambda: json_bytes(made.key),
        "run-sheet.pdf": lambda: run_sheet_pdf(made, today=day, with_arms=False),
        "helper.sealed.pdf": lambda: run_sheet_pdf(made, today=day, with_arms=True),
    }
    return {name: make() for name, make in makers.items() if name == only or not only}


def results_from(
    words: Sequence[str], response: str, covariate: str = ""
) -> tuple[dict[str, Measured], dict[str, float]]:
    """Results and covariates by code.

    Parameters
    ----------
    words : ``CODE=1.23``, ``CODE=1.23±0.05``, ``CODE=READING.json``, each with ``@20`` for the covariate behind it,
        or a CSV file of code,value,u and a column of the covariate
    response : id of the dimension that is taken out of readings
    covariate : what the plan named to be measured beside
    """
    told: dict[str, Measured] = {}
    beside: dict[str, float] = {}
    for word in words:
        for code, value, along in _results(word, response, covariate):
            if code in told:
                raise RefusedError(f"bead {code} has two results; a bead counts once")
            told[code] = value
            beside |= {} if along is None else {code: along}
    return told, beside


def _results(word: str, response: str, covariate: str) -> list[tuple[str, Measured, float | None]]:
    if word.lower().endswith(".csv"):
        return _table(FilesDesk().text(word), word, covariate)
    code, equals, value = word.partition("=")
    if not equals or not code.strip():
        raise RefusedError(f'"{word}" is no result: write CODE=1.23, CODE=READING.json or a CSV file')
    value, at, along = value.partition("@")
    beside = _along(along, code) if at else None
    if value.lower().endswith(".json"):
        return [(code.strip(), reading_value(value, response), beside)]
    number, _, spread = value.partition("±")
    return [(code.strip(), _measured(number, spread or "0", code), beside)]


def _along(text: str, code: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise RefusedError(f'what was measured beside bead {code} is a number, not "{text}"')
    return value


def reading_value(path: str, response: str) -> Measured:
    """One dimension of a kept reading, or a refusal that says why it is not there."""
    held = ReportPress().reading(FilesDesk().text(path)).dimensions.get(response)
    if held is None:
        raise RefusedError(f"{path} has no {response}: it is no dimension of that joint")
    if isinstance(held, Absent):
        raise RefusedError(f"{path} has no {response}: {held.reason}")
    return held


def _table(text: str, name: str, covariate: str) -> list[tuple[str, Measured, float | None]]:
    rows = list(csv.DictReader(io.StringIO(text)))
    if not rows or not {"code", "value"} <= set(rows[0]):
        raise RefusedError(f"{name} needs a heading line code,value,u and a line for each bead")
    return [_line(row, covariate) for row in rows]


def _line(row: Mapping[str, str | None], covariate: str) -> tuple[str, Measured, float | None]:
    code, along = (row["code"] or "").strip(), (row.get(covariate) or "") if covariate else ""
    return code, _measured(row["value"] or "", row.get("u") or "0", code), _along(along, code) if along else None


def _measured(value: str, spread: str, code: str) -> Measured:
    try:
        number, u = float(value), float(spread)
    except ValueError:
        number, u = math.nan, math.nan
    if not (math.isfinite(number) and math.isfinite(u) and u >= 0):
        raise RefusedError(f"the result of {code} is a number with its u, not {value}±{spread}")
    return Measured(value=number, u=u, unit="mm")


def contour_page(found: Dialled, response: str) -> bytes:
    """Contour lines over the first two settings, the others held where the next bead is to be."""
    from etchbook.report.contours import contour_svg

    first, second = (factor.name for factor in found.surface.factors[:2])
    held = {name: value for name, value in (found.next_bead or {}).items() if name not in (first, second)}
    return contour_svg(
        found.surface, first, second, held, response=response, beads=found.beads, next_bead=found.next_bead
    ).encode()
