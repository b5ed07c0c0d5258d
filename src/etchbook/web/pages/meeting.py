"""Two people changed one reading: what each did stands side by side, and the second one decides."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from etchbook.trials import normal_code
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.web.bench import get_bench, get_book, hand_of, page
from etchbook.web.pages.home import to
from etchbook.web.pages.opening import trail_of
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring.drafts import Draft
from etchbook.wiring.meeting import decide, meeting_of

router = APIRouter(include_in_schema=False)


def draft_at(request: Request, code: str, name: str) -> Draft:
    """The draft of that name on that reading."""
    found = get_bench(request).drafts.get(name)
    if found.code != normal_code(code):
        raise NotThereError(f"that draft is not of {code}")
    return found


@router.get("/reading/{code}/beside/{name}")
def look(request: Request, code: str, name: str) -> HTMLResponse:
    """Theirs and yours, a line a dimension."""
    draft = draft_at(request, code, name)
    return page(request, "meeting.html", code=draft.code, met=meeting_of(get_book(request), draft), trail_of=trail_of)


@router.post("/reading/{code}/beside/{name}")
def choose(
    request: Request, code: str, name: str, form: Annotated[FormData, Depends(form_of)]
) -> RedirectResponse:  # fmt: skip
    """Keep what was chosen."""
    draft, edition = draft_at(request, code, name), word(form, "edition")
    if not edition.isdecimal():
        raise RefusedError("the form does not say which edition you saw: load the page again")
    decide(get_book(request), hand_of(request), get_bench(request).drafts, draft, word(form, "choice"), int(edition))
    return to(f"/reading/{draft.code}")
