"""Photographs come in, are read in a job, and are watched while they are."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response, StreamingResponse
from starlette.datastructures import FormData, UploadFile

from etchbook.trials import normal_code
from etchbook.trials.records import Face, PictureEntry
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.scales import scale_wish
from etchbook.usecases.words import family_named
from etchbook.web.again import FieldError, beside, stays_on
from etchbook.web.bench import get_bench, get_book, hand_of, in_place, page
from etchbook.web.jobs import Job
from etchbook.web.pages.home import gone, to
from etchbook.web.pages.opening import opened, trail_of, trial_of
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import benchviews
from etchbook.wiring.benchjobs import Order

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
TICK_S = 0.2


def _photo_again(request: Request, code: str) -> Response:
    """The page after a refusal; sent without leaving it, the sentence alone, so that the chosen photograph stays."""
    return page(request, "refused_part.html") if in_place(request) else opened(request, code)


@router.post("/face/{code}/picture", response_model=None)
@stays_on(_photo_again)
def add(request: Request, code: str, form: Form) -> Response:
    """Take a photograph in; it is looked at, kept and read in a job."""
    face, _ = held(get_book(request), code, Face)
    photo = next((one for name in ("camera", "photo") if isinstance(one := form.get(name), UploadFile)
                  and one.filename), None)  # fmt: skip
    if photo is None or not photo.filename:
        raise FieldError("photo", "no photograph came with the form: choose one, or take one with the camera")
    order = order_of(request, face.code, form)
    job = get_bench(request).jobs.begin(order, photo.file, photo.filename)
    return gone(request, f"/job/{job.id}")


@router.post("/picture/{code}/read")
@stays_on(opened)
def read(request: Request, code: str, form: Form) -> RedirectResponse:
    """Read a picture that is in the book."""
    entry, _ = held(get_book(request), code, PictureEntry)
    return to(f"/job/{get_bench(request).jobs.begin(order_of(request, entry.code, form)).id}")


def order_of(request: Request, code: str, form: FormData) -> Order:
    """What is to be done with a photograph, from the words of a form."""
    return order_for(request, code, joint=word(form, "joint"), scale_from=word(form, "scale_from"),
                     px_per_mm=word(form, "px_per_mm"), light=word(form, "light"))  # fmt: skip


def order_for(request: Request, code: str, *, joint: str, scale_from: str, px_per_mm: str, light: str = "") -> Order:
    """What is to be done with a photograph; a scale that is none is refused before anything is begun."""
    bench = get_bench(request)
    trial = trial_of(bench.store, normal_code(code))
    known = trial.joint if trial else None
    family = family_named(joint) if joint else (known.family if known else None)
    typed = px_per_mm if scale_from in ("", "typed") else ""
    if scale_from == "typed" and not px_per_mm:
        raise FieldError("px_per_mm", "type how many pixels a millimetre has, or choose another way to the millimetres")
    source = "" if scale_from == "typed" else scale_from
    with beside("px_per_mm" if typed else "scale_from"):
        scale_wish(typed or None, None, source or None)
    return Order(
        folder=str(bench.folder),
        code=code,
        hand=hand_of(request),
        light=light,
        joint=family,
        scale=typed,
        scale_from=source,
    )


def job_named(request: Request, name: str) -> Job:
    """The job of that name."""
    job = get_bench(request).jobs.get(name)
    if job is None:
        raise NotThereError("that job is not known any more: look at the face, where the picture is if it was kept")
    return job


@router.get("/job/{name}", response_model=None)
def watch(request: Request, name: str) -> HTMLResponse | RedirectResponse:
    """How far a job is; when it is done, what came of it."""
    job = job_named(request, name)
    if job.state == "done":
        return to("/demo" if job.order.demo else f"/open/{job.result}")
    return page(request, "job.html", job=job, code=job.order.code, demo=job.order.demo, trail_of=trail_of)


@router.get("/job/{name}/events")
async def events(request: Request, name: str) -> StreamingResponse:
    """How far a job is, told as it goes on (server-sent events)."""
    job = job_named(request, name)

    async def told() -> AsyncIterator[str]:
        before = ""
        while not await request.is_disconnected():
            now = json.dumps(job.told())
            if now != before:
                yield f"event: step\ndata: {now}\n\n"
                before = now
            if job.over:
                return
            await asyncio.sleep(TICK_S)

    return StreamingResponse(told(), media_type="text/event-stream", headers={"cache-control": "no-store"})


@router.post("/job/{name}/again")
def again(request: Request, name: str, _: Form) -> RedirectResponse:
    """Begin a job again that was interrupted."""
    return to(f"/job/{get_bench(request).jobs.again(job_named(request, name)).id}")


@router.post("/job/{name}/stop")
def stop(request: Request, name: str, _: Form) -> RedirectResponse:
    """Stop a job."""
    job = job_named(request, name)
    get_bench(request).jobs.stop(job)
    return to("/demo" if job.order.demo else f"/open/{job.picture or job.order.code}")


@router.get("/picture/{code}/preview.jpg")
def preview(request: Request, code: str) -> Response:
    """A picture, reduced for a page."""
    return Response(benchviews.preview(get_book(request), code), media_type="image/jpeg",
                    headers={"cache-control": "private, max-age=86400"})  # fmt: skip
