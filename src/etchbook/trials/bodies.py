"""Records as plain values and back, every value looked at before it is believed.

A book outlives many versions of this program: a field that is missing takes its default, a field that is
unknown is refused, since dropping it would lose what a newer program wrote.
"""

import math
import types
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from etchbook.trials.records import KINDS, Record


class BodyError(ValueError):
    """A kept record that makes no sense; its text is one plain sentence."""


def body_of(record: Record) -> dict[str, Any]:
    """A record as plain values, ready for JSON."""
    plain = _plain(record)
    assert isinstance(plain, dict)
    return plain


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    return value


def record_of(kind: str, body: object) -> Record:
    """The record of that kind that plain values hold.

    Raises
    ------
    BodyError
        Where the kind is unknown or a value does not fit its field.
    """
    if kind not in KINDS:
        raise BodyError(f'"{kind}" is not a kind of record that this version knows; a newer etchbook may')
    made: Record = _record(KINDS[kind], body, kind)
    return made


@cache
def _hints(cls: type) -> dict[str, Any]:
    return get_type_hints(cls)


def _record(cls: Any, body: object, where: str) -> Any:
    if not isinstance(body, dict):
        raise BodyError(f"{where} should hold named values")
    known = {field.name: field for field in fields(cls)}
    for name in body:
        if name not in known:
            raise BodyError(f'{where} holds "{name}", which this version does not know; a newer etchbook may')
    hints, given = _hints(cls), {}
    for name, field in known.items():
        if name in body:
            given[name] = _value(hints[name], body[name], f"{name} of {where}")
        elif field.default is MISSING and field.default_factory is MISSING:
            raise BodyError(f"{name} of {where} is missing")
    return cls(**given)


def _value(hint: Any, value: Any, where: str) -> Any:
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        return _one_of(get_args(hint), value, where)
    if origin is Literal:
        if value not in get_args(hint):
            raise BodyError(f'{where} is "{value}"; it should be one of {", ".join(map(str, get_args(hint)))}')
        return value
    if origin is tuple:
        if not isinstance(value, list | tuple):
            raise BodyError(f"{where} should be a list")
        return tuple(_value(get_args(hint)[0], item, where) for item in value)
    if origin is not None and issubclass(origin, Mapping):
        if not isinstance(value, dict):
            raise BodyError(f"{where} should hold named values")
        return {str(key): _value(get_args(hint)[1], item, where) for key, item in value.items()}
    return _record(hint, value, where) if is_dataclass(hint) else _plain_value(hint, value, where)


def _one_of(hints: tuple[Any, ...], value: Any, where: str) -> Any:
    if value is None and type(None) in hints:
        return None
    left = [hint for hint in hints if hint is not type(None)]
    return _value(left[0], value, where)


def _plain_value(hint: Any, value: Any, where: str) -> Any:
    if hint is float and isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value):
        return float(value)
    if hint in (str, int, bool) and type(value) is hint:
        return value
    words = {float: "a finite number", int: "a whole number", str: "text", bool: "true or false"}
    raise BodyError(f"{where} should be {words.get(hint, 'something else')}, not {value!r}")
