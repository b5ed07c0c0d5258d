"""Trials and beads: begin a trial, log a bead, change one."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from etchbook.trials import code_kind, normal_code
from etchbook.trials.records import Bead, Setting, Trial
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.looking import held, next_number, write_next
from etchbook.usecases.keeping.ports import BookStore, Hand, Write


def keep_trial(store: BookStore, hand: Hand, typed: str, mark: str, said: Mapping[str, Any]) -> tuple[Trial, bool]:
    """Begin a trial, or change one that is there.

    Parameters
    ----------
    typed : its code; "" takes the next free one of T1, T2 ...
    mark : of the trial where it is new: never the same twice
    said : fields of the trial that were said

    Returns
    -------
    (Trial, bool)
        The trial, and whether it is new.
    """
    code = normal_code(typed) if typed else ""
    if code and code_kind(code) != "trial":
        raise RefusedError(f"{code} is the code of a {code_kind(code)}; a trial is called like N1")
    if code and store.entry(code) is not None:
        trial, edition = held(store, code, Trial)
        changed = replace(trial, **said)
        if changed != trial:
            write_next(store, hand, "changed trial {}", lambda: [Write(record=changed, expects=edition)])
        return changed, False

    def make() -> Sequence[Write]:
        name = code or f"T{next_number(store.taken(''), 'T')}"
        return [Write(record=Trial(code=name, mark=mark, **said), expects=0)]

    made = write_next(store, hand, "began trial {}", make)[0].record
    assert isinstance(made, Trial)
    return made, True


def log_bead(
    store: BookStore,
    hand: Hand,
    trial: str,
    settings: Sequence[Setting],
    *,
    welded: str = "",
    like: str = "",
) -> Bead:
    """Log the next bead of a trial.

    Parameters
    ----------
    settings : what was set, read and seen
    welded : date and time, ISO 8601; "" takes the hour of logging
    like : a bead whose set values are taken over where nothing else was said
    """
    held_trial, _ = held(store, trial, Trial)
    before = held(store, like, Bead)[0].settings if like else ()
    merged = merge([one for one in before if one.origin == "set"], settings)

    def make() -> Sequence[Write]:
        number = next_number(store.taken(held_trial.code), f"{held_trial.code}-")
        code = f"{held_trial.code}-{number:02d}"
        return [Write(record=Bead(code=code, settings=merged, welded=welded or hand.at), expects=0)]

    made = write_next(store, hand, "logged bead {}", make)[0].record
    assert isinstance(made, Bead)
    return made


def change_bead(
    store: BookStore, hand: Hand, typed: str, settings: Sequence[Setting], *, welded: str = "", expects: int = 0
) -> Bead:
    """Add settings to a bead, or put others in their place; what stood there before stays in the history.

    `expects` is the edition that the person looked at, where that is known; another one is refused.
    """
    bead, edition = held(store, typed, Bead, expects=expects)
    changed = replace(bead, settings=merge(bead.settings, settings), welded=welded or bead.welded)
    if changed != bead:
        write_next(store, hand, "changed bead {}", lambda: [Write(record=changed, expects=edition)])
    return changed


def merge(old: Sequence[Setting], new: Sequence[Setting]) -> tuple[Setting, ...]:
    """Old settings with the new ones in their place or after them, each name once an origin."""
    held_by = {(one.name, one.origin): one for one in old}
    held_by |= {(one.name, one.origin): one for one in new}
    return tuple(held_by.values())
