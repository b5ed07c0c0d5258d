"""A shop's own limits: files in the book's folder, under names that we make ourselves."""

import hashlib
import re
import unicodedata
from collections.abc import Mapping
from pathlib import Path

from etchbook.files import read_text, write_whole
from etchbook.tables import LimitSet, limit_sets, load_limits, own_limits
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import ChangedMeanwhileError, NotThereError
from etchbook.usecases.ownlimits import rows_of

FOLDER, OWN, MOST = "limits", "own:", 200
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
    path = folder / FOLDER / f"{name}.toml"
    if not _NAME.fullmatch(name) or not path.is_file():
        raise NotThereError(f'this book has no limits called "{name}"')
    return read_text(path)


def keep_own(folder: Path, name: str, text: str, seen: str) -> None:
    """Keep own limits under a name; what stood there before is kept beside it.

    Parameters
    ----------
    seen : what `mark_of` gave for the text that the person looked at, "" for a new one
    """
    if not _NAME.fullmatch(name):
        raise RefusedError(f'"{name}" is no name for limits: use letters, digits and hyphens, such as bracket-sheet-4')
    path = folder / FOLDER / f"{name}.toml"
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
    said = against.strip().lower()
    if said.startswith(OWN):
        return own_limits(own_text(folder, said.removeprefix(OWN)))
    found = next((name for name in limit_sets() if name.lower() == said), "")
    if not found:
        raise RefusedError(f'"{against}" is no set of limits: choose one of the list')
    return load_limits(found)
