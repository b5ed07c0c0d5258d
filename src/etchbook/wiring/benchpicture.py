"""Readings kept open at the bench while somebody moves marks on them, and saved as a new edition."""

import json
from collections import OrderedDict
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from etchbook.section import Mark, Reading
from etchbook.trials.records import PictureEntry, ReadingEdition
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.usecases.keeping.readings import keep_reading
from etchbook.usecases.meeting import MetError, met
from etchbook.wiring import moving
from etchbook.wiring.apart import QUICK, SLOW
from etchbook.wiring.benchviews import reading_in
from etchbook.wiring.laidout import section_file, with_folder
from etchbook.wiring.remeasured import ScaleFound, read_anew, remember, scale_in

R = TypeVar("R")
MOST_SCALES = 32
_scales: OrderedDict[tuple[str, str], ScaleFound] = OrderedDict()


def at_hand(store: BookStore, record: ReadingEdition, use: Callable[[Path], R]) -> R:
    """Use the decoded photograph of a reading; nothing of it is decoded in this process."""
    entry, _ = held(store, record.code.rpartition("-")[0], PictureEntry)
    return with_folder(store, entry.sha256, entry.suffix, entry.name, use)


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


def scale_of(folder: Path, reading: Reading, typed: str) -> ScaleFound:
    """The scale of the reading, or the one that a person asked for instead."""
    if not typed:
        return reading.scale
    # Looking for a rule takes a while, and a drag asks many times a second.
    return remember(_scales, (folder.name, typed), MOST_SCALES, lambda: SLOW.ask(scale_in, str(folder), typed))


def moved(store: BookStore, code: str, told: dict[str, Any], typed: str, quick: bool, edition: int = 0) -> bytes:
    """What marks make of a reading, as JSON for the page.

    Parameters
    ----------
    told : marks as in a marks file
    typed : where the scale is to come from, "" to leave it
    quick : while a point is being dragged
    edition : that the person began with, 0 for the newest; what changed is told against it
    """
    record, _, reading = reading_in(store, code, edition)
    marks = marks_in(told, reading)

    def measured(folder: Path) -> bytes:
        section = section_file(folder, reading.joint)
        scale = scale_of(folder, reading, typed)
        asked = (str(folder), str(section), moving.bare(reading), scale, marks)
        if quick:
            made: bytes = QUICK.ask(moving.told, *asked, True)
            return made
        QUICK.ready(moving.told, *asked, True)  # the page was opened: its first drag finds everything at hand
        whole: bytes = SLOW.ask(moving.told, *asked, False)
        return whole

    return at_hand(store, record, measured)


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
        raise _met(store, hand, record.code, told, typed, (seen, newest))
    marks = marks_in(told, reading)

    def read(folder: Path) -> Reading:
        found: Reading = SLOW.ask(read_anew, str(folder), reading, scale_of(folder, reading, typed), marks, PROGRAM)
        return found

    made = at_hand(store, record, read)
    picture = record.code.rpartition("-")[0]
    document = ReportPress().page("json", made, None, None)
    return keep_reading(store, hand, picture, made, document, expects=seen)[1]


def _met(
    store: BookStore, hand: Hand, code: str, told: dict[str, Any], typed: str, editions: tuple[int, int]
) -> MetError:
    """The refusal that carries what was not saved."""
    seen, newest = editions
    _, _, before = reading_in(store, code, seen)
    _, _, now = reading_in(store, code)
    entry = store.entry(code)
    draft = {"code": code, "seen": seen, "marks": told, "scale": typed, "person": hand.by, "at": hand.at}
    who = entry.by if entry is not None else "somebody"
    return met(who, seen, newest, before.dimensions, now.dimensions, draft)
