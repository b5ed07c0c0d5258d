"""The file for a second pair of eyes, put together from a reading, its photo and what was answered so far."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from etchbook.picture import Picture
from etchbook.report.second_look import SecondLook, second_look
from etchbook.section import Reading
from etchbook.usecases import RefusedError
from etchbook.usecases.answering import said_in, together
from etchbook.usecases.explaining import explain
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import ReportPress


def second_look_page(
    reading: str, photos: Sequence[str] = (), answers: Sequence[str] = (), *, today: date | None = None
) -> bytes:
    """The whole HTML file.

    Parameters
    ----------
    reading : path of a reading kept as JSON
    photos : path of the photo that was read, and of others of the same place; where none is named, the photo is
        looked for beside the reading
    answers : paths of what was answered so far
    today : printed as the day of the file
    """
    desk = FilesDesk()
    record = ReportPress().reading(desk.text(reading))
    if not record.indications:
        raise RefusedError("no indication was found in this reading, so there is nothing to ask a second pair of eyes")
    said = together(tuple(said_in(desk.text(path)) for path in answers))
    explained = explain(record, said)
    picture, others = photo_of(record, reading, photos)
    look = SecondLook(reading=record, explained=explained, picture=picture, others=others, today=today or date.today())
    return second_look(look).encode()


def photo_of(record: Reading, reading: str, photos: Sequence[str]) -> tuple[Picture, dict[str, Picture]]:
    """The photo that was read, its fingerprint held against the reading, and further pictures by file name."""
    desk = FilesDesk()
    paths = list(photos) or [str(Path(reading).parent / record.picture.name)]
    if not photos and not (record.picture.name and Path(paths[0]).is_file()):
        raise RefusedError(f"{record.picture.name or 'the photo'} is not beside the reading: name it with --photo")
    first, *rest = [desk.photo(path) for path in paths]
    if first.sha256 != record.picture.sha256:
        raise RefusedError(f"{paths[0]} is not the photo that was read: its fingerprint does not fit the reading")
    names = [Path(path).name for path in paths[1:]]
    return first, {f"{place}: {name}": each for place, (name, each) in enumerate(zip(names, rest, strict=True), 2)}
