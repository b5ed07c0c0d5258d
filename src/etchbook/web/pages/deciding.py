"""A planned trial is decided by its locked rule, once, when every bead is read."""

import re
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import FormData, UploadFile

from etchbook.quantity import Measured, spoken
from etchbook.trials.deciding import Decision
from etchbook.trials.planning import Plan
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.plans import Planned, Result, note_decided, plan_in, results_in
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.planned import sealed_plan
from etchbook.web.again import shows
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.safety import form_of
from etchbook.wiring import benchplans
from etchbook.wiring.units import listed

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
MOST_KEY = 200_000


@router.get("/plan/{code}/decide")
def form_decide(request: Request, code: str) -> HTMLResponse:
    """The form with a line for each bead of the plan."""
    store = get_book(request)
    found = plan_in(store, code)
    return _page(request, store, found, None, None)


def _decide_again(request: Request, given: FormData, parts: dict[str, Any]) -> HTMLResponse:
    store = get_book(request)
    found = plan_in(store, parts["code"])
    made = sealed_plan(found.document)
    beads = results_in(store, found.code, made.wish.response, made.wish.covariate)
    return _page(request, store, found, asked(_fields(made, beads), dict(given), sent=True), None)


@router.post("/plan/{code}/decide")
@shows(_decide_again)
def decide(request: Request, code: str, given: Form) -> HTMLResponse:
    """Decide the trial, and keep what the rule said."""
    store = get_book(request)
    found = plan_in(store, code)
    made = sealed_plan(found.document)
    beads = results_in(store, found.code, made.wish.response, made.wish.covariate)
    form = asked(_fields(made, beads), dict(given), sent=True)
    key = _key(given.get("key"))
    told = form.ask(lambda: _decided(request, store, found, (form, made, beads), key))
    return _page(request, store, plan_in(store, code), form, told)


def _decided(
    request: Request, store: BookStore, found: Planned, held: tuple[Asked, Plan, tuple[Result, ...]], key: str
) -> Decision:
    form, made, beads = held
    results, beside = _results(form, made, beads)
    told = benchplans.decision(
        found, results, key_text=key, covariate=beside, stopped=form.values["stopped"] or ""
    )  # fmt: skip
    note_decided(store, hand_of(request), found.code, told)
    return told


def _key(given: Any) -> str:
    if not isinstance(given, UploadFile) or not given.filename:
        return ""
    return given.file.read(MOST_KEY).decode("utf-8", errors="replace")


def _coded(made: Plan) -> list[str]:
    return [run.code for run in made.runs if run.code]


def _fields(made: Plan, beads: tuple[Result, ...]) -> tuple[Field, ...]:
    choices = (("", "typed beside"), *((one.bead, f"{one.bead}: {spoken(one.value)}") for one in beads))
    lines: list[Field] = []
    for code in _coded(made):
        here = next((one.bead for one in beads if re.search(rf"\b{code}\b", one.words)), "")
        lines.append(Field(name=f"bead.{code}", label=f"Bead of {code}", kind="choice", usual=here, options=choices,
                           needed=False, told=()))  # fmt: skip
        lines.append(Field(name=f"value.{code}", label=f"Result of {code}", kind="own", own=_value, needed=False,
                           like="1.23±0.05", told=(f"{code} has", f"bead {code}")))  # fmt: skip
        if made.wish.covariate:
            lines.append(Field(name=f"beside.{code}", label=f"Beside {code}", kind="number", needed=False,
                               told=(f"beside bead {code}", f"beside {code}")))  # fmt: skip
    stop = Field(name="stopped", label="If it was stopped before its end, why", kind="words", needed=False,
                 hint="Written down before any result was seen. Left empty, every bead must have its result.",
                 told=("stop",))  # fmt: skip
    return (*lines, stop)


def _value(name: str, text: str) -> Measured:
    found = listed(text, "mm", f"the result of {name.partition('.')[2]}")
    return Measured(value=found.value, u=found.u or 0.0, unit="mm")


def _results(form: Asked, made: Plan, beads: tuple[Result, ...]) -> tuple[dict[str, Measured], dict[str, float]]:
    by_code = {one.bead: one for one in beads}
    results: dict[str, Measured] = {}
    beside: dict[str, float] = {}
    taken: dict[str, str] = {}
    for code in _coded(made):
        typed, picked = form.values[f"value.{code}"], form.values[f"bead.{code}"]
        bead = by_code.get(picked or "")
        if typed is not None and bead is not None:
            raise RefusedError(f"{code} has two results, one typed and one of {bead.bead}: leave one out")
        if bead is not None and bead.bead in taken:
            raise RefusedError(f"{bead.bead} stands for {taken[bead.bead]} and for {code}: a bead counts once")
        value = typed if bead is None else bead.value
        if bead is not None:
            taken[bead.bead] = code
        if value is not None:
            results[code] = value
        along = form.values.get(f"beside.{code}") if made.wish.covariate else None
        along = along if along is not None or bead is None else bead.beside
        if along is not None:
            beside[code] = along
    return results, beside


def _page(
    request: Request, store: BookStore, found: Planned, form: Asked | None, told: Decision | None
) -> HTMLResponse:
    made = sealed_plan(found.document)
    beads = results_in(store, found.code, made.wish.response, made.wish.covariate)
    here = form or asked(_fields(made, beads), {})
    return page(request, "plan_decide.html", status=here.status, found=found, made=made, form=here, told=told,
                codes=_coded(made), beads=beads)  # fmt: skip
