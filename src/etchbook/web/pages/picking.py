"""Beads of the book to pick from: those on which something was read, trial by trial."""

from collections.abc import Sequence
from typing import Any

from etchbook.trials.codes import bead_code
from etchbook.usecases.book_beads import readable_beads
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.keeping.telling import line_of


def picking(store: BookStore, picked: Sequence[str], trials: Sequence[str]) -> dict[str, Any]:
    """What a page of picking shows.

    Parameters
    ----------
    picked : codes that are ticked already
    trials : whose beads are shown; those of what is ticked too, and the last trial where there is neither

    Returns
    -------
    dict
        rows of beads with a line about each, every trial with something read, and the trials that are shown
    """
    every = readable_beads(store)
    held = list(dict.fromkeys(one.trial for one in every))
    wanted = {*trials, *(bead_code(code.upper()).partition("-")[0] for code in picked)}
    shown = [code for code in held if code in wanted] or held[-1:]
    return {
        "rows": [(one, _line(store, one.code)) for one in every if one.trial in shown],
        "trials": [(code, _line(store, code)) for code in held],
        "chosen": shown,
    }


def _line(store: BookStore, code: str) -> str:
    entry = store.entry(code)
    if entry is None:
        return ""
    return getattr(entry.record, "question", "") or line_of(entry)
