"""Plan the cuts of a coupon, from options or from a TOML file."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from etchbook.preparation import CutPlan, CutWish, plan_cuts
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.scales import number
from etchbook.usecases.words import family_named

INCH = 25.4
_KINDS: Mapping[str, str] = {
    "coupon": "words",
    "family": "family",
    "prove": "words",
    "first": "words",
    "length": "mm",
    "width": "mm",
    "thickness_1": "mm",
    "thickness_2": "mm",
    "discard": "mm",
    "kerf": "mm",
    "slice": "mm",
    "allowance": "mm",
    "reserve": "mm",
    "at": "places",
    "start_stops": "places",
    "sections": "count",
    "full_penetration": "switch",
    "branch": "switch",
}
_NEEDED = tuple(
    f.name for f in fields(CutWish) if f.name in ("coupon", "length", "width", "family", "prove", "thickness_1")
)


def cut_wish(said: Mapping[str, Any]) -> CutWish:
    """A coupon and what is to be proven on it, as a person typed it.

    Parameters
    ----------
    said : by name of the fields of CutWish (``joint`` may stand for ``family``); lengths as numbers [mm] or as
        text with ``mm`` or ``in``; places as a list, or text with commas; what is None or "" is left at its usual value

    Returns
    -------
    CutWish
        RefusedError, one sentence, where a field is missing or cannot be used.
    """
    named = {("family" if key == "joint" else key.replace("-", "_")): value for key, value in said.items()}
    given = {key: value for key, value in named.items() if value is not None and value != ""}
    for key in given:
        if key not in _KINDS:
            raise RefusedError(f'a plan of cuts knows no "{key}": use {", ".join(("joint", *_KINDS))}')
    for key in _NEEDED:
        if key not in given:
            raise RefusedError(f"the plan of cuts needs {'the joint' if key == 'family' else key}, and none was given")
    read = {key: _read(key, value) for key, value in given.items()}
    return CutWish(**{**read, "coupon": _bead(read["coupon"])})


def _bead(typed: str) -> str:
    """The code of a bead as the book writes it: N1-03 for n1-3."""
    trial, hyphen, number = typed.upper().removesuffix("-0").partition("-")
    return f"{trial}-{int(number):02d}" if hyphen and number.isdecimal() else typed


def cut_wish_from(text: str, *, over: Mapping[str, Any] | None = None) -> CutWish:
    """A coupon and what is to be proven on it out of the text of a TOML file; see `cut_wish`.

    Parameters
    ----------
    text : one ``field = value`` a line
    over : fields that were typed beside the file and go before it; its ``coupon`` is the file's own name and is left
    """
    try:
        held = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RefusedError(f"the plan of cuts is not TOML: {error}") from None
    typed = {key: value for key, value in (over or {}).items() if key != "coupon"}
    if "joint" in typed:
        held.pop("family", None)
    return cut_wish({**held, **typed})


def cuts(wish: CutWish) -> CutPlan:
    """Where to saw, and the pieces that come of it."""
    return plan_cuts(wish)


def _read(key: str, value: Any) -> Any:
    kind = _KINDS[key]
    if kind == "mm":
        return length_mm(value, key)
    if kind == "places":
        return _places(value, key)
    if kind == "count":
        return _count(value, key)
    if kind == "switch":
        if not isinstance(value, bool):
            raise RefusedError(f"{key} must be true or false, not {value!r}")
        return value
    if not isinstance(value, str):
        raise RefusedError(f"{key} must be text in quotes, not {value!r}")
    return family_named(value) if kind == "family" else value.strip()


def length_mm(value: Any, what: str) -> float:
    """A length [mm] out of a number, or out of text with ``mm`` or ``in``; fractions of an inch as ``1/16 in``."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return number(str(value), what)
    if not isinstance(value, str):
        raise RefusedError(f"{what} must be a length such as 150 or 6 in, not {value!r}")
    plain = value.strip().lower()
    inches = plain.endswith(("in", '"'))
    plain = re.sub(r'\s*(mm|in|")$', "", plain)
    over, slash, under = plain.partition("/")
    size = number(over, what) / (_under(under, what) if slash else 1.0)
    return size * INCH if inches else size


def _under(text: str, what: str) -> float:
    value = number(text, what)
    if value <= 0:
        raise RefusedError(f"{what} is a fraction over {text}: write it as 1/16 in, or in mm")
    return value


def _places(value: Any, key: str) -> tuple[float, ...]:
    if isinstance(value, str):
        value = [part for part in value.split(",") if part.strip()]
    if isinstance(value, int | float):
        value = [value]
    if not isinstance(value, list | tuple):
        raise RefusedError(f"{key} must be places such as 80, 160, not {value!r}")
    return tuple(length_mm(part, key) for part in value)


def _count(value: Any, key: str) -> int:
    size = number(str(value), key)
    if isinstance(value, bool) or size != int(size):
        raise RefusedError(f"{key} must be a whole number, not {value}")
    return int(size)
