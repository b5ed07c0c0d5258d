"""The book's verbs as JSON."""

from typing import Annotated, Any

from fastapi import APIRouter, File, Form, Header, Query, Request, UploadFile

from etchbook.joint import Joint
from etchbook.tables import limit_sets
from etchbook.trials import KINDS, body_of
from etchbook.trials.records import Face, Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.judging import judge, limits_for
from etchbook.usecases.keeping.beads import keep_trial, log_bead
from etchbook.usecases.keeping.finding import find
from etchbook.usecases.keeping.looking import held, lookup
from etchbook.usecases.keeping.ports import Entry
from etchbook.usecases.keeping.settings import setting_of
from etchbook.usecases.keeping.telling import line_of
from etchbook.web.api.shapes import BeadGiven, JobTold, Thing, Things, TrialGiven, Trouble
from etchbook.web.bench import get_bench, get_book, hand_of
from etchbook.web.pages.pictures import job_named, order_for
from etchbook.web.pages.readings import named_limits
from etchbook.wiring import benchviews, shelf
from etchbook.wiring.benchviews import plain_judgement, plain_reading
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.units import amount

TROUBLES: dict[int | str, dict[str, Any]] = {
    number: {"model": Trouble, "description": words}
    for number, words in ((403, "from another page"), (404, "not there"), (409, "changed meanwhile"), (422, "refused"))
}
router = APIRouter(prefix="/api", tags=["book"], responses=TROUBLES)
Limit = Annotated[int, Query(ge=1, le=500, description="How many at most.")]
After = Annotated[str, Query(max_length=60, description="The `next` of the page before.")]


def _thing(entry: Entry) -> Thing:
    return Thing(code=entry.code, kind=entry.kind, edition=entry.edition, by=entry.by, at=entry.at,
                 binned=entry.binned, words=line_of(entry), record=body_of(entry.record))  # fmt: skip


def _page(entries: tuple[Entry, ...], limit: int) -> Things:
    return Things(items=[_thing(one) for one in entries], next=entries[-1].code if len(entries) == limit else "")


@router.get("/things")
def things(
    request: Request,
    kind: Annotated[str, Query(max_length=20, examples=["trial"])] = "trial",
    limit: Limit = 50,
    after: After = "",
) -> Things:
    """Things of one kind by code, a page at a time."""
    if kind not in KINDS:
        raise RefusedError(f'"{kind}" is nothing that a book holds: use {", ".join(KINDS)}')
    return _page(get_book(request).every(kind, limit=limit, after=after), limit)


@router.get("/things/{code}")
def thing(request: Request, code: str) -> Thing:
    """One thing by its code, typed or scanned."""
    return _thing(lookup(get_book(request), code))


@router.get("/things/{code}/below")
def below(request: Request, code: str, kind: Annotated[str, Query(max_length=20)] = "") -> list[Thing]:
    """Everything directly below a code."""
    store = get_book(request)
    return [_thing(one) for one in store.below(lookup(store, code).code, kind)]


@router.get("/find")
def search(request: Request, q: Annotated[str, Query(max_length=200)], limit: Limit = 50) -> list[Thing]:
    """Things that hold all the words and lie in all the ranges, such as ``volts=18..20V``."""
    return [_thing(one) for one in find(get_book(request), q.split(), amount, limit=limit)]


@router.post("/trials", status_code=201)
def begin_trial(request: Request, given: TrialGiven) -> Thing:
    """Begin a trial."""
    store = get_book(request)
    if given.code and store.entry(given.code.upper()) is not None:
        raise RefusedError(f"there is a trial {given.code.upper()} already: choose another code, or leave it out")
    said = {name: value for name, value in given.model_dump(exclude={"code", "joint"}).items() if value}
    if given.joint is not None:
        said["joint"] = Joint(**given.joint.model_dump())
    made, _ = keep_trial(store, hand_of(request), given.code, shelf.mark(), said)
    return _thing(lookup(store, made.code))


@router.post("/trials/{code}/beads", status_code=201)
def log(request: Request, code: str, given: BeadGiven) -> Thing:
    """Log the next bead of a trial."""
    store = get_book(request)
    trial, _ = held(store, code, Trial)
    settings = [setting_of(one.name, one.value, one.origin, amount) for one in given.settings]
    made = log_bead(store, hand_of(request), trial.code, settings, like=given.like)
    return _thing(lookup(store, made.code))


@router.post("/faces/{code}/pictures", status_code=202)
def add_picture(
    request: Request,
    code: str,
    photo: Annotated[UploadFile, File(description="JPEG, PNG, TIFF or HEIC.")],
    joint: Annotated[str, Form(max_length=20, description="As the trial says where it is left out.")] = "",
    scale_from: Annotated[str, Form(max_length=80, description="rule, thickness_1=8 and so on.")] = "",
    px_per_mm: Annotated[str, Form(max_length=30)] = "",
    idempotency_key: Annotated[str, Header(max_length=100, description="Sent again, gives the first job.")] = "",
) -> JobTold:
    """Put a photograph on a face and have it read in a job; ask for the job until it is over."""
    face, _ = held(get_book(request), code, Face)
    order = order_for(request, face.code, joint=joint, scale_from=scale_from, px_per_mm=px_per_mm)
    job = get_bench(request).jobs.begin(order, photo.file, photo.filename or "photo.jpg", key=idempotency_key)
    return JobTold(**job.told())


@router.get("/jobs/{name}")
def job_state(request: Request, name: str) -> JobTold:
    """How far a job is."""
    return JobTold(**job_named(request, name).told())


@router.delete("/jobs/{name}")
def stop_job(request: Request, name: str) -> JobTold:
    """Stop a job; a photograph that is in the book already stays there."""
    job = job_named(request, name)
    get_bench(request).jobs.stop(job)
    return JobTold(**job.told())


@router.get("/readings/{code}")
def reading(request: Request, code: str, edition: Annotated[int, Query(ge=0, le=100_000)] = 0) -> dict[str, Any]:
    """A reading whole: outline, dimensions with u, indications, doubts."""
    return plain_reading(get_book(request), code, edition)


@router.get("/readings/{code}/judgement")
def judgement(
    request: Request, code: str, against: Annotated[str, Query(max_length=60, examples=["iso-5817:B"])]
) -> dict[str, Any]:
    """A reading held against limits; nothing is kept by it."""
    _, _, whole = benchviews.reading_in(get_book(request), code)
    return plain_judgement(whole, judge(whole, limits_for(named_limits(against), FilesDesk())))


@router.get("/limits")
def limits() -> list[str]:
    """Names of the packaged sets of limits."""
    return list(limit_sets())
