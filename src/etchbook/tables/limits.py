"""Sets of limits: standard and level."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from etchbook.tables.packaged import packaged
from etchbook.tables.records import Limit, LimitSet, TablesError

_FILES = ("iso-5817", "iso-15614-1", "aws-d1.1", "asme-ix", "ufgs-15216n")
NOT_PERMITTED = "not permitted"
PERMITTED = "permitted"


@cache
def limit_sets() -> tuple[str, ...]:
    """Names of the packaged sets, such as ``iso-5817:B``."""
    return tuple(_name(file, level) for file in _FILES for level in packaged(file)["set"])


@cache
def load_limits(name: str) -> LimitSet:
    """One packaged set of limits by its name.

    Parameters
    ----------
    name : one of `limit_sets()`

    Returns
    -------
    LimitSet
        Every row with its source, edition, clause and how it is known; TablesError for an unknown name.
    """
    if name not in limit_sets():
        raise TablesError(f'"{name}" is no set of limits: use one of {", ".join(limit_sets())}')
    file, _, level = name.partition(":")
    level = level or "all"
    held = packaged(file)
    about = held["set"][level]
    notes = (*held.get("notes", ()), *about.get("notes", ()))
    rows = [_limit(row, row[level], held) for row in held.get("row", ()) if level in row]
    if "like" in about:
        rows += _borrowed(about)
    return LimitSet(name=name, title=about["title"], limits=tuple(rows), notes=notes)


def _name(file: str, level: str) -> str:
    return file if level == "all" else f"{file}:{level}"


def _limit(row: Mapping[str, Any], level: Mapping[str, Any], held: Mapping[str, Any]) -> Limit:
    """One row at one level: what the level says comes before what the row says, and that before the file."""
    said = {**held["row_defaults"], **{key: row[key] for key in row if not isinstance(row[key], dict)}, **level}
    names = {**held.get("names", {}), **row.get("names", {})}
    rule = {"n.p.": NOT_PERMITTED, "permitted": PERMITTED}.get(said.get("rule", ""), "")
    return Limit(
        id=said["id"],
        number=said["number"],
        title=said["title"],
        reference=said.get("reference", ""),
        dimensions=tuple(said.get("dimensions", ())),
        least=str(said.get("least", "")),
        most="0" if rule == NOT_PERMITTED else str(said.get("most", "")),
        short=bool(said.get("short", False)),
        source=said["source"],
        edition=said["edition"],
        clause=said["clause"],
        status=said["status"],
        cap=str(said.get("cap", "")),
        if_short=str(said.get("if_short", "")),
        rule=rule,
        when=said.get("when", ""),
        families=tuple(said.get("families", ())),
        of=said.get("of", "x"),
        names=tuple(sorted(names.items())),
        needs=said.get("needs", ""),
        remark=said.get("remark", ""),
    )


def _borrowed(about: Mapping[str, Any]) -> list[Limit]:
    """Rows that a standard takes over from another one, some of them at another level."""
    usual, other = load_limits(about["like"]), load_limits(about["other"])
    swapped = set(about["other_items"])
    rows = [row for row in usual.limits if row.item not in swapped] + [
        row for row in other.limits if row.item in swapped
    ]
    place = {row.id: index for index, row in enumerate(usual.limits)}
    return [
        replace(row, clause=f"{row.clause}, level {_level(about, row, swapped)} by {about['by']}", remark=row.remark)
        for row in sorted(rows, key=lambda row: place[row.id])
    ]


def _level(about: Mapping[str, Any], row: Limit, swapped: set[str]) -> str:
    name: str = about["other"] if row.item in swapped else about["like"]
    return name.partition(":")[2]
