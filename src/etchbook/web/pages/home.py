"""The first page, the search, and who is at work."""

from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.trials.codes import PREFIX, CodeError
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.demo import begin as fill
from etchbook.usecases.keeping.finding import find
from etchbook.usecases.keeping.history import undo
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.ports import BookStore, Entry
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring.units import amount

router = APIRouter(include_in_schema=False)
SHOWN = 60


def to(address: str) -> RedirectResponse:
    """Go on to another page after a form was taken in."""
    return RedirectResponse(address, status_code=303)


@router.get("/")
def home(request: Request) -> HTMLResponse:
    """The trials of the book; an empty book says how to begin."""
    store = get_book(request)
    trials = store.every("trial", limit=1000)
    return page(request, "home.html", trials=trials, changes=store.changes(limit=6), counts=store.counts())


@router.get("/find", response_model=None)
def look(request: Request, q: Annotated[str, Query(max_length=200)] = "") -> Response:
    """Open a code that was typed or scanned, else look for the words."""
    store, typed, trouble = get_book(request), q.strip(), ""
    found: tuple[Entry, ...] = ()
    if typed and (entry := opened(store, typed)):
        return to(f"/open/{entry.code}")
    try:
        found = find(store, typed.split(), amount, limit=SHOWN) if typed else ()
    except RefusedError as error:
        trouble = str(error)
    return page(request, "find.html", typed=typed, found=found, trouble=trouble, most=SHOWN)


def opened(store: BookStore, typed: str) -> Entry | None:
    """The thing of a code that was typed or scanned; None where it is no code of this book."""
    try:
        return lookup(store, typed.removeprefix(PREFIX))
    except (RefusedError, CodeError):
        return None


@router.post("/demo")
def demo(request: Request, _: Annotated[FormData, Depends(form_of)]) -> RedirectResponse:
    """Fill an empty book with the demo's trials."""
    store = get_book(request)
    if store.counts().get("trial", 0):
        raise RefusedError("this book has trials already: the demo belongs in an empty one")
    fill(store, amount)
    return to("/")


@router.post("/undo")
def take_back(request: Request, form: Annotated[FormData, Depends(form_of)]) -> RedirectResponse:
    """Take one change back."""
    number = word(form, "change")
    if not number.isdecimal():
        raise RefusedError("say which change is to be taken back")
    undo(get_book(request), hand_of(request), int(number))
    return to("/")


@router.post("/by")
def who(form: Annotated[FormData, Depends(form_of)]) -> RedirectResponse:
    """Keep the name of the person at this browser."""
    answer = to("/")
    name = "".join(letter for letter in word(form, "by") if letter.isalnum() or letter in "-_.")[:40]
    answer.set_cookie("etchbook_by", name, httponly=True, samesite="strict", max_age=31_536_000)
    return answer
