"""The demo's trials: filled in by a job, and a way through what they show. All of it is simulated, and says so."""

from dataclasses import dataclass
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from etchbook.usecases import RefusedError
from etchbook.usecases.demo import AGAINST
from etchbook.usecases.demo_story import NAMES, ODD, QUESTION, USUAL
from etchbook.usecases.keeping.demo import FIRST, QUESTIONS, begin, faces_of, lacking, readings_of
from etchbook.usecases.keeping.ports import BookStore
from etchbook.web.again import stays_on
from etchbook.web.bench import get_bench, get_book, hand_of, page
from etchbook.web.jobs import Job
from etchbook.web.pages.home import to
from etchbook.web.safety import form_of
from etchbook.wiring.benchjobs import Order
from etchbook.wiring.units import amount

router = APIRouter(include_in_schema=False)
TRIAL = next(iter(QUESTIONS))


@dataclass(frozen=True, kw_only=True, slots=True)
class Stop:
    """One thing to look at on the way through the demo; its address is empty until it can be shown."""

    address: str
    title: str
    words: str


@router.get("/demo")
def look(request: Request) -> HTMLResponse:
    """What there is to see in the demo's trials, as far as they are filled in."""
    store = get_book(request)
    return page(request, "demo.html", begun=bool(faces_of(store)), left=len(lacking(store)), job=_under_way(request),
                stops=stops(store), trials=store.counts().get("trial", 0))  # fmt: skip


@router.post("/demo")
@stays_on(look)
def fill(request: Request, _: Annotated[FormData, Depends(form_of)]) -> RedirectResponse:
    """Fill an empty book with the demo's trials; their sections are painted and read in a job."""
    store, bench = get_book(request), get_bench(request)
    if not faces_of(store):
        if store.counts().get("trial", 0):
            raise RefusedError("this book has trials already: the demo belongs in an empty one")
        begin(store, amount)
    if not lacking(store):
        return to("/demo")
    order = Order(folder=str(bench.folder), code=TRIAL, hand=hand_of(request), demo=True)
    return to(f"/job/{(_under_way(request) or bench.jobs.begin(order)).id}")


def _under_way(request: Request) -> Job | None:
    jobs = get_bench(request).jobs.under_way(TRIAL)
    return next((one for one in jobs if one.order.demo and not one.stopped), None)


def stops(store: BookStore) -> tuple[Stop, ...]:
    """The way through the demo: a section, its judgement, its report, two bays compared, the cause."""
    read = readings_of(store)
    reading = f"/reading/{read[FIRST]}" if FIRST in read else ""
    judged = f"{reading}?{urlencode({'against': AGAINST})}" if reading else ""
    whole = not lacking(store) and bool(read)
    groups = [*(("a", code) for code in USUAL), *(("b", code) for code in ODD)]
    asked = urlencode([*groups, ("name_a", NAMES[0]), ("name_b", NAMES[1]), ("on", QUESTION)])
    cause = urlencode([*(("usual", code) for code in USUAL), *(("odd", code) for code in ODD)])
    return (
        Stop(address=reading, title="A section that was read",
             words="The first attempt of a fillet: its outline, its legs, throat and penetration with their ±."),
        Stop(address=reading and f"{reading}/picture", title="Its picture, close up",
             words="Drag a point and watch which numbers change; nothing is kept until you save."),
        Stop(address=judged and f"{judged}#limits", title="The same beside limits",
             words="What is met, what is not, and what is too close to say."),
        Stop(address=reading and f"{reading}/report?{urlencode({'against': AGAINST})}", title="Its report",
             words="The page to print or to hand on."),
        Stop(address=f"/compare/seen?{asked}" if whole else "", title="Two bays compared",
             words="Why do the beads of bay B stand taller? Is it more than scatter, and what else was not the same?"),
        Stop(address=f"/next-check/ask?{cause}" if whole else "", title="The likely cause",
             words="What explains the difference, and the one check that would tell."),
    )  # fmt: skip
