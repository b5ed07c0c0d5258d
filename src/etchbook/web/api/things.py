"""Things of the book as JSON: one, many, found, as they were, taken back."""

from typing import Annotated

from fastapi import Path, Query, Request

from etchbook.trials import KINDS
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.finding import find
from etchbook.usecases.keeping.history import bring_back, put_in_bin, undo
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.ports import ChangeEntry
from etchbook.web.api.told import Change, Changes, Thing, Things
from etchbook.web.api.verbs import MOST, After, AnyCode, Limit, page_of, sliced, thing_of, verbs
from etchbook.web.bench import get_book, hand_of
from etchbook.wiring.units import amount

router = verbs("things")
Kind = Annotated[str, Query(max_length=20, description="trial, bead, piece and so on.", examples=["bead"])]


def known_kind(kind: str) -> str:
    """A kind of thing that a book holds."""
    if kind not in KINDS:
        raise RefusedError(f'"{kind}" is nothing that a book holds: use {", ".join(KINDS)}')
    return kind


@router.get("/things")
def list_things(request: Request, kind: Kind = "trial", limit: Limit = 50, after: After = "") -> Things:
    """Things of one kind by code, a page at a time."""
    return page_of(get_book(request).every(known_kind(kind), limit=limit + 1, after=after), limit)


@router.get("/things/{code}")
def get_thing(request: Request, code: AnyCode) -> Thing:
    """One thing by its code, typed or scanned."""
    return thing_of(lookup(get_book(request), code))


@router.get("/things/{code}/below")
def list_below(request: Request, code: AnyCode, kind: Kind = "", limit: Limit = 50, after: After = "") -> Things:
    """Everything directly below a code, a page at a time."""
    store = get_book(request)
    below = store.below(lookup(store, code).code, known_kind(kind) if kind else "")
    shown, next_one = sliced(below, limit, after, lambda entry: entry.code)
    return Things(items=[thing_of(one) for one in shown], next=next_one)


@router.get("/things/{code}/editions")
def list_editions(request: Request, code: AnyCode, limit: Limit = 50, after: After = "") -> Things:
    """Every edition of a thing, oldest first; `next` is the number of the last one."""
    store = get_book(request)
    editions = store.editions(lookup(store, code).code)
    shown, next_one = sliced(editions, limit, after, lambda entry: str(entry.edition))
    return Things(items=[thing_of(one) for one in shown], next=next_one)


@router.get("/find")
def find_things(
    request: Request,
    q: Annotated[str, Query(max_length=200, examples=["worn volts=18..20V"])],
    limit: Limit = 50,
    after: After = "",
) -> Things:
    """Things that hold all the words and lie in all the ranges, such as ``volts=18..20V``."""
    return page_of(find(get_book(request), q.split(), amount, limit=limit + 1, after=after), limit)


@router.post("/things/{code}/bin")
def bin_thing(request: Request, code: AnyCode) -> Thing:
    """Put a thing into the bin, with all below it."""
    put_in_bin(get_book(request), hand_of(request), code)
    return thing_of(lookup(get_book(request), code))


@router.post("/things/{code}/back")
def bring_thing_back(request: Request, code: AnyCode) -> Thing:
    """Bring a thing back out of the bin."""
    bring_back(get_book(request), hand_of(request), code)
    return thing_of(lookup(get_book(request), code))


@router.get("/changes")
def list_changes(
    request: Request,
    code: Annotated[str, Query(max_length=60, description="Only of it and what is below it.", examples=["N1"])] = "",
    limit: Limit = 50,
    before: Annotated[int, Query(ge=0, le=MOST, description="The `next` of the page before.")] = 0,
) -> Changes:
    """The history, newest first, a page at a time."""
    store = get_book(request)
    found = store.changes(lookup(store, code).code if code else "", limit=limit + 1, before=before)
    shown = found[:limit]
    return Changes(items=[_change(one) for one in shown], next=shown[-1].number if len(found) > limit else 0)


@router.post("/changes/{number}/undo")
def undo_change(request: Request, number: Annotated[int, Path(ge=1, le=MOST, examples=[12])]) -> Change:
    """Take one change back; the newest is then the taking back."""
    store = get_book(request)
    undo(store, hand_of(request), number)
    return _change(store.changes(limit=1)[0])


def _change(one: ChangeEntry) -> Change:
    return Change(number=one.number, by=one.by, at=one.at, words=one.words, undoes=one.undoes,
                  touched=list(dict.fromkeys(code for code, _ in one.touched)))  # fmt: skip
