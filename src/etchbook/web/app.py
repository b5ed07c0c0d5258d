"""Puts the bench together: the gate before everything, the first page at once, all others behind it."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles
from starlette.types import ASGIApp

from etchbook.web.bench import Bench
from etchbook.web.jobs import Jobs
from etchbook.web.lan import Lan
from etchbook.web.late import Late
from etchbook.web.pages import home
from etchbook.web.safety import Gate
from etchbook.web.troubles import told_by
from etchbook.wiring import shelf
from etchbook.wiring.apart import QUICK, SLOW
from etchbook.wiring.benchkeys import key
from etchbook.wiring.devices import Devices
from etchbook.wiring.drafts import Drafts
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

    def all_of_it() -> ASGIApp:
        from etchbook.web.whole import whole  # a second of imports: the first page is shown meanwhile

        return whole(bench)

    late = Late(all_of_it)

    @asynccontextmanager
    async def open_hours(_: FastAPI) -> AsyncIterator[None]:
        late.begin()
        jobs.resume()
        yield
        jobs.close()
        for lane in (QUICK, SLOW):
            lane.close()
        notes.close()
        store.close()

    app = FastAPI(lifespan=open_hours, docs_url=None, redoc_url=None, openapi_url=None)
    app.state.bench = bench
    app.add_middleware(Gate, hosts=(*LOOPBACK, *hosts), key=key(), devices=devices,
                       lan=lan.address if lan else "")  # fmt: skip
    app.mount("/static", StaticFiles(packages=[("etchbook.web", "static")]), name="static")
    app.include_router(home.router)
    told_by(app)
    app.router.default = late
    return app
