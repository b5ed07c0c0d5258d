"""Readings kept open at the bench while somebody moves marks on them, and saved as a new edition."""

import json
from collections import OrderedDict
from dataclasses import replace
from threading import Lock
from typing import Any

from etchbook.picture import NoScale, Scale
from etchbook.section import KnownThickness, Mark, Reading, read_section
from etchbook.section.again import Again, OpenSection, measured_again, open_section
from etchbook.trials.records import ReadingEdition
from etchbook.usecases.keeping.errors import ChangedMeanwhileError
from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.usecases.keeping.readings import keep_reading
from etchbook.usecases.reading import find_scale
from etchbook.usecases.remeasuring import differences
from etchbook.usecases.scales import scale_wish
from etchbook.wiring.benchviews import photograph, reading_in

MOST_OPEN = 2
_open: OrderedDict[str, OpenSection] = OrderedDict()
_lock = Lock()
ScaleFound = Scale | NoScale | KnownThickness
MOST_SCALES = 32
_scales: OrderedDict[tuple[str, str], ScaleFound] = OrderedDict()


def opened(store: BookStore, record: ReadingEdition, reading: Reading) -> OpenSection:
    """The section of a reading, looked at once and then kept; a photograph takes much room, so few are."""
    key = f"{record.picture} {reading.joint!r}"
    with _lock:
        if key not in _open:
            _open[key] = open_section(photograph(store, record.code.rpartition("-")[0]), reading.joint)
        _open.move_to_end(key)
        while len(_open) > MOST_OPEN:
            _open.popitem(last=False)
        return _open[key]


def marks_in(told: dict[str, Any], reading: Reading) -> tuple[Mark, ...]:
    """Marks out of JSON, checked against the picture as those of a file are."""
    from etchbook.files import marks_from

    if not told:
        return ()
    return marks_from(json.dumps(told), "the picture", size=(reading.picture.width, reading.picture.height))


def told_marks(marks: tuple[Mark, ...]) -> dict[str, Any]:
    """Marks as JSON, for a page to begin with."""
    return {
        one.name: {"follow": one.replaces, "points": one.points.tolist()}
        if one.replaces or len(one.points) > 1 or not one.name.startswith(("toe", "joint", "root_toe"))
        else one.points[0].tolist()
        for one in marks
    }


def scale_of(section: OpenSection, reading: Reading, typed: str) -> ScaleFound:
    """The scale of the reading, or the one that a person asked for instead."""
    if not typed:
        return reading.scale
    key = (section.picture.sha256, typed)
    if key not in _scales:  # looking for a rule takes a while, and a drag asks many times a second
        _scales[key] = find_scale(section.picture, scale_wish(None, None, typed))
        while len(_scales) > MOST_SCALES:
            _scales.popitem(last=False)
    return _scales[key]


def moved(store: BookStore, code: str, told: dict[str, Any], typed: str, quick: bool) -> tuple[Again, Reading]:
    """What marks make of a reading.

    Parameters
    ----------
    told : marks as in a marks file
    typed : where the scale is to come from, "" to leave it
    quick : while a point is being dragged
    """
    record, _, reading = reading_in(store, code)
    marks = marks_in(told, reading)
    section = opened(store, record, reading)
    return measured_again(section, scale_of(section, reading, typed), marks, quick=quick), reading


def save(store: BookStore, hand: Hand, code: str, told: dict[str, Any], typed: str, seen: int) -> int:
    """Read the picture with the marks and keep that as the next edition.

    Parameters
    ----------
    seen : the edition that the person worked on; where there is a newer one, what it changed is told instead
    """
    from etchbook.wiring.library import PROGRAM
    from etchbook.wiring.press import ReportPress

    record, newest, reading = reading_in(store, code)
    if newest != seen:
        raise ChangedMeanwhileError(_changed(store, code, seen, newest))
    marks, section = marks_in(told, reading), opened(store, record, reading)
    scale = scale_of(section, reading, typed)
    made = read_section(section.picture, reading.joint, scale, marks=marks, preparation=reading.preparation,
                        notes=reading.notes, program=PROGRAM)  # fmt: skip
    made = replace(made, notes=tuple(dict.fromkeys(made.notes)), picture=reading.picture)
    picture = record.code.rpartition("-")[0]
    document = ReportPress().page("json", made, None, None)
    return keep_reading(store, hand, picture, made, document, expects=seen)[1]


def _changed(store: BookStore, code: str, seen: int, newest: int) -> str:
    _, _, before = reading_in(store, code, seen)
    _, _, now = reading_in(store, code)
    entry = store.entry(code)
    who = entry.by if entry is not None else "somebody"
    changed = "; ".join(differences(before.dimensions, now.dimensions)) or "no number, but the outline"
    return f"{who} saved edition {newest} meanwhile, nothing of yours was written. It changed: {changed}"
