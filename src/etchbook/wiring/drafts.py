"""What somebody did to a reading and could not save, kept beside the book until it is decided."""

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from etchbook.store.benchnotes import BenchNotes
from etchbook.trials import normal_code
from etchbook.usecases.keeping.errors import NotThereError

if TYPE_CHECKING:
    from etchbook.usecases.meeting import MetError


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """What somebody did to a reading and could not save; `seen` is the edition that they began with."""

    id: str
    code: str
    seen: int
    by: str
    at: str
    marks: Mapping[str, Any]
    scale: str


class Drafts:
    """The drafts of one book."""

    def __init__(self, notes: BenchNotes) -> None:
        self._notes = notes

    def keep(self, error: "MetError") -> str:
        """Keep what was not saved; its name."""
        name, draft = secrets.token_urlsafe(9), dict(error.draft)
        marks = json.dumps(draft.pop("marks"), sort_keys=True)
        same = {**draft, "marks": marks}
        at = same.pop("at")
        before = self._notes.row("drafts", **same)
        if before is None:
            self._notes.add("drafts", id=name, at=at, **same)
        return name if before is None else str(before["id"])

    def of(self, code: str) -> list[Draft]:
        """Drafts on a reading that wait."""
        return [_draft(row) for row in self._notes.rows("drafts", code=code)]

    def get(self, name: str) -> Draft:
        """A draft that waits."""
        row = self._notes.row("drafts", id=name)
        if row is None:
            raise NotThereError("that draft was decided already: look at the reading, where its editions are")
        return _draft(row)

    def drop(self, name: str) -> None:
        """Forget a draft."""
        self._notes.drop("drafts", id=name)


def _draft(row: Mapping[str, Any]) -> Draft:
    return Draft(id=str(row["id"]), code=normal_code(row["code"]), seen=int(row["seen"]), by=str(row["person"]),
                 at=str(row["at"]), marks=json.loads(row["marks"]), scale=str(row["scale"]))  # fmt: skip
