"""What the bench shows of readings, pictures and labels: each asked of the room that makes it."""

import json
from collections import OrderedDict
from collections.abc import Callable, Sequence
from datetime import date
from threading import Lock
from typing import TYPE_CHECKING, Any, TypeVar

from etchbook.evidence import Answer
from etchbook.picture import Picture
from etchbook.section import Reading
from etchbook.trials.records import IndicationEntry, PictureEntry, ReadingEdition
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.wiring import drawn

if TYPE_CHECKING:
    from etchbook.acceptance.records import Finding, Judgement
    from etchbook.usecases.explaining import Explanation
    from etchbook.usecases.keeping.labels import Label

R = TypeVar("R")
MOST_KEPT = 48
MOST_READINGS = 64
_kept: OrderedDict[tuple[str, ...], bytes] = OrderedDict()
_readings: OrderedDict[str, Reading] = OrderedDict()
_reading_lock = Lock()
_turns: dict[tuple[str, ...], Lock] = {}
_lock = Lock()


def _once(key: tuple[str, ...], make: Callable[[], bytes]) -> bytes:
    """Pages that are asked for again and again are made once, also when two ask for the same at one time."""
    with _lock:
        turn = _turns.setdefault(key, Lock())
    with turn:
        found = _kept[key] if key in _kept else make()
    with _lock:
        _kept[key] = found
        _kept.move_to_end(key)
        while len(_kept) > MOST_KEPT:
            _turns.pop(_kept.popitem(last=False)[0], None)
    return found


def reading_in(store: BookStore, code: str, edition: int = 0) -> tuple[ReadingEdition, int, Reading]:
    """A reading of the book: its record, its edition, and the reading whole."""
    record, newest = held(store, code, ReadingEdition)
    if edition and edition != newest:
        old = store.entry(record.code, edition)
        if old is not None and isinstance(old.record, ReadingEdition):
            record, newest = old.record, edition
    return record, newest, _whole(store, record.document)


def _whole(store: BookStore, document: str) -> Reading:
    """A reading as it was kept; documents never change, and a drag asks for the same many times a second."""
    from etchbook.wiring.press import ReportPress

    with _reading_lock:
        if document in _readings:
            _readings.move_to_end(document)
            return _readings[document]
    made = ReportPress().reading(store.document(document).decode())
    with _reading_lock:
        _readings[document] = made
        while len(_readings) > MOST_READINGS:
            _readings.popitem(last=False)
    return made


def photograph(store: BookStore, code: str) -> Picture:
    """A picture of the book, made one picture; it is decoded apart, here its pixels are only looked into."""
    from etchbook.wiring.laidout import laid_out

    return _with_photograph(store, code, laid_out)


def _with_photograph(store: BookStore, code: str, use: Callable[[str], R]) -> R:
    from etchbook.wiring.laidout import with_folder

    entry, _ = held(store, code, PictureEntry)
    return with_folder(store, entry.sha256, entry.suffix, entry.name, lambda folder: use(str(folder)))


def _drawn(store: BookStore, code: str, draw: Callable[..., bytes], *given: Any) -> bytes:
    """A page drawn on a picture of the book, in a process apart."""
    from etchbook.wiring.apart import SLOW

    made: bytes = _with_photograph(store, code, lambda folder: SLOW.ask(draw, folder, *given))
    return made


def preview(store: BookStore, code: str) -> bytes:
    """A picture of the book as a JPEG for a page."""
    entry, _ = held(store, code, PictureEntry)
    return _once(("preview", entry.sha256), lambda: _drawn(store, code, drawn.preview))


def overlay(store: BookStore, code: str) -> bytes:
    """A reading's outline and measured lines on its picture, as PNG."""
    record, _, reading = reading_in(store, code)
    picture = record.code.rpartition("-")[0]
    return _once(("overlay", record.document), lambda: _drawn(store, picture, drawn.overlay, reading))


def crop(store: BookStore, code: str, number: int) -> bytes:
    """An indication cut out of its picture, with its trace beside, as SVG."""
    record, _, reading = reading_in(store, code)
    picture, found = record.code.rpartition("-")[0], reading.indications[number - 1]
    key = ("crop", record.document, str(number))
    return _once(key, lambda: _drawn(store, picture, drawn.crop, found, reading.scale))


def profile(store: BookStore, code: str, number: int) -> bytes:
    """The grey profile across an indication as SVG; nothing where it has none."""
    record, _, reading = reading_in(store, code)
    picture, found = record.code.rpartition("-")[0], reading.indications[number - 1]
    key = ("profile", record.document, str(number))
    return _once(key, lambda: _drawn(store, picture, drawn.profile, found, reading.scale))


def report_page(store: BookStore, code: str, kind: str, judgement: "Judgement | None") -> bytes:
    """The report of a reading as pdf or html, with the answers that were given about its indications."""
    record, _, reading = reading_in(store, code)
    picture = record.code.rpartition("-")[0]
    return _drawn(store, picture, drawn.report, kind, reading, judgement, explained(store, code))


def explained(store: BookStore, code: str, passed: Sequence[str] = ()) -> "tuple[Explanation, ...]":
    """Every indication of a reading explained, with what people answered in the book."""
    from etchbook.usecases.answering import Said
    from etchbook.usecases.explaining import explain, name_of

    record, _, reading = reading_in(store, code)
    said = Said()
    for place, found in enumerate(reading.indications):
        entry = store.entry(f"{record.code}-X{place + 1}")
        if entry is not None and isinstance(entry.record, IndicationEntry):
            for one in entry.record.answers:
                told = Answer(observation=one.check, state=one.answer, by=one.by)
                said = said.with_answer(name_of(found, place), told)
    return explain(reading, said, passed)


def axis(finding: "Finding") -> str:
    """A finding as a small drawing, to stand in a page."""
    from etchbook.report.limit_axis import limit_axis_svg

    return limit_axis_svg(finding)


def label_sheet(labels: "Sequence[Label]", size: str, skip: int) -> bytes:
    """A sheet of labels as PDF."""
    from etchbook.report.labels import labels_pdf

    return labels_pdf(labels, size, today=date.today(), skip=skip)


def plain_reading(store: BookStore, code: str, edition: int = 0) -> dict[str, Any]:
    """A reading of the book as plain data."""
    record, _, _ = reading_in(store, code, edition)
    told: dict[str, Any] = json.loads(store.document(record.document))
    return told


def plain_judgement(reading: Reading, judgement: "Judgement") -> dict[str, Any]:
    """A judgement as plain data."""
    from etchbook.report import reading_document

    told: dict[str, Any] = dict(reading_document(reading, judgement)["judgement"])
    return told
