"""A planned trial as a person holds it: kept in a folder, decided when its beads are read."""

import json
import secrets
from collections.abc import Mapping
from os import PathLike
from pathlib import Path

from etchbook.quantity import Measured
from etchbook.trials.deciding import Decision
from etchbook.trials.planning import Plan
from etchbook.trials.scatter import Scatter
from etchbook.usecases import RefusedError
from etchbook.usecases.planned import decided, plan_document, plan_lines
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.trialpages import plan_pages


class PlanView:
    """A planned trial: in words when printed; `made` is the frozen plan with everything in it."""

    __slots__ = ("made",)

    def __init__(self, made: Plan) -> None:
        self.made = made

    def save(self, folder: str | PathLike[str]) -> tuple[Path, ...]:
        """Keep the open plan, its sealed key, the welder's sheet with labels and the helper's sheet in a folder.

        A folder that holds a plan already is refused: a locked plan is not changed.
        """
        place = Path(folder)
        if (place / "plan.json").exists():
            raise RefusedError(
                f"{folder} holds a plan already, and a locked plan is not changed: choose another folder"
            )
        desk = FilesDesk()
        desk.make_folder(str(place))
        desk.keep({str(place / name): page for name, page in plan_pages(self.made).items()})
        return tuple(place / name for name in plan_pages_names())

    def decide(
        self,
        results: Mapping[str, Measured | float],
        *,
        covariate: Mapping[str, float] | None = None,
        stopped: str = "",
    ) -> Decision:
        """Decide the trial by its locked rule; `results` by code, `stopped` says why where it was cut short."""
        told = {
            code: value if isinstance(value, Measured) else Measured(value=float(value), u=0.0, unit="mm")
            for code, value in results.items()
        }
        document, key = (json.dumps(part) for part in (plan_document(self.made), self.made.key))
        return decided(document, key, told, covariate=covariate or {}, stopped=stopped)[1]

    def __repr__(self) -> str:
        return "\n".join(plan_lines(self.made))


def plan_pages_names() -> tuple[str, ...]:
    """What a plan's files are called."""
    return ("plan.json", "key.sealed.json", "run-sheet.pdf", "helper.sealed.pdf")


def fresh_secret() -> str:
    """What codes are drawn from, by chance."""
    return secrets.token_hex(8)


def own_scatter_of(book: str | PathLike[str] | None) -> dict[str, Scatter]:
    """The book's own scatter by dimension; nothing where no book was named."""
    if book is None or not str(book):
        return {}
    from etchbook.usecases.book_beads import own_scatter
    from etchbook.wiring.shelf import meant

    store = meant(str(book))
    try:
        return own_scatter(store)
    finally:
        store.close()
