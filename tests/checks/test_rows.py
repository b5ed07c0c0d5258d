"""Every check row, run by the functions that ship."""

import pytest

from etchbook.tables import CheckRow, check_rows
from etchbook.usecases.checked import CHECKED
from etchbook.usecases.checks import run_check, run_checks

ROWS = check_rows()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row_agrees_with_its_source(row: CheckRow) -> None:
    result = run_check(row)
    assert result.passed, f"{row.function}: {result.found}, not {row.expected} ({result.source})"


def test_rows_are_told_apart_and_sourced() -> None:
    assert len({row.id for row in ROWS}) == len(ROWS)
    for row in ROWS:
        assert row.source and row.status in ("seen", "from memory"), row.id


def test_no_checked_function_is_without_a_row() -> None:
    assert {row.function for row in ROWS} == set(CHECKED)


def test_a_wrong_figure_does_not_pass() -> None:
    row = next(row for row in ROWS if row.id == "5817-convexity-9-B")
    wrong = CheckRow(**{name: getattr(row, name) for name in CheckRow.__slots__} | {"expected": "1.91"})
    assert not run_check(wrong).passed


def test_a_function_that_fails_is_told_and_does_not_pass() -> None:
    row = ROWS[0]
    broken = CheckRow(**{name: getattr(row, name) for name in CheckRow.__slots__} | {"function": "nowhere"})
    result = run_check(broken)
    assert not result.passed and "nowhere" in result.found


def test_all_rows_run_in_their_order() -> None:
    assert [result.row for result in run_checks()] == list(ROWS)
