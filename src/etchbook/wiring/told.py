"""Figures of the welding arithmetic as cells of a table and as plain data, in both systems of units."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from etchbook.procedure import Figure
from etchbook.quantity import Absent, Measured, rounded
from etchbook.wiring.both import other_system


def cells(one: Figure) -> tuple[str, ...]:
    """A figure as the cells of a table: label, value, U, unit, the inch system, id."""
    assert isinstance(one.quantity, Measured)
    other = other_system(one.quantity)
    value, spread = printed(one.quantity)
    inches = "" if other is None else f"{printed(other)[0]} {other.unit}"
    return one.label, value, spread, one.quantity.unit, inches, one.id


def printed(quantity: Measured) -> tuple[str, str]:
    """A value and its U as they are printed; a U that nobody stated is said to be so."""
    if quantity.u > 0:
        value, spread = rounded(quantity)
        return value, spread
    return f"{quantity.value:.4g}", "not stated"


def reasons(absent: Iterable[Figure]) -> dict[str, list[str]]:
    """What is not reckoned, gathered by the reason."""
    found: dict[str, list[str]] = {}
    for one in absent:
        assert isinstance(one.quantity, Absent)
        found.setdefault(one.quantity.reason, []).append(one.label)
    return found


def as_record(one: Figure) -> dict[str, Any]:
    """A figure as plain data, in both systems of units."""
    other = other_system(one.quantity)
    record = {"id": one.id, "label": one.label} | plain(one.quantity)
    record |= {"inch": None if other is None else plain(other)}
    return record | {"notes": list(one.notes), "source": one.source, "status": one.status}


def plain(quantity: Measured | Absent) -> dict[str, Any]:
    """A quantity as plain data: value, u and unit, or the reason under absent."""
    if isinstance(quantity, Absent):
        return {"value": None, "absent": quantity.reason}
    return {"value": quantity.value, "u": quantity.u, "unit": quantity.unit}


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One figure in print."""

    label: str
    value: str
    spread: str
    unit: str
    inches: str
    source: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """Figures in print: those that are known, what is not reckoned by its reason, and what to know of them."""

    known: tuple[Row, ...]
    lacking: dict[str, list[str]]
    notes: tuple[str, ...]


def told(figures: Sequence[Figure]) -> Told:
    """Figures as a page shows them."""
    known = [one for one in figures if isinstance(one.quantity, Measured)]
    return Told(
        known=tuple(_row(one) for one in known),
        lacking=reasons(one for one in figures if isinstance(one.quantity, Absent)),
        notes=tuple(dict.fromkeys(note for one in known for note in one.notes)),
    )


def _row(one: Figure) -> Row:
    label, value, spread, unit, inches, _ = cells(one)
    return Row(label=label, value=value, spread=spread, unit=unit, inches=inches, source=one.source, status=one.status)
