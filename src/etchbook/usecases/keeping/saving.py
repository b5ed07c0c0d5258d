"""A photograph, what was read on it and what it was judged against, saved in the book in one go."""

from etchbook.acceptance.records import Judgement
from etchbook.section import Reading
from etchbook.trials import code_kind, normal_code
from etchbook.trials.records import PictureEntry
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.faces import Photo, add_picture
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.usecases.keeping.readings import keep_judgement, keep_reading


def save(
    store: BookStore,
    hand: Hand,
    typed: str,
    photo: Photo,
    reading: Reading,
    document: bytes,
    *,
    verdicts: Judgement | None = None,
    against: str = "",
) -> tuple[str, ...]:
    """Save a reading in the book; the photograph goes with it where it is not there yet.

    Parameters
    ----------
    typed : code of a face, of a piece with at most one face, or of the picture that was read
    document : the reading as JSON
    verdicts, against : the judgement and the name of the limits, where it was judged

    Returns
    -------
    tuple of str
        What was saved, in words.
    """
    picture, notes = _picture(store, hand, typed, photo)
    record, edition = keep_reading(store, hand, picture.code, reading, document)
    said = [f"in the book: {record.code}, edition {edition} ({record.made})", *(f"note: {one}" for one in notes)]
    if verdicts is not None:
        judged = keep_judgement(store, hand, record.code, verdicts, against=against, edition=edition)
        said.append(f"in the book: {judged.code}, against {against}")
    return tuple(said)


def _picture(store: BookStore, hand: Hand, typed: str, photo: Photo) -> tuple[PictureEntry, tuple[str, ...]]:
    if code_kind(normal_code(typed)) != "picture":
        return add_picture(store, hand, typed, photo)
    entry, _ = held(store, typed, PictureEntry)
    if photo.sha256 not in (entry.sha256, entry.copied_from):
        raise RefusedError(f"{photo.name} is another photograph than the one kept as {entry.code}")
    return entry, ()
