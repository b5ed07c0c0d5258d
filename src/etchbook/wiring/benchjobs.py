"""What a job at the bench does, in a process of its own: it looks at a photograph, keeps it, reads it."""

import os
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from etchbook.terms import Family
from etchbook.usecases.keeping.faces import add_picture
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.wiring import shelf

Tell = Callable[[str, str], None]


@dataclass(frozen=True, kw_only=True, slots=True)
class Order:
    """What is to be done.

    Parameters
    ----------
    folder : of the book
    code : of a face, a piece, or of a picture that is there already
    upload : the photograph that came, "" where it is in the book
    called : its name on the person's machine
    joint : which joint it is; its sizes are the ones that the book holds
    scale, scale_from : as they were typed; both empty reads without millimetres
    demo : paint and read what is lacking of the demo's trials, and nothing else of all this
    """

    folder: str
    code: str
    hand: Hand
    upload: str = ""
    called: str = ""
    light: str = ""
    joint: Family | None = None
    scale: str = ""
    scale_from: str = ""
    keep_only: bool = False
    demo: bool = False


def ending_of(name: str) -> str:
    """The ending of a photograph's name where it is one that we know."""
    ending = Path(name).suffix.lower()
    return ending if ending in (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".heic", ".heif") else ".jpg"


def spool(data: bytes, name: str) -> str:
    """Put a photograph aside for a moment, under a name of our own; only its ending is taken over."""
    number, path = tempfile.mkstemp(prefix="etchbook-", suffix=ending_of(name))
    with os.fdopen(number, "wb") as file:
        file.write(data)
    return path


def forget(path: str) -> None:
    """Throw away what was put aside."""
    if path:
        Path(path).unlink(missing_ok=True)


def carry_out(order: Order, tell: Tell) -> None:
    """Do the order, telling how far it is: ("step", words), then ("done", code) or ("refused", sentence)."""
    from etchbook.wiring.errors import sentence

    try:
        tell("done", _carried_out(order, tell))
    except Exception as error:
        tell("refused", sentence(error)[0])


def _carried_out(order: Order, tell: Tell) -> str:
    store = shelf.meant(order.folder)
    try:
        if order.demo:
            return _shown(store, tell)
        code = order.code
        if order.upload:
            tell("step", "looking at the photograph")
            code = _kept(store, order)
            tell("kept", code)
        return code if order.keep_only else _read(store, order, code, tell)
    finally:
        store.close()


def _kept(store: BookStore, order: Order) -> str:
    photo = shelf.photo(order.upload)
    name = "".join(letter for letter in Path(order.called).name if letter.isprintable())[:120]
    said = {"light": order.light} if order.light else {}
    made, _ = add_picture(store, order.hand, order.code, replace(photo, name=name or photo.name), said)
    return made.code


def _shown(store: BookStore, tell: Tell) -> str:
    """Paint, read and judge what is lacking of the demo; the code of a trial of it."""
    from etchbook.usecases import demo
    from etchbook.usecases.keeping.demo import QUESTIONS, faces_of, keep_shown, lacking
    from etchbook.wiring.library import PROGRAM
    from etchbook.wiring.press import ReportPress

    press, faces, left = ReportPress(), faces_of(store), lacking(store)
    sections = demo.sections(PROGRAM, press, left)
    for number, piece in enumerate(left, start=1):
        tell("step", f"section {number} of {len(left)} is painted and read. {piece.story}")
        keep_shown(store, faces[piece.name], next(sections), press)
        tell("kept", f"{faces[piece.name]}-P1")
    return next(iter(QUESTIONS))


def _read(store: BookStore, order: Order, code: str, tell: Tell) -> str:
    from etchbook.trials.records import PictureEntry
    from etchbook.usecases import reading
    from etchbook.usecases.keeping.known import known_of
    from etchbook.usecases.keeping.readings import keep_reading
    from etchbook.usecases.scales import scale_wish
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.library import PROGRAM
    from etchbook.wiring.press import ReportPress

    entry, _ = held(store, code, PictureEntry)
    path = spool(store.original(entry.sha256), f"x{entry.suffix}")
    try:
        known = known_of(store, code)
        wish = reading.ReadWish(
            photo=path,
            joint=reading.joint_beside(known.joint, reading.JointWish(family=order.joint)),
            preparation=replace(known.preparation, reader=order.hand.by),
            scale=scale_wish(order.scale or None, None, order.scale_from or None),
        )
        tell("step", "looking for plates, weld and heat-affected zone")
        record, _ = reading.read(wish, FilesDesk(), PROGRAM)
    finally:
        forget(path)
    record = replace(record, picture=replace(record.picture, name=entry.name))  # not the name it was put aside under
    tell("step", "keeping the reading")
    made, _ = keep_reading(store, order.hand, code, record, ReportPress().page("json", record, None, None))
    return made.code
