"""The first page, the search, and who is at work."""

from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.trials.codes import PREFIX, CodeError
from etchbook.trials.records import Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.finding import find
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.ports import BookStore, Entry
from etchbook.web.again import shows
from etchbook.web.bench import get_book, in_place, page
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring.units import amount

router = APIRouter(include_in_schema=False)
SHOWN, QUICK = 60, 8
DEMO = "northmoor-"
"""How the marks of the demo's trials begin; what else is known of them takes too long to load for the first page."""


def to(address: str) -> RedirectResponse:
    """Go on to another page after a form was taken in."""
    return RedirectResponse(address, status_code=303)


def gone(request: Request, address: str) -> Response:
    """The same, where the form may have been sent without leaving the page."""
    return Response(headers={"hx-redirect": address}) if in_place(request) else to(address)


@router.get("/")
def home(request: Request) -> HTMLResponse:
    """The trials of the book; an empty book says how to begin."""
    store = get_book(request)
    trials = store.every("trial", limit=1000)
    told = {one.code: _trial_told(store, one) for one in trials}
    demo = any(isinstance(one.record, Trial) and one.record.mark.startswith(DEMO) for one in trials)
    return page(request, "home.html", trials=trials, told=told, changes=store.changes(limit=6), demo=demo)


def _trial_told(store: BookStore, trial: Entry) -> str:
    """How far a trial is: its joint and its beads."""
    assert isinstance(trial.record, Trial)
    joint = [trial.record.joint.family] if trial.record.joint else []
    count = len(store.below(trial.code, "bead"))
    beads = f"{count} bead{'s' if count != 1 else ''}" if count else "no bead is logged yet"
    return ", ".join([*joint, beads])


@router.get("/find", response_model=None)
def look(request: Request, q: Annotated[str, Query(max_length=200)] = "") -> Response:
    """Open a code that was typed or scanned, else look for the words; while somebody types, a short list."""
    store, typed = get_book(request), q.strip()
    entry = opened(store, typed) if typed else None
    if in_place(request):
        found = (entry,) if entry else _found(store, typed, QUICK)[0]
        return page(request, "quick.html", typed=typed, found=found)
    if entry:
        return to(f"/open/{entry.code}")
    found, why = _found(store, typed, SHOWN)
    return page(request, "find.html", typed=typed, found=found, why=why, most=SHOWN)


@router.get("/scan")
def scan(request: Request) -> HTMLResponse:
    """Read a label with the phone's camera, or type a code."""
    return page(request, "scan.html")


def _found(store: BookStore, typed: str, most: int) -> tuple[tuple[Entry, ...], str]:
    """What holds the words that were typed, or why that cannot be looked for."""
    try:
        return (find(store, typed.split(), amount, limit=most) if typed else ()), ""
    except RefusedError as error:
        return (), str(error)


def opened(store: BookStore, typed: str) -> Entry | None:
    """The thing of a code that was typed or scanned; None where it is no code of this book."""
    try:
        return lookup(store, typed.removeprefix(PREFIX))
    except (RefusedError, CodeError):
        return None


@router.post("/by")
@shows(lambda request, _, __: home(request))
def who(form: Annotated[FormData, Depends(form_of)]) -> RedirectResponse:
    """Keep the name of the person at this browser."""
    answer = to("/")
    name = "".join(letter for letter in word(form, "by") if letter.isalnum() or letter in "-_.")[:40]
    answer.set_cookie("etchbook_by", name, httponly=True, samesite="strict", max_age=31_536_000)
    return answer
