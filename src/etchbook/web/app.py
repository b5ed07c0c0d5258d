"""Puts the bench together: gate, pages, JSON, and one sentence for what went wrong."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from etchbook import __version__
from etchbook.usecases.meeting import MetError
from etchbook.web.again import status_of
from etchbook.web.bench import Bench, page
from etchbook.web.jobs import Jobs
from etchbook.web.lan import Lan
from etchbook.web.routers import ROUTERS
from etchbook.web.safety import Gate
from etchbook.wiring import shelf
from etchbook.wiring.apart import QUICK, SLOW
from etchbook.wiring.benchkeys import key
from etchbook.wiring.devices import Devices
from etchbook.wiring.errors import sentence
from etchbook.wiring.meeting import Drafts
from etchbook.wiring.notes import JobNotes, notes_beside

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


def create_app(book_folder: Path, *, hosts: tuple[str, ...] = (), lan: Lan | None = None) -> FastAPI:
    """The bench of one book.

    Parameters
    ----------
    book_folder : of a book that is there
    hosts : names besides those of the loopback under which the bench may be called on its own machine
    lan : how it stands in the network, None where it answers its own machine alone
    """
    store = shelf.meant(str(book_folder))
    notes = notes_beside(book_folder)
    jobs, devices = Jobs(JobNotes(book_folder, notes)), Devices(notes)
    bench = Bench(folder=book_folder, store=store, jobs=jobs, devices=devices, drafts=Drafts(notes), lan=lan)

    @asynccontextmanager
    async def open_hours(_: FastAPI) -> AsyncIterator[None]:
        jobs.resume()
        yield
        jobs.close()
        for lane in (QUICK, SLOW):
            lane.close()
        notes.close()
        store.close()

    app = FastAPI(title="Etchbook", version=__version__, lifespan=open_hours, docs_url=None, redoc_url=None,
                  openapi_url="/api/openapi.json")  # fmt: skip
    app.state.bench = bench
    app.add_middleware(Gate, hosts=(*LOOPBACK, *hosts), key=key(), devices=devices,
                       lan=lan.address if lan else "")  # fmt: skip
    app.mount("/static", StaticFiles(packages=[("etchbook.web", "static")]), name="static")
    for router in ROUTERS:
        app.include_router(router)
    app.add_exception_handler(Exception, _told)
    app.add_exception_handler(ValueError, _told)  # the errors of our own rooms are of that kind
    app.add_exception_handler(MetError, _met)
    app.add_exception_handler(HTTPException, _no_page)
    app.add_exception_handler(RequestValidationError, _unread)
    return app


async def _met(request: Request, error: Exception) -> Response:
    """A save that met another edition: what was not saved is kept, and the way to it is told."""
    assert isinstance(error, MetError)
    drafts: Drafts = request.app.state.bench.drafts
    code, name = error.draft["code"], drafts.keep(error)
    where = f"/reading/{code}/beside/{name}"
    if not request.url.path.startswith("/api/"):
        return RedirectResponse(where, status_code=303)
    return JSONResponse({"error": str(error), "draft": name, "beside": where}, status_code=409)


def _answer(request: Request, status: int, text: str) -> Response:
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": text}, status_code=status)
    if not request.state.at_home and request.state.device is None:  # a stranger sees nothing of the book
        return PlainTextResponse(text, status_code=status)
    return page(request, "refused.html", status=status, sentence=text)


async def _told(request: Request, error: Exception) -> Response:
    return _answer(request, status_of(error), sentence(error)[0])


async def _no_page(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    text = "there is no such page" if error.status_code == 404 else str(error.detail)
    return _answer(request, error.status_code, text)


async def _unread(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    first = error.errors()[0]
    where = ".".join(str(part) for part in first["loc"] if part not in ("body", "query", "path"))
    return _answer(request, 422, f"{where or 'the request'}: {first['msg'][:1].lower()}{first['msg'][1:]}")
