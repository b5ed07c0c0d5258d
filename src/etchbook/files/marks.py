"""A person's marks on a picture, from a JSON or TOML file."""

import json
import math
import tomllib
from dataclasses import fields
from pathlib import Path
from typing import Any, cast, get_args

import numpy as np

from etchbook.files.agreeing import check_agreement
from etchbook.files.errors import InputError
from etchbook.files.reading import read_text
from etchbook.joint import Bevelled, Groove
from etchbook.section import Mark

LANDMARKS = ("toe_1", "toe_2", "joint_root", "root_toe_1", "root_toe_2")
PAIRED = ("surface", "back", "fusion_line", "haz_edge")
SINGLE = ("weld_face", "root_face", "fusion_line", "haz_edge")
BOUNDARIES = (*SINGLE, *(f"{stem}_{member}" for stem in PAIRED for member in (1, 2)))
LARGEST_MARKS = 2_000_000
MOST_POINTS = 20_000


def load_marks(path: Path | str, *, size: tuple[int, int] | None = None) -> tuple[Mark, ...]:
    """The marks in a file.

    Parameters
    ----------
    path : JSON or TOML; landmarks are `[x, y]`, boundaries a list of points or
        `{follow = true, points = [...]}` when the boundary is to follow them as they stand;
        a table ``groove`` in it is for `load_groove`
    size : (width, height) of the picture [px], when it is known

    Returns
    -------
    tuple of Mark, in the order of the file
    """
    path = Path(path)
    return marks_from(read_text(path, LARGEST_MARKS), path.name, size=size)


def marks_from(text: str, name: str, *, size: tuple[int, int] | None = None) -> tuple[Mark, ...]:
    """The same for text already read."""
    document = _document(text, name)
    groove = document.pop("groove", None)
    inner = document.get("marks", document)
    if groove is not None and inner == {}:
        return ()
    if not isinstance(inner, dict) or not inner:
        raise InputError(f"{name} holds no marks; write at least one, such as toe_1 = [812.0, 455.5]")
    marks = tuple(_mark(key, value, name) for key, value in inner.items())
    if size is not None:
        _check_inside(marks, name, size)
    check_agreement(marks, name)
    return marks


def load_groove(path: Path | str) -> Groove | None:
    """The preparation of the joint that a marks file states in its table ``groove``; None where it states none."""
    path = Path(path)
    stated = _document(read_text(path, LARGEST_MARKS), path.name).get("groove")
    return None if stated is None else _groove(stated, path.name)


def _groove(stated: Any, name: str) -> Groove:
    known = [field.name for field in fields(Groove)]
    if not isinstance(stated, dict) or not stated or set(stated) - set(known):
        raise InputError(f"groove in {name} is a table of {', '.join(known)}, as in gap = 2.0")
    side = str(stated.get("bevelled", "both"))
    if side not in get_args(Bevelled):
        raise InputError(f'bevelled in {name} is "both", "1" or "2", not "{side}"')
    sizes = {key: value for key, value in stated.items() if key != "bevelled"}
    for key, value in sizes.items():
        if not _is_number(value) or not math.isfinite(value) or value < 0:
            raise InputError(f"{key} in {name} must be a finite number that is not negative, without a unit: mm or °")
    return Groove(bevelled=cast(Bevelled, side), **{key: float(value) for key, value in sizes.items()})


def _document(text: str, name: str) -> dict[str, Any]:
    try:
        if text.lstrip()[:1] == "{":
            document = json.loads(text, object_pairs_hook=lambda pairs: _once(pairs, name))
        else:
            document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(_unreadable(name, "TOML", str(error))) from None
    except (json.JSONDecodeError, RecursionError) as error:
        raise InputError(_unreadable(name, "JSON", str(error))) from None
    if not isinstance(document, dict):
        raise InputError(f"{name} holds no marks by name; write them like toe_1 = [812.0, 455.5]")
    return document


def _unreadable(name: str, form: str, why: str) -> str:
    if "overwrite" in why or "Cannot declare" in why:
        return f"{name} names one mark twice; keep the one that is right"
    return f"{name} is not proper {form}: {why[:1].lower()}{why[1:]}"


def _once(pairs: list[tuple[str, Any]], name: str) -> dict[str, Any]:
    """JSON would silently keep the last of two equal names; a contradiction must be said."""
    result: dict[str, Any] = {}
    for key, value in pairs:
        if key in result and result[key] != value:
            raise InputError(f"{name} sets {key} twice at different places; keep the one that is right")
        result[key] = value
    return result


def _mark(key: str, value: Any, name: str) -> Mark:
    if key in LANDMARKS:
        return Mark(name=key, points=_points([value], key, name))
    if key not in BOUNDARIES:
        known = ", ".join((*LANDMARKS, *BOUNDARIES))
        raise InputError(f'"{key}" in {name} is not something that can be marked; use {known}')
    follow, points = _follow(value, key, name)
    found = _points(points, key, name)
    if follow and len(found) < 2:
        raise InputError(f"{key} in {name} is to follow its points, so it needs at least two of them")
    return Mark(name=key, points=found, replaces=follow)


def _follow(value: Any, key: str, name: str) -> tuple[bool, Any]:
    if not isinstance(value, dict):
        return False, value
    if set(value) - {"follow", "points"} or "points" not in value or not isinstance(value.get("follow", False), bool):
        raise InputError(f"{key} in {name} must be a list of points or {{follow = true, points = [...]}}")
    return value.get("follow", False), value["points"]


def _points(value: Any, key: str, name: str) -> np.ndarray[Any, np.dtype[np.float64]]:
    if isinstance(value, list) and len(value) == 2 and all(_is_number(part) for part in value):
        value = [value]
    shaped = isinstance(value, list) and all(_is_pair(point) for point in value)
    if not shaped or not value:
        raise InputError(f"{key} in {name} must be given as [x, y], or a list of such points for a boundary")
    if len(value) > MOST_POINTS:
        raise InputError(f"{key} in {name} has more than {MOST_POINTS} points; thin them out")
    if not all(_is_number(part) and math.isfinite(part) for point in value for part in point):
        raise InputError(f"{key} in {name} has a coordinate that is not a finite number")
    return np.array(value, float)


def _is_pair(point: Any) -> bool:
    return isinstance(point, list) and len(point) == 2 and all(isinstance(part, int | float) for part in point)


def _is_number(value: Any) -> bool:
    """Whole numbers too long for a float count as none."""
    return isinstance(value, float) or (isinstance(value, int) and not isinstance(value, bool) and abs(value) < 10**12)


def _check_inside(marks: tuple[Mark, ...], name: str, size: tuple[int, int]) -> None:
    width, height = size
    for mark in marks:
        outside = ((mark.points < -0.5) | (mark.points > np.array([width - 0.5, height - 0.5]))).any(axis=1)
        if outside.any():
            x, y = mark.points[int(np.argmax(outside))]
            raise InputError(
                f"{mark.name} in {name} lies at ({x:g}, {y:g}), outside the picture of {width} x {height} pixels; "
                "mark it on the picture as it is displayed"
            )
