"""Corrected readings of the book as labelled examples: photograph, regions, marks, reading; without location data."""

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

from etchbook.files import picture_from, without_location, write_all
from etchbook.section import Reading, read_section
from etchbook.trials import normal_code
from etchbook.trials.records import PictureEntry, ReadingEdition
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.looking import held, lookup
from etchbook.usecases.keeping.ports import BookStore
from etchbook.wiring import shelf
from etchbook.wiring.library import PROGRAM
from etchbook.wiring.press import ReportPress

NONE_YET = (
    "no reading{} has been corrected by a person: set marks with `etchbook read --marks FILE --into CODE`, or move "
    "points at the bench"
)

MOST_AT_ONCE = 12
TOO_MANY = "{} readings are more than the bench hands out at once ({}): use `etchbook book examples FOLDER CODE`"


def corrected_in(store: BookStore, typed: str = "") -> list[ReadingEdition]:
    """The readings that a person corrected, of the whole book or of what is below a code, in the order of their codes.

    Parameters
    ----------
    typed : code of a trial, bead, piece, face, picture or reading; "" for the whole book
    """
    tops = [lookup(store, typed)] if typed else list(store.every("trial", limit=100_000))
    found = [entry.record for top in tops for entry in store.tree(top.code)]
    readings = {one.code: one for one in found if isinstance(one, ReadingEdition) and one.made == "corrected"}
    if not readings:
        raise RefusedError(NONE_YET.format(f" below {normal_code(typed)}" if typed else ""))
    return [readings[code] for code in sorted(readings)]


def keep_examples(store: BookStore, readings: list[ReadingEdition], folder: str) -> Iterator[tuple[str, ...]]:
    """Write an example for each reading, in a folder named after it; the files of each as they are written."""
    for record in readings:
        place = Path(folder) / record.code
        pages = {place / name: page for name, page in _example(store, record).items()}
        place.mkdir(parents=True, exist_ok=True)
        write_all(pages)
        yield tuple(str(path) for path in pages)


def zipped_examples(book: str, code: str) -> bytes:
    """The examples below a code of a book as one ZIP, a folder in it for each reading; it decodes photographs.

    Parameters
    ----------
    book : its folder
    """
    store, kept = shelf.meant(book), io.BytesIO()
    try:
        readings = corrected_in(store, code)
        if len(readings) > MOST_AT_ONCE:
            raise RefusedError(TOO_MANY.format(len(readings), MOST_AT_ONCE))
        with zipfile.ZipFile(kept, "w", zipfile.ZIP_STORED) as archive:  # photographs and PNGs are small already
            for record in readings:
                for name, page in _example(store, record).items():
                    archive.writestr(f"{record.code}/{name}", page)
    finally:
        store.close()
    return kept.getvalue()


def _example(store: BookStore, record: ReadingEdition) -> dict[str, bytes]:
    """The files of one example; the photograph is read again with the reading's own marks.

    So regions and numbers are those of this program.
    """
    press = ReportPress()
    entry, _ = held(store, record.code.rpartition("-")[0], PictureEntry)
    whole = press.reading(store.document(record.document).decode())
    copy = without_location(store.original(entry.sha256), entry.name)
    again = _read_again(copy, whole, f"{record.code}{entry.suffix}")
    return dict(press.example(again, copy, entry.suffix))


def _read_again(copy: bytes, whole: Reading, name: str) -> Reading:
    return read_section(
        picture_from(copy, name),
        whole.joint,
        whole.scale,
        marks=whole.marks,
        preparation=whole.preparation,
        program=PROGRAM,
    )
