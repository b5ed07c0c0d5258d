"""The sum of EN 1993-1-10 that says which through-thickness class a welded joint asks for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from etchbook.tables.packaged import packaged
from etchbook.usecases.errors import RefusedError

NO_CLASS = "no Z class"


@dataclass(frozen=True, kw_only=True, slots=True)
class Strained:
    """A joint whose plate is pulled through its thickness.

    Parameters
    ----------
    depth : effective weld depth, or the throat of a fillet [mm]
    is_throat : whether `depth` is a throat; the table has a column for each
    u_depth : its standard uncertainty [mm]
    thickness : of the plate that is pulled [mm]
    u_thickness : its standard uncertainty [mm]
    detail : id of a row of the table for shape and position (`details()`)
    restraint : low, medium or high
    preheated : to 100 °C or more
    compression : whether the plate is loaded in compression alone, which halves Zc
    """

    depth: float
    thickness: float
    detail: str
    restraint: str
    is_throat: bool = False
    u_depth: float = 0.0
    u_thickness: float = 0.0
    preheated: bool = False
    compression: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One part of the sum; `low` and `high` where u of its input leaves a step open."""

    symbol: str
    label: str
    given: str
    value: float
    low: float
    high: float
    source: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class LamellarSum:
    """The sum with its parts and the class that it asks for.

    Parameters
    ----------
    wanted : Z15, Z25, Z35 or "no Z class"
    wanted_low, wanted_high : the same where u leaves a step open
    """

    parts: tuple[Part, ...]
    value: float
    low: float
    high: float
    wanted: str
    wanted_low: str
    wanted_high: str

    @property
    def printed(self) -> str:
        """The sum with its figures: ``3 + 0 + 4 + 3 + 0 = 10``."""
        told = " + ".join(f"({part.value:g})" if part.value < 0 else f"{part.value:g}" for part in self.parts)
        return f"{told} = {self.value:g}".replace("-", "−")


def lamellar_sum(joint: Strained) -> LamellarSum:
    """Sum of EN 1993-1-10, 3.2, for a joint: ZEd = Za + Zb + Zc + Zd + Ze.

    Parameters
    ----------
    joint : measured or designed

    Returns
    -------
    LamellarSum
        What the joint asks for; it accepts nothing. Valid for joints whose plate is pulled through its thickness.

    Source: EN 1993-1-10 table 3.2, EN 1993-1-1 table 3.2 for the class; marks in the parts.
    """
    held = packaged("plate-classes")
    for name, value in (("the weld depth", joint.depth), ("the thickness", joint.thickness)):
        if not 0 < value < 1000:
            raise RefusedError(f"{name} must lie between 0 and 1000 mm, not at {value:g}")
    preheat = "100" if joint.preheated else "none"
    parts = (
        _depth(held["za"], joint),
        _chosen("Zb", held["zb"], joint.detail, "detail"),
        _thickness(held["zc"], joint),
        _chosen("Zd", held["zd"], joint.restraint, "restraint"),
        _chosen("Ze", held["ze"], preheat, "preheat"),
    )
    value, low, high = (sum(getattr(part, name) for part in parts) for name in ("value", "low", "high"))
    return LamellarSum(
        parts=parts,
        value=value,
        low=low,
        high=high,
        wanted=class_for(value),
        wanted_low=class_for(low),
        wanted_high=class_for(high),
    )


def class_for(total: float) -> str:
    """The through-thickness class that a sum asks for: none up to 10, Z15 to 20, Z25 to 30, Z35 above."""
    asked = [row["id"] for row in packaged("plate-classes")["z_class"] if total > row["from_sum"] - 1]
    return asked[-1] if asked else NO_CLASS


def details() -> Mapping[str, str]:
    """Shapes and positions of the weld that the table knows: id -> words."""
    return {row["id"]: row["label"] for row in packaged("plate-classes")["zb"]}


def _depth(table: Mapping[str, Any], joint: Strained) -> Part:
    steps = table["throat_steps" if joint.is_throat else "steps"]
    what = "throat" if joint.is_throat else "effective depth"
    return _stepped(
        "Za", table, f"{what} {_size(joint.depth, joint.u_depth)}", _around(steps, joint.depth, joint.u_depth)
    )


def _thickness(table: Mapping[str, Any], joint: Strained) -> Part:
    found = _around(table["steps"], joint.thickness, joint.u_thickness)
    given = _size(joint.thickness, joint.u_thickness)
    if joint.compression:
        return _stepped("Zc", table, f"{given}; {table['halved']}", tuple(value / 2 for value in found))
    return _stepped("Zc", table, given, found)


def _stepped(symbol: str, table: Mapping[str, Any], given: str, found: Sequence[float]) -> Part:
    low, value, high = found
    return Part(
        symbol=symbol,
        label=table["label"],
        given=given,
        value=value,
        low=low,
        high=high,
        source=table["source"],
        status=table["status"],
    )


def _size(mm: float, u: float) -> str:
    return f"{mm:.2f} ± {2 * u:.2f} mm" if u else f"{mm:g} mm"


def _around(steps: Sequence[Mapping[str, float]], mm: float, u: float) -> tuple[float, ...]:
    """The value of the step, with those two standard uncertainties below and above."""
    return tuple(_step(steps, size) for size in (max(mm - 2 * u, 0.0), mm, mm + 2 * u))


def _step(steps: Sequence[Mapping[str, float]], mm: float) -> float:
    return next(step["value"] for step in steps if mm <= step.get("most", float("inf")))


def _chosen(symbol: str, rows: Sequence[Mapping[str, Any]], wanted: str, what: str) -> Part:
    row = next((row for row in rows if row["id"] == wanted), None)
    if row is None:
        raise RefusedError(f'"{wanted}" is no {what}: use {", ".join(row["id"] for row in rows)}')
    return Part(
        symbol=symbol,
        label=row["label"],
        given="",
        value=row["value"],
        low=row["value"],
        high=row["value"],
        source=row["source"],
        status=row["status"],
    )
