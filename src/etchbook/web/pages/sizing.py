"""How many beads a difference takes, and how well sections are read."""

from collections.abc import Sequence
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import FormData, UploadFile

from etchbook.terms import DIMENSIONS
from etchbook.usecases.book_beads import own_scatter
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.planned import size_rows
from etchbook.usecases.rereading import lines, study_from
from etchbook.usecases.scatters import scatter_of, scatter_rows
from etchbook.web.again import shows
from etchbook.web.aside import aside
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import get_book, page
from etchbook.web.safety import form_of

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
MOST_BYTES = 1_000_000
SIZE = (
    Field(name="response", label="What is measured", kind="choice", usual="convexity",
          told=("nothing is known of how",), options=tuple((name, term.label) for name, term in DIMENSIONS.items())),
    Field(name="worth", label="Differences worth knowing", kind="numbers", usual="0.2; 0.3; 0.5",
          hint="In the unit of what is measured, with a semicolon between them.", told=("difference",)),
    Field(name="power", label="Chance of showing it", kind="number", usual="0.8", told=("power", "chance of showing")),
    Field(name="scatter", label="Scatter from bead to bead", kind="number", needed=False,
          hint="If you know it. Left empty, the book's own counts, else a planning value.", told=("scatter",)),
    Field(name="welding", label="Welded", kind="choice", needed=False, told=("welding",),
          options=(("", "not said"), ("mechanised", "mechanised"), ("hand", "by hand"))),
)  # fmt: skip
SCATTER = (SIZE[-1],)
STUDY = (
    Field(name="table", label="Readings", kind="long", told=("table", "every person", "line"),
          hint="A heading line section,person,value and then a line for each reading; or hand in the file below."),
    Field(name="worth", label="The difference that is sought", kind="number", needed=False, like="0.3",
          told=("difference",)),
    Field(name="unit", label="Unit of the values", kind="words", usual="mm"),
)  # fmt: skip


@router.get("/plan/size")
def size(request: Request) -> HTMLResponse:
    """How many beads show a difference."""
    form = asked(SIZE, dict(request.query_params))
    answer = form.ask(lambda: _sized(get_book(request), form))
    return page(request, "plan_size.html", status=form.status, form=form, answer=answer)


def _sized(store: BookStore, form: Asked) -> dict[str, object]:
    said = form.values
    known = scatter_of(said["response"], said["scatter"], welding=said["welding"] or "", own=own_scatter(store))
    low, high = known.limits()
    rows: Sequence[tuple[str, ...]] = aside(size_rows, known.sd, said["worth"], said["power"])
    return {"rows": rows, "scatter": known, "low": low, "high": high, "label": DIMENSIONS[said["response"]].label}


@router.get("/plan/scatter")
def scatter(request: Request) -> HTMLResponse:
    """How much beads welded alike scatter: the book's own, else planning values."""
    form = asked(SCATTER, dict(request.query_params), sent=True)
    own = own_scatter(get_book(request))
    rows = form.ask(lambda: scatter_rows(own, form.values["welding"] or ""))
    return page(request, "plan_scatter.html", status=form.status, form=form, rows=rows or (), own=len(own))


@router.get("/plan/study")
def study_form(request: Request) -> HTMLResponse:
    """The form of a study of reading."""
    return page(request, "plan_study.html", form=asked(STUDY, {}), answer=None)


def _study_again(request: Request, given: FormData, _: dict[str, Any]) -> HTMLResponse:
    return page(request, "plan_study.html", form=asked(STUDY, dict(given), sent=True), answer=None)


@router.post("/plan/study")
@shows(_study_again)
def study(request: Request, given: Form) -> HTMLResponse:
    """How well sections are read, by analysis of variance."""
    said = {name: value for name, value in given.items() if isinstance(value, str)}
    file = given.get("file")
    if isinstance(file, UploadFile) and file.filename:
        said["table"] = file.file.read(MOST_BYTES).decode("utf-8", errors="replace")
    form = asked(STUDY, said, sent=True)
    answer = form.ask(lambda: list(lines(study_from(form.values["table"]), form.values["worth"], form.values["unit"])))
    return page(request, "plan_study.html", status=form.status, form=form, answer=answer)
