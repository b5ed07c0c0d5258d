"""Run every check row on the user's own machine."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from etchbook.tables import CheckRow, check_rows
from etchbook.usecases.checked import CHECKED, Answer


@dataclass(frozen=True, kw_only=True, slots=True)
class CheckResult:
    """One check row with what our function gave.

    Parameters
    ----------
    row : the row, with its source
    found : what the function gave, or the error it raised in words
    passed : whether it agrees within half the last printed place
    """

    row: CheckRow
    found: str
    passed: bool

    @property
    def id(self) -> str:
        """Machine name of the row."""
        return self.row.id

    @property
    def function(self) -> str:
        """Name of the checked function."""
        return self.row.function

    @property
    def expected(self) -> str:
        """The answer as printed in the source."""
        return self.row.expected

    @property
    def source(self) -> str:
        """Where the figure stands and how it is known."""
        row = self.row
        return f"{', '.join(part for part in (row.source, row.edition, row.clause) if part)} ({row.status})"


def run_checks() -> tuple[CheckResult, ...]:
    """Run every packaged check row.

    Returns
    -------
    tuple of CheckResult
        In the order of the rows; a function that fails is a row that does not agree.
    """
    return tuple(run_check(row) for row in check_rows())


def run_check(row: CheckRow) -> CheckResult:
    """Run one check row."""
    try:
        answer = _answer(row.function, row.inputs)
    except Exception as error:  # a check that breaks is told like one that disagrees, beside the others
        return CheckResult(row=row, found=f"{type(error).__name__}: {error}", passed=False)
    return CheckResult(row=row, found=_printed(answer), passed=_agrees(answer, row))


def _answer(function: str, inputs: Mapping[str, Any]) -> Answer:
    if function not in CHECKED:
        raise LookupError(f"no checked function is called {function}")
    return CHECKED[function](**inputs)


def _agrees(answer: Answer, row: CheckRow) -> bool:
    if isinstance(answer, str):
        return answer == row.expected
    return row.tolerance > 0 and abs(answer - float(row.expected)) <= row.tolerance


def _printed(answer: Answer) -> str:
    return answer if isinstance(answer, str) else f"{answer:.6g}"
