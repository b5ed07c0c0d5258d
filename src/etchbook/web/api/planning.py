"""Trials that can prove something, as JSON: planned, listed, opened by the helper, decided by their rule."""

from fastapi import Request, Response

from etchbook.quantity import Measured
from etchbook.terms import DIMENSIONS
from etchbook.trials.planning import Plan
from etchbook.trials.records import Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.plans import keep_plan, note_decided, note_opened, plan_in, results_in
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.planned import sealed_plan
from etchbook.web.api.comparing import difference, scatter
from etchbook.web.api.planshapes import (
    DecisionAsked,
    DecisionTold,
    KeyTold,
    PlanAsked,
    PlanListed,
    PlansTold,
    PlanTold,
    ResultGiven,
    RunTold,
)
from etchbook.web.api.readings import PDF
from etchbook.web.api.verbs import After, Limit, TrialCode, sliced, verbs
from etchbook.web.bench import get_book, hand_of
from etchbook.wiring import benchplans, shelf

router = verbs("plans")


@router.post("/plans", status_code=201)
def plan_trial(request: Request, given: PlanAsked) -> PlanTold:
    """Plan a trial and begin it in the book: its size, order, codes and rule are locked before the first bead."""
    store = get_book(request)
    said = {name: value for name, value in given.model_dump(exclude={"code"}).items() if value not in (None, "")}
    made, nonce = benchplans.planned(store, said)
    return _told(store, keep_plan(store, hand_of(request), shelf.mark(), made, nonce, given.code).code)


@router.get("/plans")
def list_plans(request: Request, limit: Limit = 50, after: After = "") -> PlansTold:
    """Trials that were planned, a page at a time."""
    store = get_book(request)
    found = [one for one in store.every("trial", limit=100_000) if isinstance(one.record, Trial) and one.record.plan]
    shown, next_one = sliced(found, limit, after, lambda one: one.code)
    return PlansTold(items=[_listed(store, one.code) for one in shown], next=next_one)


def _listed(store: BookStore, code: str) -> PlanListed:
    found = plan_in(store, code)
    return PlanListed(code=found.code, question=sealed_plan(found.document).wish.question, decision=found.decision)


@router.get("/plans/{code}")
def get_plan(request: Request, code: TrialCode) -> PlanTold:
    """The open part of a plan; which bead is which arm stays sealed."""
    return _told(get_book(request), code)


def _told(store: BookStore, code: str) -> PlanTold:
    found = plan_in(store, code)
    made = sealed_plan(found.document)
    wish = made.wish
    return PlanTold(
        code=found.code, edition=found.edition, question=wish.question, decision=found.decision, arms=list(wish.arms),
        kind=wish.kind, response=wish.response, worth=wish.worth, scatter=scatter(wish.scatter), per_arm=made.per_arm,
        power=made.power, covariate=wish.covariate, held=dict(wish.held or {}), rule=made.rule.words, lock=made.lock,
        seal=made.seal, opened=list(found.opened), notes=list(made.notes), runs=_runs(made),
    )  # fmt: skip


def _runs(made: Plan) -> list[RunTold]:
    return [RunTold(number=run.number, code=run.code, block=run.block, phase=run.phase) for run in made.runs]


@router.get("/plans/{code}/run-sheet.pdf", response_class=Response, responses=PDF)
def print_run_sheet(request: Request, code: TrialCode) -> Response:
    """The run sheet with its labels, which tells no arm."""
    found = plan_in(get_book(request), code)
    return Response(benchplans.paper(found, "run-sheet.pdf"), media_type="application/pdf")


@router.post("/plans/{code}/key")
def take_key_out(request: Request, code: TrialCode) -> KeyTold:
    """The sealed key, for the helper alone; the book keeps who took it out."""
    store = get_book(request)
    made = benchplans.opened(plan_in(store, code))
    note_opened(store, hand_of(request), code)
    return KeyTold.model_validate(made.key)


@router.post("/plans/{code}/decision", status_code=201)
def decide_plan(request: Request, code: TrialCode, given: DecisionAsked) -> DecisionTold:
    """Decide a trial by its locked rule, which looks once, and keep what it said."""
    store = get_book(request)
    found = plan_in(store, code)
    made = sealed_plan(found.document)
    results, beside = _results(store, found.code, made, given)
    told = benchplans.decision(found, results, key_text=given.key, covariate=beside, stopped=given.stopped)
    note_decided(store, hand_of(request), found.code, told)
    return DecisionTold(answer=told.answer, words=told.words, difference=difference(told.difference),
                        blocks=list(told.blocks), notes=list(told.notes))  # fmt: skip


def _results(
    store: BookStore, code: str, made: Plan, given: DecisionAsked
) -> tuple[dict[str, Measured], dict[str, float]]:
    unit = DIMENSIONS[made.wish.response].unit
    beads = {one.bead: one for one in results_in(store, code, made.wish.response, made.wish.covariate)}
    results, beside = {}, {}
    taken: dict[str, str] = {}
    for name, one in given.results.items():
        _look_over(name, one, taken, list(beads))
        bead = beads.get(one.bead.upper())
        if bead is not None:
            taken[bead.bead] = name
            if bead.beside is not None:
                beside[name] = bead.beside
        results[name] = bead.value if bead is not None else Measured(value=one.value or 0.0, u=one.u, unit=unit)
    return results, beside | given.covariate


def _look_over(name: str, one: ResultGiven, taken: dict[str, str], beads: list[str]) -> None:
    if (one.value is None) == (not one.bead):
        raise RefusedError(f"{name} has one result: either its value or the bead of the book that it is")
    if one.bead and one.bead.upper() not in beads:
        raise RefusedError(f"{one.bead} is no bead of this trial on which that was read; there are {', '.join(beads)}")
    if one.bead.upper() in taken:
        raise RefusedError(f"{one.bead} stands for {taken[one.bead.upper()]} and for {name}: a bead counts once")
