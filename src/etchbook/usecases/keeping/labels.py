"""What stands on the labels of pieces: the code with its check letter, and what a person wants to see beside it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from etchbook.terms.settings import SETTINGS
from etchbook.trials import with_check
from etchbook.trials.codes import PREFIX, bead_code
from etchbook.trials.records import Bead, Coupon, Face, Piece, Trial
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.ports import BookStore, Entry

SHOWN = ("volts", "amps", "wire_feed", "travel")
WITH_LABELS = ("coupon", "piece", "face")


@dataclass(frozen=True, kw_only=True, slots=True)
class Label:
    """One label.

    Parameters
    ----------
    code : in normal form
    written : with its check letter; it is also what is written on steel with a felt-tip
    scanned : what the square code says
    lines : further lines, the most wanted first
    """

    code: str
    written: str
    scanned: str
    lines: tuple[str, ...]


def labels(store: BookStore, typed: Sequence[str], *, faces: bool = False) -> tuple[Label, ...]:
    """Labels for things, or for all pieces below a trial, a bead or a coupon.

    Parameters
    ----------
    typed : codes; a coupon that is not cut gets a label of its own
    faces : with the faces of the pieces
    """
    made: dict[str, Label] = {}
    for one in typed:
        for entry in _wanted(store, lookup(store, one), faces):
            made[entry.code] = _label(store, entry)
    if not made:
        raise RefusedError(f"there is nothing to stick a label on below {', '.join(typed)}: cut a coupon first")
    return tuple(made.values())


def _wanted(store: BookStore, entry: Entry, faces: bool) -> Iterable[Entry]:
    if entry.binned:
        raise RefusedError(f"{entry.code} lies in the bin since {entry.binned}")
    if entry.kind == "face" or (entry.kind == "piece" and not faces):
        return [entry]
    top = bead_code(entry.code) if entry.kind == "coupon" else entry.code
    kinds = WITH_LABELS if faces else WITH_LABELS[:2]
    return [one for one in store.tree(top) if one.kind in kinds and _there(one)]


def _there(entry: Entry) -> bool:
    record = entry.record
    return not isinstance(record, Coupon | Piece) or record.state in ("kept", "lost")


def _label(store: BookStore, entry: Entry) -> Label:
    bead = store.entry(bead_code(entry.code))
    trial = store.entry(entry.code.partition("-")[0])
    lines = [_kin(entry), _settings(bead), _question(trial), bead.at[:10] if bead else ""]
    written = with_check(entry.code)
    return Label(
        code=entry.code, written=written, scanned=f"{PREFIX}{written}", lines=tuple(line for line in lines if line)
    )


def _kin(entry: Entry) -> str:
    record = entry.record
    if isinstance(record, Piece) and record.facing:
        return "met " + ", ".join(one.other for one in record.facing)
    if isinstance(record, Face) and record.towards:
        return f"faced {record.towards}"
    return "coupon, not cut" if isinstance(record, Coupon) else ""


def _settings(bead: Entry | None) -> str:
    if bead is None or not isinstance(bead.record, Bead):
        return ""
    told = {
        one.name: f"{one.value:.3g} {SETTINGS[one.name].unit}"
        for one in bead.record.settings
        if one.origin == "set" and one.name in SHOWN and one.value is not None
    }
    return ", ".join(told[name] for name in SHOWN if name in told)


def _question(trial: Entry | None) -> str:
    return trial.record.question if trial is not None and isinstance(trial.record, Trial) else ""
