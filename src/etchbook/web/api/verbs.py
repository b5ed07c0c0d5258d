"""What all JSON verbs share: their troubles, their pages, how a thing is told."""

from collections.abc import Callable, Sequence
from typing import Annotated, Any, TypeVar

from fastapi import APIRouter, Path, Query
from fastapi.routing import APIRoute

from etchbook.trials import body_of
from etchbook.usecases.keeping.ports import Entry
from etchbook.usecases.keeping.telling import line_of
from etchbook.web.api.told import Thing, Things, Trouble

T = TypeVar("T")
TROUBLES: dict[int | str, dict[str, Any]] = {
    number: {"model": Trouble, "description": words}
    for number, words in (
        (400, "not to be read as JSON or as a form"),
        (401, "this device was not let in"),
        (403, "from another page"),
        (404, "not there"),
        (409, "changed meanwhile"),
        (413, "too large"),
        (422, "refused"),
    )
}
MOST = 1_000_000
Limit = Annotated[int, Query(ge=1, le=500, description="How many at most.", examples=[50])]
After = Annotated[str, Query(max_length=60, description="The `next` of the page before.", examples=[""])]


def code_like(example: str) -> Any:
    """The part of an address that is a code of the book, typed or scanned."""
    return Path(max_length=60, description="A code of the book.", examples=[example])


AnyCode = Annotated[str, code_like("N1")]
TrialCode = Annotated[str, code_like("N1")]
BeadCode = Annotated[str, code_like("N1-01")]
PieceCode = Annotated[str, code_like("N1-01-A")]
FaceCode = Annotated[str, code_like("N1-01-A-1")]
PictureCode = Annotated[str, code_like("N1-01-A-1-P1")]
ReadingCode = Annotated[str, code_like("N1-01-A-1-P1-R1")]
IndicationCode = Annotated[str, code_like("N1-01-A-1-P1-R1-X1")]


def named(route: APIRoute) -> str:
    """The lasting name of a verb in the description: that of its function."""
    return route.name


def verbs(tag: str) -> APIRouter:
    """A router of JSON verbs."""
    return APIRouter(prefix="/api", tags=[tag], responses=TROUBLES, generate_unique_id_function=named)


def thing_of(entry: Entry) -> Thing:
    """A thing of the book as JSON."""
    return Thing(code=entry.code, kind=entry.kind, edition=entry.edition, by=entry.by, at=entry.at,
                 binned=entry.binned, words=line_of(entry), record=body_of(entry.record))  # fmt: skip


def page_of(entries: Sequence[Entry], limit: int) -> Things:
    """A page of things; they were asked for with one more than the limit, so that the end is known."""
    shown = entries[:limit]
    return Things(items=[thing_of(one) for one in shown], next=shown[-1].code if len(entries) > limit else "")


def sliced(every: Sequence[T], limit: int, after: str, name: Callable[[T], str]) -> tuple[Sequence[T], str]:
    """A page of a list that is there whole, and the `next` for the following one."""
    names = [name(one) for one in every]
    start = names.index(after) + 1 if after in names else 0
    shown = every[start : start + limit]
    return shown, name(shown[-1]) if start + limit < len(every) else ""
