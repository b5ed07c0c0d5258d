"""What the bench shows of readings, pictures and labels: each asked of the room that makes it."""

import json
from collections import OrderedDict
from collections.abc import Callable, Sequence
from datetime import date
from threading import Lock
from typing import TYPE_CHECKING, Any

from etchbook.evidence import Answer
from etchbook.picture import Picture
from etchbook.section import Reading
from etchbook.trials.records import IndicationEntry, PictureEntry, ReadingEdition
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.wiring.benchjobs import forget, spool

if TYPE_CHECKING:
    from etchbook.acceptance.records import Finding, Judgement
    from etchbook.usecases.explaining import Explanation
    from etchbook.usecases.keeping.labels import Label

MOST_KEPT = 48
LONGEST = 1600
_kept: OrderedDict[tuple[str, ...], bytes] = OrderedDict()
_lock = Lock()


def _once(key: tuple[str, ...], make: Callable[[], bytes]) -> bytes:
    """Pages that are asked for again and again are made once; one at a time, for a photograph takes much room."""
    with _lock:
        if key not in _kept:
            _kept[key] = make()
        _kept.move_to_end(key)
        while len(_kept) > MOST_KEPT:
            _kept.popitem(last=False)
        return _kept[key]


def reading_in(store: BookStore, code: str, edition: int = 0) -> tuple[ReadingEdition, int, Reading]:
    """A reading of the book: its record, its edition, and the reading whole."""
    from etchbook.wiring.press import ReportPress

    record, newest = held(store, code, ReadingEdition)
    if edition and edition != newest:
        old = store.entry(record.code, edition)
        if old is not None and isinstance(old.record, ReadingEdition):
            record, newest = old.record, edition
    return record, newest, ReportPress().reading(store.document(record.document).decode())


def photograph(store: BookStore, code: str) -> Picture:
    """A picture of the book, made one picture."""
    from etchbook.wiring.desk import FilesDesk

    entry, _ = held(store, code, PictureEntry)
    path = spool(store.original(entry.sha256), f"x{entry.suffix}")
    try:
        return FilesDesk().photo(path)
    finally:
        forget(path)


def preview(store: BookStore, code: str) -> bytes:
    """A picture of the book as a JPEG for a page."""
    from etchbook.report.photos import photo_print

    entry, _ = held(store, code, PictureEntry)
    return _once(("preview", entry.sha256), lambda: photo_print(photograph(store, code), longest=LONGEST).jpeg)


def overlay(store: BookStore, code: str) -> bytes:
    """A reading's outline and measured lines on its picture, as PNG."""
    from etchbook.report import overlay_png

    record, _, reading = reading_in(store, code)
    picture = record.code.rpartition("-")[0]
    return _once(
        ("overlay", record.document), lambda: overlay_png(reading, photograph(store, picture), longest=LONGEST)
    )


def crop(store: BookStore, code: str, number: int) -> bytes:
    """An indication cut out of its picture, with its trace beside, as SVG."""
    from etchbook.report.indication_drawings import crop_svg, crop_window

    record, _, reading = reading_in(store, code)
    found = reading.indications[number - 1]

    def make() -> bytes:
        picture = photograph(store, record.code.rpartition("-")[0])
        return crop_svg(found, picture, reading.scale, crop_window(found, picture), traced=True).encode()

    return _once(("crop", record.document, str(number)), make)


def report_page(store: BookStore, code: str, kind: str, judgement: "Judgement | None") -> bytes:
    """The report of a reading as pdf or html, with the answers that were given about its indications."""
    from etchbook.wiring.press import ReportPress

    record, _, reading = reading_in(store, code)
    picture = photograph(store, record.code.rpartition("-")[0])
    return ReportPress().report(kind, reading, judgement, picture, explained(store, code))


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
