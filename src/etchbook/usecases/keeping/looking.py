"""Getting things out of the book by their code, or saying what is there instead."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from etchbook.trials import KINDS, code_kind, normal_code, parent_code
from etchbook.trials.records import Record
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.errors import ChangedMeanwhileError, NotThereError
from etchbook.usecases.keeping.ports import BookStore, Change, Entry, Hand, Write

R = TypeVar("R", bound=Record)
TRIES = 50


def lookup(store: BookStore, typed: str) -> Entry:
    """The newest edition of a code that was typed or scanned; from the bin as well."""
    code = normal_code(typed)
    entry = store.entry(code)
    if entry is None:
        raise NotThereError(f"there is no {code_kind(code)} {code} in the book{_instead(store, code)}")
    return entry


def _instead(store: BookStore, code: str) -> str:
    parent = parent_code(code)
    if parent and store.entry(parent) is None:
        return f", nor a {code_kind(parent)} {parent}"
    near = [entry.code for entry in store.below(parent) if entry.kind == code_kind(code)]
    return f"; there {'is' if len(near) == 1 else 'are'} {', '.join(near[:12])}" if near else ""


def held(store: BookStore, typed: str, kind: type[R], *, expects: int = 0) -> tuple[R, int]:
    """The record of that kind and its edition; what lies in the bin is refused.

    Parameters
    ----------
    expects : the edition that the person looked at, where that is known; another one is refused

    Raises
    ------
    NotThereError
        Where there is none, or it lies in the bin.
    RefusedError
        Where the code names another kind of thing.
    """
    entry = lookup(store, typed)
    if not isinstance(entry.record, kind):
        wanted = next(word for word, cls in KINDS.items() if cls is kind)
        raise RefusedError(f"{entry.code} is a {entry.kind}; the code of a {wanted} is needed here")
    if entry.binned:
        raise NotThereError(f"{entry.code} lies in the bin since {entry.binned}; `etchbook bin {entry.code} --back`")
    if expects and entry.edition != expects:
        raise ChangedMeanwhileError(
            f"{entry.code} was changed by {entry.by} meanwhile (edition {entry.edition}, you saw {expects}); look again"
        )
    return entry.record, entry.edition


def write_next(
    store: BookStore, hand: Hand, words: str, make: Callable[[], Sequence[Write] | Change]
) -> Sequence[Write]:
    """Keep what `make` gives; when somebody else takes the same number first, `make` is asked again.

    Parameters
    ----------
    words : for the history; ``{}`` stands for the code of the first record
    """
    for _ in range(TRIES):
        made = make()
        change = made if isinstance(made, Change) else Change(hand=hand, words="", writes=made)
        if not change.writes:
            return ()
        told = words.replace("{}", change.writes[0].record.code)
        try:
            store.keep(
                Change(
                    hand=hand,
                    words=told,
                    writes=change.writes,
                    documents=change.documents,
                    originals=change.originals,
                )
            )
        except ChangedMeanwhileError:
            if change.writes[0].expects:  # not a race for a number: somebody changed the very thing
                raise
            continue
        return change.writes
    raise ChangedMeanwhileError("others write to the same place of the book all the time; do it again in a while")


def next_number(taken: Sequence[str], start: str) -> int:
    """One more than the largest number among codes that begin like this: ``N1-`` for beads, ``...-P`` for pictures."""
    tails = [code[len(start) :] for code in taken if code.startswith(start)]
    return 1 + max((int(tail) for tail in tails if tail.isdigit()), default=0)
