"""A corrected reading as a labelled example: what a workshop knows and no program yet does."""

import json
from dataclasses import asdict
from typing import Any

from etchbook.report.document import points_list, reading_document
from etchbook.report.wording import LANDMARKS
from etchbook.section import Reading


def labelled_example(
    reading: Reading, picture_bytes: bytes, picture_suffix: str, regions_png: bytes
) -> dict[str, bytes]:
    """The files of one labelled example, by name.

    Parameters
    ----------
    reading : the reading, corrections and all
    picture_bytes : the photograph as it was, byte for byte
    picture_suffix : its ending, such as ``.jpg``
    regions_png : regions of the photo's size (0 surroundings, 1 plate, 2 HAZ, 3 weld metal)

    Returns
    -------
    dict
        ``photo.<suffix>``, ``regions.png``, ``marks.json``, ``reading.json``.
    """
    document = reading_document(reading)
    return {
        f"photo{_ending(picture_suffix)}": picture_bytes,
        "regions.png": regions_png,
        "marks.json": _json(
            {"picture": document["picture"], **_groove(reading), "marks": marks_document(reading)},
        ),
        "reading.json": _json(document),
    }


def marks_document(reading: Reading) -> dict[str, Any]:
    """The marks as a marks file holds them, so that the same command can be given again."""
    told: dict[str, Any] = {}
    for name in dict.fromkeys(mark.name for mark in reading.marks):
        same = [mark for mark in reading.marks if mark.name == name]
        points = [point for mark in same for point in points_list(mark.points)]
        if name in LANDMARKS:
            told[name] = points[-1]
        else:
            told[name] = {"follow": True, "points": points} if any(mark.replaces for mark in same) else points
    return told


def _groove(reading: Reading) -> dict[str, Any]:
    """The stated preparation, as a marks file holds it; nothing where none was stated."""
    groove = reading.joint.groove
    return {} if groove is None else {"groove": {k: v for k, v in asdict(groove).items() if v is not None}}


def _ending(suffix: str) -> str:
    letters = "".join(letter for letter in suffix.lower() if letter.isascii() and letter.isalnum())
    return f".{letters}" if letters else ""


def _json(content: object) -> bytes:
    return (json.dumps(content, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()
