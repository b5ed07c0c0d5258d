"""Check rows: figures from outside that our functions have to give again."""

from typing import Any

from etchbook.tables.packaged import packaged, packaged_names
from etchbook.tables.records import CheckRow


def check_rows() -> tuple[CheckRow, ...]:
    """Every packaged check row."""
    held = map(packaged, packaged_names("checks-"))
    return tuple(_row({**file.get("defaults", {}), **row}) for file in held for row in file["check"])


def half_place(printed: str) -> float:
    """Half the last place of a number as printed: 0.005 for ``1.90``, 0 for words.

    Taken a hair wider, because 0.005 itself has no exact binary form.
    """
    try:
        float(printed)
    except ValueError:
        return 0.0
    mantissa, _, exponent = printed.lower().partition("e")
    return 0.5 * 10.0 ** (int(exponent or 0) - len(mantissa.partition(".")[2])) * (1 + 1e-9)


def _row(said: dict[str, Any]) -> CheckRow:
    return CheckRow(
        id=said["id"],
        function=said["function"],
        inputs=said["inputs"],
        expected=said["expected"],
        tolerance=half_place(said["expected"]),
        unit=said.get("unit", ""),
        units=said.get("units", ""),
        source=said["source"],
        edition=said["edition"],
        clause=said["clause"],
        status=said["status"],
    )
