"""Limits of a shop's own as rows that can be filled in, and as the TOML that every command takes."""

import json
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass

from etchbook.tables import TablesError, own_limits
from etchbook.usecases.errors import RefusedError

WORDS = ("title", "clause", "remark")
BOUNDS = ("least", "most", "cap")


@dataclass(frozen=True, kw_only=True, slots=True)
class OwnRow:
    """Limits on one dimension as they were filled in; "" where a field was left empty.

    Parameters
    ----------
    least, most, cap : numbers [unit of the dimension] or formulas
    short : whether more than nothing is permitted only where it is short
    """

    dimension: str
    least: str = ""
    most: str = ""
    cap: str = ""
    short: bool = False
    title: str = ""
    clause: str = ""
    remark: str = ""


class OwnRowError(RefusedError):
    """A row that cannot be used; `row` is its place, `key` the field that is at fault."""

    def __init__(self, row: int, key: str, text: str) -> None:
        super().__init__(text)
        self.row, self.key = row, key


def toml_of(title: str, rows: Sequence[OwnRow]) -> str:
    """The rows as TOML, looked over row by row.

    Raises
    ------
    OwnRowError
        With the place of the first row that cannot be used, and which of its fields.
    """
    seen: set[str] = set()
    for place, row in enumerate(rows):
        if row.dimension in seen:
            raise OwnRowError(
                place, "dimension", f"{row.dimension.replace('_', ' ')} stands there twice: put both into one row"
            )
        seen.add(row.dimension)
        _look_over(place, row)
    text = "\n".join([f"title = {_quoted(title or 'own limits')}", *(_table(row) for row in rows)])
    own_limits(text)
    return text


def _look_over(place: int, row: OwnRow) -> None:
    for key in ("least", "most"):
        if getattr(row, key):
            _try(place, key, OwnRow(dimension=row.dimension, **{key: getattr(row, key)}))
    _try(place, "cap" if row.cap else "short" if row.short and row.most else "least", row)


def _try(place: int, key: str, row: OwnRow) -> None:
    try:
        own_limits(_table(row))
    except TablesError as error:
        raise OwnRowError(place, key, str(error)) from None


def _table(row: OwnRow) -> str:
    lines = [f"\n[{_quoted(row.dimension)}]"]
    lines += [f"{key} = {_bound(getattr(row, key))}" for key in BOUNDS if getattr(row, key)]
    lines += ["short = true"] if row.short else []
    lines += [f"{key} = {_quoted(getattr(row, key))}" for key in WORDS if getattr(row, key)]
    return "\n".join([*lines, ""])


def _bound(typed: str) -> str:
    """A number as a number, in whichever way its decimals are parted; anything else as a formula."""
    plain = typed.strip().replace(",", ".")
    try:
        return repr(float(plain)) if plain.lower() not in ("nan", "inf", "-inf", "infinity") else _quoted(typed)
    except ValueError:
        return _quoted(typed.strip().replace("×", "*"))


def _quoted(text: str) -> str:
    return json.dumps(" ".join(text.split()), ensure_ascii=False)


def rows_of(text: str) -> tuple[str, tuple[OwnRow, ...]]:
    """Title and rows of a TOML of own limits, to be filled in again."""
    own_limits(text)
    held = tomllib.loads(text)
    title = str(held.get("title", ""))
    tables = {name: table for name, table in held.items() if isinstance(table, dict)}
    return title, tuple(_row(name, table) for name, table in tables.items())


def _row(name: str, table: dict[str, object]) -> OwnRow:
    said = {key: _plain(table[key]) for key in (*BOUNDS, *WORDS) if key in table}
    return OwnRow(dimension=name, short=table.get("short") is True, **said)


def _plain(value: object) -> str:
    return f"{value:g}" if isinstance(value, int | float) else str(value)
