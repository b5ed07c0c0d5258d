"""Own limits that nobody uses any more: they lie in the bin of the book's folder, and are brought back out of it."""

import re
from dataclasses import dataclass
from pathlib import Path

from etchbook.files import read_text, write_whole
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import ChangedMeanwhileError, NotThereError
from etchbook.usecases.keeping.ports import Hand
from etchbook.usecases.ownlimits import rows_of
from etchbook.wiring.ownlimits import BIN, FOLDER, TURN, mark_of, own_text, path_of

_ID = re.compile(r"([a-z0-9][a-z0-9-]{0,39})\.([1-9][0-9]{0,3})")
_HEAD = re.compile(r"# put into the bin by (.*), ([0-9T:+-]+)")


@dataclass(frozen=True, kw_only=True, slots=True)
class Binned:
    """Own limits in the bin: their name with a number, for the same name may go there again; who put them there."""

    id: str
    name: str
    title: str
    by: str
    at: str


def bin_own(folder: Path, name: str, hand: Hand, seen: str = "") -> Binned:
    """Put own limits into the bin; judgements that were made by them keep what they found.

    Parameters
    ----------
    seen : what `mark_of` gave for the text that the person looked at, "" where it does not matter
    """
    with TURN:
        text = own_text(folder, name)
        if seen and mark_of(text) != seen:
            raise ChangedMeanwhileError("somebody else wrote these limits meanwhile: look at them first")
        place = folder / FOLDER / BIN
        place.mkdir(exist_ok=True)
        number = 1 + max((int(one.name.split(".")[1]) for one in _lying(place) if one.name.startswith(f"{name}.")),
                         default=0)  # fmt: skip
        path = place / f"{name}.{number}.toml"
        write_whole(path, f"# put into the bin by {' '.join(hand.by.split())}, {hand.at}\n{text}".encode())
        (path_of(folder, name) or path).unlink()
    return _told(path)


def binned_sets(folder: Path) -> tuple[Binned, ...]:
    """Own limits in the bin, newest first."""
    found = [_told(path) for path in _lying(folder / FOLDER / BIN)]
    return tuple(sorted(found, key=lambda one: (one.at, one.id), reverse=True))


def bring_back_own(folder: Path, which: str) -> str:
    """Bring own limits back out of the bin; their name."""
    found = _ID.fullmatch(which)
    path = folder / FOLDER / BIN / f"{which}.toml"
    with TURN:
        if found is None or not path.is_file():
            raise NotThereError("there are no such limits in the bin: look at what lies there")
        back = path_of(folder, found[1])
        if back is None or back.exists():
            raise RefusedError(f'there are limits called "{found[1]}" again: put those into the bin first')
        write_whole(back, read_text(path).partition("\n")[2].encode())
        path.unlink()
    return found[1]


def _lying(place: Path) -> list[Path]:
    return [path for path in sorted(place.glob("*.toml")) if _ID.fullmatch(path.stem)]


def _told(path: Path) -> Binned:
    head, _, text = read_text(path).partition("\n")
    said = _HEAD.fullmatch(head)
    by, at = said.groups() if said else ("somebody", "")
    name = path.stem.rpartition(".")[0]
    return Binned(id=path.stem, name=name, title=rows_of(text)[0] or name, by=by, at=at)
