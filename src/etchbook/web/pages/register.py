"""What was done in the book and when; the bin; and taking back."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, Response
from starlette.datastructures import FormData

from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.differing import differences
from etchbook.usecases.keeping.history import bring_back, undo
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.ports import BookStore, Entry
from etchbook.web.again import stays_on, tried
from etchbook.web.bench import get_bench, get_book, hand_of, in_place, page
from etchbook.web.pages.home import to
from etchbook.web.pages.opening import trail_of
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring.limitsbin import binned_sets

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
SHOWN = 30


@router.get("/history")
def history(
    request: Request, code: Annotated[str, Query(max_length=60)] = "", before: Annotated[int, Query(ge=0)] = 0
) -> HTMLResponse:
    """What was done, newest first; of one thing where a code is given, with what each edition changed."""
    store = get_book(request)
    entry = tried(request, lambda: lookup(store, code)) if code else None
    changes = () if code and entry is None else store.changes(entry.code if entry else "", limit=SHOWN, before=before)
    shown: dict[str, Any] = {
        "changes": changes,
        "code": entry.code if entry else "",
        "entry": entry,
        "editions": editions_of(store, entry.code) if entry and not before else [],
        "gone": {one.undoes for one in store.changes(limit=500) if one.undoes},
        "after": changes[-1].number if len(changes) == SHOWN else 0,
        "trail_of": trail_of,
    }
    return page(request, "changes.html" if in_place(request) else "history.html", **shown)


def editions_of(store: BookStore, code: str) -> list[dict[str, Any]]:
    """Every edition of a thing, newest first, with what it changed."""
    held = store.editions(code)
    return [_edition(one, held[place - 1] if place else None) for place, one in reversed(list(enumerate(held)))]


def _edition(one: Entry, before: Entry | None) -> dict[str, Any]:
    told = list(differences(before.record, one.record)) if before else ["it was begun"]
    if before and one.binned != before.binned:
        told.append("it went into the bin" if one.binned else "it came back from the bin")
    return {"edition": one.edition, "by": one.by, "at": one.at, "changed": told or ["nothing that is shown here"]}


def _history_again(request: Request) -> HTMLResponse:
    return history(request, code=request.state.said.get("code", ""))


@router.post("/undo", response_model=None)
@stays_on(_history_again)
def take_back(request: Request, form: Form) -> Response:
    """Take one change back; the page that asked is shown again."""
    number, code = word(form, "change"), word(form, "code")
    if not number.isdecimal():
        raise RefusedError("say which change is to be taken back")
    undo(get_book(request), hand_of(request), int(number))
    return to(f"/history?code={lookup(get_book(request), code).code}" if code else word_to(form))


def word_to(form: FormData) -> str:
    """Where a form wants to go back to: the first page, or the history."""
    return "/" if word(form, "from") == "home" else "/history"


@router.get("/bin")
def in_the_bin(request: Request) -> HTMLResponse:
    """What lies in the bin: the things that were put there, each with how much went with it."""
    lying = get_book(request).binned()
    codes = {one.code: one.change for one in lying}
    tops = [one for one in lying if not any(_with(one, other) for other in lying)]
    below = {top.code: sum(1 for code, change in codes.items() if _below(code, top.code) and change == top.change)
             for top in tops}  # fmt: skip
    return page(request, "bin.html", tops=tops, below=below, limits=binned_sets(get_bench(request).folder))


def _below(code: str, above: str) -> bool:
    return code.startswith(f"{above}-")


def _with(one: Entry, other: Entry) -> bool:
    """Whether a thing went into the bin with another one above it."""
    return one.change == other.change and _below(one.code, other.code)


@router.post("/bin", response_model=None)
@stays_on(in_the_bin)
def restore(request: Request, form: Form) -> Response:
    """Bring something back out of the bin."""
    back = bring_back(get_book(request), hand_of(request), word(form, "code"))
    return to(f"/open/{back[0].code}")
