"""Which book is meant, who is at work, and the photographs that go into it."""

import getpass
import hashlib
import os
import re
import socket
import uuid
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from etchbook.store import SqlStore, is_book, new_book, open_book
from etchbook.trials.records import Book
from etchbook.usecases.keeping.errors import BookError
from etchbook.usecases.keeping.faces import Photo
from etchbook.usecases.keeping.ports import Hand

if TYPE_CHECKING:
    from etchbook.usecases.keeping.labels import Label
    from etchbook.usecases.keeping.sheet import Taken
    from etchbook.usecases.keeping.taking import Arrival

NO_BOOK = (
    "no book is open: make one with `etchbook book new FOLDER`, open one with `etchbook book open FOLDER`, "
    "or name one with --book FOLDER"
)


def hand(by: str = "") -> Hand:
    """Who is at work, and the hour: as said, or ETCHBOOK_BY, or the name they are logged in with."""
    name = by or os.environ.get("ETCHBOOK_BY", "") or _login()
    return Hand(by=name, at=datetime.now().astimezone().isoformat(timespec="seconds"))


def _login() -> str:
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return "unknown"


def mark() -> str:
    """A mark that no other book or trial has."""
    return uuid.uuid4().hex


def folder_meant(said: str | None) -> Path:
    """The folder of the book that is meant: the one said, ETCHBOOK_BOOK, the one we stand in, the one opened last."""
    if said:
        return Path(said)
    if named := os.environ.get("ETCHBOOK_BOOK"):
        return Path(named)
    here = Path.cwd()
    for folder in (here, *here.parents):
        if is_book(folder):
            return folder
    remembered = _memo()
    if remembered.is_file():
        folder = Path(remembered.read_text(encoding="utf-8").strip())
        if is_book(folder):
            return folder
        raise BookError(f"the book opened last, {folder}, is not there any more; {NO_BOOK}")
    raise BookError(NO_BOOK)


def meant(said: str | None) -> SqlStore:
    """The book that is meant, opened."""
    return open_book(folder_meant(said))


def begin(folder: Path, name: str, database: str = "") -> SqlStore:
    """A new book, which is then the one that is open."""
    store = new_book(folder, Book(id=mark(), name=name or folder.resolve().name), database)
    remember(folder)
    return store


def remember(folder: Path) -> None:
    """Let this book be the one that is meant where none is named."""
    place = _memo()
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        part = place.with_name(f"{place.name}.{socket.gethostname()}-{os.getpid()}")
        part.write_text(f"{folder.resolve()}\n", encoding="utf-8")
        part.replace(place)
    except OSError:
        return  # a home that cannot be written to is no reason to refuse the book


def memo_folder() -> Path:
    """The folder for what the program remembers of this person, outside every book."""
    root = os.environ.get("XDG_CONFIG_HOME") or os.environ.get("APPDATA") or str(Path.home() / ".config")
    return Path(root) / "etchbook"


def _memo() -> Path:
    return memo_folder() / "book"


def photo(path: str) -> Photo:
    """A photograph on its way into the book, looked at before it is kept: what cannot be read is refused."""
    from etchbook.files import load_photo, read_bytes

    picture = load_photo(Path(path))
    data, suffix = read_bytes(Path(path)), Path(path).suffix.lower()
    return Photo(
        data=data,
        sha256=hashlib.sha256(data).hexdigest(),
        name=Path(path).name,
        suffix=suffix if re.fullmatch(r"\.[a-z0-9]{1,8}", suffix) else "",
        width=picture.width,
        height=picture.height,
    )


def copy_out(store: SqlStore, code: str, path: str) -> None:
    """A picture of the book as a file, without location data."""
    from etchbook.files import without_location, write_whole
    from etchbook.trials.records import PictureEntry
    from etchbook.usecases.keeping.looking import held

    entry, _ = held(store, code, PictureEntry)
    write_whole(Path(path), without_location(store.original(entry.sha256), entry.name))


def label_sizes() -> dict[str, str]:
    """Sizes of labels and the sheets they come on."""
    from etchbook.report.label_sheets import SHEETS

    return {name: sheet.words for name, sheet in SHEETS.items()}


def keep_labels(labels: "Sequence[Label]", size: str, path: str, *, skip: int = 0) -> None:
    """Write a sheet of labels as a PDF."""
    from datetime import date

    from etchbook.files import write_whole
    from etchbook.report.labels import labels_pdf

    write_whole(Path(path), labels_pdf(labels, size, today=date.today(), skip=skip))


def export_trial(store: SqlStore, code: str, path: str) -> tuple[str, int]:
    """Write a trial's archive; where it lies and how many files are in it."""
    from etchbook.files import without_location, write_archive
    from etchbook.trials import normal_code
    from etchbook.usecases.keeping.archives import members
    from etchbook.wiring.library import PROGRAM

    place = Path(path or f"{normal_code(code)}.zip")
    return str(place), write_archive(place, members(store, code, PROGRAM, without_location))


def import_trial(store: SqlStore, who: Hand, path: str, as_code: str = "") -> "Arrival":
    """Take a trial's archive into the book."""
    from etchbook.files import ZipArchive
    from etchbook.usecases.keeping.taking import take_in

    return take_in(store, who, ZipArchive(Path(path)), as_code=as_code)


def settings_table(store: SqlStore, code: str, path: str) -> str:
    """Settings as CSV, written to a file where one is named."""
    from etchbook.files import write_whole
    from etchbook.usecases.keeping.sheet import settings_csv

    text = settings_csv(store, code)
    if path:
        write_whole(Path(path), text.encode("utf-8-sig"))  # the mark tells a spreadsheet that it is UTF-8
    return text


def take_table(store: SqlStore, who: Hand, path: str) -> "Taken":
    """Take a table of settings into the book."""
    from etchbook.files import read_text
    from etchbook.usecases.keeping.sheet import take_settings
    from etchbook.wiring.units import amount

    return take_settings(store, who, read_text(Path(path)), amount, name=Path(path).name)


def demo_book(path: str) -> tuple[SqlStore | None, dict[str, str]]:
    """A book filled with the demo's trials, and the code of each scene's face.

    One that lies there from an earlier demo is gone on with, but never one in which something is missing.
    """
    from etchbook.usecases.keeping.demo import begin as fill
    from etchbook.usecases.keeping.demo import faces_of
    from etchbook.wiring.units import amount

    if is_book(Path(path)):
        old = open_book(Path(path))
        return (old, faces_of(old)) if faces_of(old) else (None, {})
    store = new_book(Path(path), Book(id=mark(), name="Northmoor training bay (invented, simulated)"))
    return store, fill(store, amount)
