"""Photographs and the jobs that read them as JSON."""

from typing import Annotated

from fastapi import File, Form, Header, Path, Request, UploadFile

from etchbook.trials.records import Face, PictureEntry
from etchbook.usecases.keeping.looking import held
from etchbook.web.api.shapes import ReadGiven
from etchbook.web.api.told import JobsTold, JobTold
from etchbook.web.api.verbs import After, FaceCode, Limit, PictureCode, verbs
from etchbook.web.bench import get_bench, get_book
from etchbook.web.jobs import Job
from etchbook.web.pages.pictures import job_named, order_for

router = verbs("pictures")
JobName = Annotated[str, Path(max_length=60, examples=["3vQm0Zk2hW1x"])]


def job_told(job: Job) -> JobTold:
    """A job as JSON."""
    return JobTold.model_validate(job.told())


@router.post("/faces/{code}/pictures", status_code=202)
def add_picture(
    request: Request,
    code: FaceCode,
    photo: Annotated[UploadFile, File(description="JPEG, PNG, TIFF or HEIC.")],
    joint: Annotated[str, Form(max_length=20, examples=["tee"], description="As the trial says where left out.")] = "",
    scale_from: Annotated[str, Form(max_length=80, examples=["thickness_1=8"], description="rule and so on.")] = "",
    px_per_mm: Annotated[str, Form(max_length=30, examples=["128.3"])] = "",
    idempotency_key: Annotated[
        str, Header(max_length=100, examples=["cam-17"], description="Sent again, also after a restart: the first job.")
    ] = "",
) -> JobTold:
    """Put a photograph on a face and have it read in a job; once this answers, a restart loses neither."""
    face, _ = held(get_book(request), code, Face)
    order = order_for(request, face.code, joint=joint, scale_from=scale_from, px_per_mm=px_per_mm)
    jobs = get_bench(request).jobs
    return job_told(jobs.begin(order, photo.file, photo.filename or "photo.jpg", key=idempotency_key))


@router.post("/pictures/{code}/readings", status_code=202)
def read_picture(request: Request, code: PictureCode, given: ReadGiven) -> JobTold:
    """Read a picture that is in the book, in a job."""
    entry, _ = held(get_book(request), code, PictureEntry)
    order = order_for(request, entry.code, joint=given.joint, scale_from=given.scale_from, px_per_mm=given.px_per_mm)
    return job_told(get_bench(request).jobs.begin(order))


@router.get("/jobs")
def list_jobs(request: Request, limit: Limit = 50, after: After = "") -> JobsTold:
    """Jobs, the newest first, a page at a time; those of before a restart as well."""
    found = get_bench(request).jobs.newest(limit + 1, after)
    shown = found[:limit]
    return JobsTold(items=[job_told(one) for one in shown], next=shown[-1].id if len(found) > limit else "")


@router.get("/jobs/{name}")
def get_job(request: Request, name: JobName) -> JobTold:
    """How far a job is."""
    return job_told(job_named(request, name))


@router.delete("/jobs/{name}")
def stop_job(request: Request, name: JobName) -> JobTold:
    """Stop a job; a photograph that is in the book already stays there."""
    job = job_named(request, name)
    get_bench(request).jobs.stop(job)
    return job_told(job)


@router.post("/jobs/{name}/again", status_code=202)
def begin_job_again(request: Request, name: JobName) -> JobTold:
    """Begin a job again that was interrupted too often to be begun again by itself."""
    return job_told(get_bench(request).jobs.again(job_named(request, name)))
