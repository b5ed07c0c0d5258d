"""Own limits go into the bin from their own page, and come back from the page of the bin."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from etchbook.web.again import stays_on
from etchbook.web.bench import get_bench, hand_of
from etchbook.web.pages.home import to
from etchbook.web.pages.limits import one_set
from etchbook.web.pages.register import in_the_bin
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import limitsbin

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]


def _set_again(request: Request, name: str) -> HTMLResponse:
    return one_set(request, f"own:{name}")


@router.post("/limits/own/{name}/bin")
@stays_on(_set_again)
def to_bin(request: Request, name: str, form: Form) -> RedirectResponse:
    """Put own limits into the bin."""
    limitsbin.bin_own(get_bench(request).folder, name, hand_of(request), word(form, "mark"))
    return to("/bin")


def _bin_again(request: Request, which: str) -> HTMLResponse:
    return in_the_bin(request)


@router.post("/limits/bin/{which}")
@stays_on(_bin_again)
def back(request: Request, which: str, form: Form) -> RedirectResponse:
    """Bring own limits back out of the bin."""
    return to(f"/limits/set/own:{limitsbin.bring_back_own(get_bench(request).folder, which)}")
