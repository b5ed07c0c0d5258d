"""What went wrong, told in one sentence: as a page to people, as JSON to programs."""

import re
from typing import TYPE_CHECKING

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException

from etchbook.web.again import shown_again, status_of
from etchbook.web.bench import in_place, page
from etchbook.web.safety.forms import ForeignFormError
from etchbook.wiring.errors import sentence

if TYPE_CHECKING:
    from etchbook.wiring.drafts import Drafts


def told_by(app: FastAPI) -> None:
    """Let an app tell its troubles so."""
    app.add_exception_handler(Exception, _told)
    app.add_exception_handler(ValueError, _told)  # the errors of our own rooms are of that kind
    app.add_exception_handler(ForeignFormError, _foreign)
    app.add_exception_handler(HTTPException, _no_page)
    app.add_exception_handler(RequestValidationError, _unread)


async def met(request: Request, error: Exception) -> Response:
    """A save that met another edition: what was not saved is kept, and the way to it is told."""
    from etchbook.usecases.meeting import MetError

    assert isinstance(error, MetError)
    drafts: Drafts = request.app.state.bench.drafts
    code, name = error.draft["code"], drafts.keep(error)
    where = f"/reading/{code}/beside/{name}"
    if not request.url.path.startswith("/api/"):
        return RedirectResponse(where, status_code=303)
    return JSONResponse({"error": str(error), "draft": name, "beside": where}, status_code=409)


def _answer(request: Request, status: int, text: str) -> Response:
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": _fields(text)}, status_code=status)
    if not request.state.at_home and request.state.device is None:  # a stranger sees nothing of the book
        return PlainTextResponse(text, status_code=status)
    name = "refused_short.html" if in_place(request) else "refused.html"
    return page(request, name, status=status, sentence=text)


def _fields(text: str) -> str:
    """The same sentence names an option of a command to those who typed one, and the field to a program."""
    return re.sub(r"--([a-z][a-z-]*)", lambda found: found[1].replace("-", "_"), text)


async def _told(request: Request, error: Exception) -> Response:
    return _answer(request, status_of(error), sentence(error)[0])


async def _foreign(request: Request, error: Exception) -> Response:
    """Of another session: what was typed is shown again, and the page hears the token that is good now."""
    assert isinstance(error, ForeignFormError)
    again = await run_in_threadpool(shown_again, request, error)
    answer = again if again is not None else _answer(request, status_of(error), sentence(error)[0])
    answer.headers["x-token"] = request.state.token
    return answer


async def _no_page(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    told = {400: "what came cannot be read as JSON or as a form", 404: "there is no such page"}
    text = told.get(error.status_code, str(error.detail))
    return _answer(request, error.status_code, text)


async def _unread(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    first = error.errors()[0]
    where = ".".join(str(part) for part in first["loc"] if part not in ("body", "query", "path"))
    return _answer(request, 422, f"{where or 'the request'}: {first['msg'][:1].lower()}{first['msg'][1:]}")
