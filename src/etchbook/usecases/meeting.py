"""Two people changed one reading: what each of them did, side by side, and both laid together."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from etchbook.quantity import Quantity
from etchbook.usecases.keeping.errors import ChangedMeanwhileError
from etchbook.usecases.remeasuring import differences, label_of, words_of

NOT_THERE = "not there"
Values = Mapping[str, Quantity]
Marks = Mapping[str, Any]


class MetError(ChangedMeanwhileError):
    """Somebody saved another edition meanwhile; `draft` is what was not saved because of it.

    Parameters
    ----------
    draft : code, seen, marks, scale and by, to be kept until the person has decided
    """

    def __init__(self, text: str, draft: dict[str, Any]) -> None:
        super().__init__(text)
        self.draft = draft


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """One dimension in words: in the edition that both began with, in theirs, in yours, and in both laid together."""

    id: str
    label: str
    before: str
    theirs: str
    yours: str
    both: str

    @property
    def differs(self) -> bool:
        """Whether theirs and yours are not the same."""
        return self.theirs != self.yours


def beside(before: Values, theirs: Values, yours: Values, both: Values) -> tuple[Beside, ...]:
    """Every dimension side by side, those first that theirs and yours tell differently."""
    names = dict.fromkeys([*before, *theirs, *yours])
    rows = [
        Beside(id=name, label=label_of(name), before=_words(before, name), theirs=_words(theirs, name),
               yours=_words(yours, name), both=_words(both, name))
        for name in names
    ]  # fmt: skip
    return tuple(sorted(rows, key=lambda row: not row.differs))


def _words(values: Values, name: str) -> str:
    return words_of(values[name]) if name in values else NOT_THERE


def changed_marks(before: Marks, now: Marks) -> tuple[str, ...]:
    """Names of the marks that were set, moved or taken away."""
    return tuple(name for name in dict.fromkeys([*before, *now]) if before.get(name) != now.get(name))


def laid_together(before: Marks, theirs: Marks, yours: Marks) -> dict[str, Any]:
    """Their marks with what you changed laid on top; where both moved the same mark, yours stays."""
    made = dict(theirs)
    for name in changed_marks(before, yours):
        if name in yours:
            made[name] = yours[name]
        else:
            made.pop(name, None)
    return made


def met(who: str, seen: int, newest: int, before: Values, theirs: Values, draft: dict[str, Any]) -> MetError:
    """The refusal of a save, with what the other edition changed."""
    changed = "; ".join(differences(before, theirs)) or "no number, but the outline"
    text = (
        f"{who} saved edition {newest} while you worked on edition {seen}. Yours is not lost, it waits beside theirs. "
        f"Theirs changed: {changed}"
    )
    return MetError(text, draft)
