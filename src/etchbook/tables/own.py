"""A person's own limits, written in TOML."""

import math
import tomllib
from collections.abc import Mapping
from typing import Any

from etchbook.tables.formulas import formula
from etchbook.tables.records import Limit, LimitSet, TablesError
from etchbook.terms import DIMENSIONS

SYMBOLS = {
    "t": "thickness",
    "t_1": "thickness_1",
    "t_2": "thickness_2",
    "a": "throat_asked",
    "b": "face_width",
    "z": "longest_leg",
}
"""What the short names of own formulas stand for; ids of dimensions may be used as well."""
_KEYS = ("least", "most", "cap", "short", "title", "clause", "remark")


def own_limits(text: str) -> LimitSet:
    """Limits of a person's own.

    Parameters
    ----------
    text : TOML; ``title = "..."`` at the head, then one table a dimension with ``least`` and ``most`` as a
        number or a formula, in the unit of the dimension (mm, °, %). Formulas use t (thickness of the
        dimension's member, else the thinner one), t_1, t_2, a (throat asked for), b (face width), z (longer leg)
        or ids of dimensions. Further keys: ``cap``, ``short``, ``title``, ``clause``, ``remark``

    Returns
    -------
    LimitSet
        TablesError with one sentence where the text cannot be used.
    """
    try:
        held = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise TablesError(f"the limits are not TOML: {error}") from None
    heads = {"title": "own limits", "source": "own limits", "edition": "as given"}
    said = {name: _words(held.pop(name, usual), name) for name, usual in heads.items()}
    if not held:
        raise TablesError("the limits name no dimension: write a table such as [leg_1] with least = 6")
    rows = tuple(_row(name, table, said) for name, table in held.items())
    return LimitSet(name="own", title=said["title"], limits=rows)


def _row(name: str, table: Any, said: Mapping[str, str]) -> Limit:
    if name not in DIMENSIONS:
        raise TablesError(f'"{name}" is no dimension: see `etchbook terms` for the ids')
    if not isinstance(table, dict):
        raise TablesError(f"limits on {name} are written as a table: [{name}] and below it least or most")
    for key in table:
        if key not in _KEYS:
            raise TablesError(f'[{name}] knows no "{key}": use {", ".join(_KEYS)}')
    least, most, cap = (_bound(name, key, table.get(key, "")) for key in ("least", "most", "cap"))
    _look_over(name, least, most, cap, table)
    return Limit(
        id=name,
        number=name,
        title=_words(table.get("title", DIMENSIONS[name].label), "title"),
        reference="",
        dimensions=(name,),
        least=least,
        most=most,
        cap=cap,
        short=table.get("short", False),
        source=said["source"],
        edition=said["edition"],
        clause=_words(table.get("clause", f"[{name}]"), "clause"),
        status="given by the user",
        names=tuple(SYMBOLS.items()),
        remark=_words(table.get("remark", ""), "remark"),
    )


def _look_over(name: str, least: str, most: str, cap: str, table: Mapping[str, Any]) -> None:
    if not (least or most):
        raise TablesError(f"[{name}] needs least or most")
    if cap and not (most and not formula(cap).names):
        raise TablesError(f"cap of {name} is a number that the formula of most is not to exceed")
    if not isinstance(table.get("short", False), bool):
        raise TablesError(f"short of {name} is true or false")
    if table.get("short") and (least or not most):
        raise TablesError(f"short of {name} goes with most alone: it says how deep a short imperfection may be")
    if least and most and not (formula(least).names or formula(most).names):
        low, high = formula(least).value({}), formula(most).value({})
        if low > high:
            raise TablesError(f"least of {name} ({least}) lies above its most ({most})")


def _bound(name: str, key: str, given: Any) -> str:
    """A bound as text that is known to be a usable formula."""
    if isinstance(given, bool) or not isinstance(given, int | float | str):
        raise TablesError(f"{key} of {name} must be a number or a formula")
    if isinstance(given, int | float):
        if not math.isfinite(given):
            raise TablesError(f"{key} of {name} must be a finite number, not {given}")
        return repr(given)
    for used in formula(given).names if given.strip() else ():
        if used not in SYMBOLS and used not in DIMENSIONS:
            known = ", ".join(SYMBOLS)
            raise TablesError(f'{key} of {name} uses "{used}", which is neither one of {known} nor a dimension')
    return given.strip()


def _words(given: Any, key: str) -> str:
    if not isinstance(given, str):
        raise TablesError(f"{key} must be text in quotes")
    return given
