"""The whole bench: every page and every verb. It stands on many rooms and takes its time to come up."""

from fastapi import FastAPI

from etchbook import __version__
from etchbook.usecases.meeting import MetError
from etchbook.web.bench import Bench
from etchbook.web.routers import ROUTERS
from etchbook.web.troubles import met, told_by


def whole(bench: Bench) -> FastAPI:
    """Every page and verb of a bench."""
    app = FastAPI(title="Etchbook", version=__version__, docs_url=None, redoc_url=None,
                  openapi_url="/api/openapi.json")  # fmt: skip
    app.state.bench = bench
    for router in ROUTERS:
        app.include_router(router)
    told_by(app)
    app.add_exception_handler(MetError, met)
    return app
