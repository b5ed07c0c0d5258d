"""A draft beside the edition that it met, and what becomes of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from etchbook.quantity import Quantity
from etchbook.section.again import Again
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import ChangedMeanwhileError
from etchbook.usecases.keeping.ports import BookStore, Hand
from etchbook.usecases.meeting import Beside, beside, changed_marks, laid_together
from etchbook.wiring.apart import SLOW
from etchbook.wiring.benchpicture import at_hand, marks_in, save, scale_of, told_marks
from etchbook.wiring.benchviews import reading_in
from etchbook.wiring.drafts import Draft, Drafts
from etchbook.wiring.laidout import section_file
from etchbook.wiring.remeasured import again

CHOICES = ("mine", "both", "theirs")


@dataclass(frozen=True, kw_only=True, slots=True)
class Meeting:
    """A draft beside the newest edition.

    Parameters
    ----------
    both_moved : marks that both of them changed
    """

    draft: Draft
    newest: int
    their_by: str
    their_at: str
    rows: tuple[Beside, ...]
    both_moved: tuple[str, ...]


def meeting_of(store: BookStore, draft: Draft) -> Meeting:
    """A draft beside the newest edition, with the numbers that each of them gives."""
    _, _, before = reading_in(store, draft.code, draft.seen)
    _, newest, theirs = reading_in(store, draft.code)
    base, their_marks = told_marks(before.marks), told_marks(theirs.marks)
    yours = _dimensions(store, draft, draft.marks)
    both = _dimensions(store, draft, laid_together(base, their_marks, draft.marks))
    entry = store.entry(draft.code)
    assert entry is not None
    mine = changed_marks(base, draft.marks)
    return Meeting(
        draft=draft,
        newest=newest,
        their_by=entry.by,
        their_at=entry.at,
        rows=beside(before.dimensions, theirs.dimensions, yours, both),
        both_moved=tuple(name for name in changed_marks(base, their_marks) if name in mine),
    )


def _dimensions(store: BookStore, draft: Draft, told: Mapping[str, Any]) -> Mapping[str, Quantity]:
    """What these marks make of the picture."""
    record, _, reading = reading_in(store, draft.code)
    marks = marks_in(dict(told), reading)

    def measured(folder: Path) -> Again:
        section = section_file(folder, reading.joint)
        scale = scale_of(folder, reading, draft.scale)
        found: Again = SLOW.ask(again, str(folder), str(section), scale, marks, False)
        return found

    return at_hand(store, record, measured).dimensions


def decide(store: BookStore, hand: Hand, drafts: Drafts, draft: Draft, choice: str, edition: int) -> int:
    """Keep yours, both laid together, or theirs; the newest edition after it.

    Parameters
    ----------
    edition : theirs as it was shown; where there is a newer one by now, nothing is written
    """
    if choice not in CHOICES:
        raise RefusedError(f"say which is to stand: {', '.join(CHOICES)}")
    _, newest, theirs = reading_in(store, draft.code)
    if newest != edition:
        raise ChangedMeanwhileError(f"{draft.code} is at edition {newest} by now, you saw {edition}: look again")
    if choice != "theirs":
        _, _, before = reading_in(store, draft.code, draft.seen)
        marks = dict(draft.marks)
        if choice == "both":
            marks = laid_together(told_marks(before.marks), told_marks(theirs.marks), draft.marks)
        newest = save(store, hand, draft.code, marks, draft.scale, edition)
    drafts.drop(draft.id)
    return newest
