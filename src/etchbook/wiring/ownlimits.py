"""A shop's own limits: files in the book's folder, under names that we make ourselves."""

import hashlib
import re
import unicodedata
from collections.abc import Mapping
from pathlib import Path
from threading import Lock

from etchbook.files import read_text, write_whole
from etchbook.tables import LimitSet, limit_sets, load_limits, own_limits
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import ChangedMeanwhileError, NotThereError
from etchbook.usecases.ownlimits import rows_of

FOLDER, BIN, OWN, MOST = "limits", "bin", "own:", 200
TURN = Lock()
"""Held by whoever writes: between a look at the mark and the writing nobody else comes in."""
_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")


def own_sets(folder: Path) -> Mapping[str, str]:
    """Names of the own limits of a book, each with its title; a file that cannot be used is left out."""
    found = {}
    for path in sorted((folder / FOLDER).glob("*.toml"))[:MOST]:
        if _NAME.fullmatch(path.stem):
            try:
                found[path.stem] = rows_of(read_text(path))[0] or path.stem
            except ValueError:
                continue
    return found


def own_text(folder: Path, name: str) -> str:
    """The TOML of own limits."""
    path = path_of(folder, name)
    if path is None or not path.is_file():
        raise NotThereError(f'this book has no limits called "{name}"{_instead(folder, name)}')
    return read_text(path)


def path_of(folder: Path, name: str) -> Path | None:
    """Where own limits of that name lie or would lie; None for what is no such name."""
    return folder / FOLDER / f"{name}.toml" if _NAME.fullmatch(name) else None


def _instead(folder: Path, name: str) -> str:
    lying = _NAME.fullmatch(name) and any((folder / FOLDER / BIN).glob(f"{name}.*.toml"))
    return ": it lies in the bin, from where it can be brought back" if lying else ""


def keep_own(folder: Path, name: str, text: str, seen: str) -> None:
    """Keep own limits under a name; what stood there before is kept beside it.

    Parameters
    ----------
    seen : what `mark_of` gave for the text that the person looked at, "" for a new one
    """
    path = path_of(folder, name)
    if path is None:
        raise RefusedError(
            f'"{name}" is no name for limits: use small letters, digits and hyphens, such as bracket-sheet-4'
        )
    with TURN:
        _keep(path, text, seen)


def _keep(path: Path, text: str, seen: str) -> None:
    before = read_text(path) if path.is_file() else ""
    if mark_of(before) != seen:
        raise ChangedMeanwhileError("somebody else wrote these limits meanwhile: look at them before you write yours")
    if before == text:
        return
    path.parent.mkdir(exist_ok=True)
    if before:
        write_whole(path.with_suffix(f".{mark_of(before)[:12]}.before"), before.encode())
    write_whole(path, text.encode())


def mark_of(text: str) -> str:
    """A mark by which a text is known again; "" for none."""
    return hashlib.sha256(text.encode()).hexdigest() if text else ""


def name_from(title: str) -> str:
    """A name made of a title: plain letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-") or "own"


def limits_named(folder: Path, against: str) -> LimitSet:
    """The packaged limits of that name, or the book's own where it begins with ``own:``."""
    known = known_as(against)
    return own_limits(own_text(folder, known.removeprefix(OWN))) if known.startswith(OWN) else load_limits(known)


def known_as(against: str) -> str:
    """The name of a set of limits as the book writes it, however it was typed."""
    said = against.strip().lower()
    found = said if said.startswith(OWN) else next((name for name in limit_sets() if name.lower() == said), "")
    if not found:
        raise RefusedError(f'"{against}" is no set of limits: choose one of the list')
    return found
