"""A trial that can prove something: planned, printed, and decided by the rule that was locked before it."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.terms import DIMENSIONS
from etchbook.terms.settings import NUMBERS, SETTINGS
from etchbook.trials.records import Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.keeping.plans import Planned, keep_plan, note_opened, plan_in
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.planned import sealed_plan
from etchbook.web.again import shows
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.safety import form_of
from etchbook.wiring import benchplans, shelf

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
KINDS = {".pdf": "application/pdf", ".json": "application/json"}
MEASURED = tuple((name, term.label) for name, term in DIMENSIONS.items())
FIELDS = (
    Field(name="question", label="What is the trial to answer?", kind="words", told=("question",),
          like="Does a longer stick-out raise the bead?"),
    Field(name="arm_a", label="One thing", kind="words", like="stick-out 15 mm", told=("arms",)),
    Field(name="arm_b", label="The other thing", kind="words", like="stick-out 22 mm"),
    Field(name="kind", label="Kind of trial", kind="choice", usual="two arms",
          options=(("two arms", "two arms, dealt at random"),
                   ("reference cylinder", "a change that cannot be undone, beside a reference (rolling a cylinder)"))),
    Field(name="response", label="What is measured", kind="choice", usual="convexity", options=MEASURED,
          told=("nothing is known of how",)),
    Field(name="worth", label="Smallest difference worth knowing", kind="number", like="0.3",
          hint="In the unit of what is measured: mm for lengths.", told=("worth", "difference")),
    Field(name="welding", label="Welded", kind="choice", usual="", needed=False,
          options=(("", "not said: by hand counts"), ("mechanised", "mechanised"), ("hand", "by hand")),
          told=("welding",)),
    Field(name="scatter", label="Scatter from bead to bead", kind="number", needed=False,
          hint="If you know it. Left empty, the book's own counts, else a planning value, and the plan says which.",
          told=("scatter",)),
    Field(name="scatter_dof", label="Beads behind that scatter, less one", kind="number", needed=False,
          told=("degrees of freedom",)),
    Field(name="margin", label="Differences of no consequence, up to", kind="number", needed=False,
          hint="Left empty, two thirds of the difference worth knowing.", told=("margin",)),
    Field(name="covariate", label="Measured beside every bead and taken out", kind="choice", needed=False,
          options=(("", "nothing"), *((name, SETTINGS[name].label) for name in SETTINGS if name in NUMBERS)),
          told=("covariate",)),
    Field(name="sections", label="Cuts to a bead", kind="whole", usual="2", told=("sections",)),
    Field(name="warm_up", label="Beads to warm up", kind="whole", usual="3", told=("warm-up",)),
    Field(name="power", label="Chance of showing it", kind="number", usual="0.8", told=("power", "chance of showing")),
    Field(name="beads", label="Beads in each arm, if it is not to be reckoned", kind="whole", needed=False,
          told=("beads an arm",)),
    Field(name="held", label="What is held fast", kind="long", needed=False,
          hint="One a line, such as: plate = 150 x 100 x 8 mm"),
    Field(name="code", label="Code of the trial", kind="words", needed=False, like="N3",
          hint="Left empty, the next free one is taken.", told=("there is a trial", "code of")),
)  # fmt: skip


@router.get("/plan")
def ways(request: Request) -> HTMLResponse:
    """What can be planned, and the trials that are."""
    store = get_book(request)
    held = [one for one in store.every("trial", limit=1000) if isinstance(one.record, Trial) and one.record.plan]
    return page(request, "plan.html", planned=held)


@router.get("/plan/new")
def form_new(request: Request) -> HTMLResponse:
    """The form of a new plan."""
    return page(request, "plan_new.html", form=asked(FIELDS, {}))


def _new_again(request: Request, given: FormData, _: dict[str, Any]) -> HTMLResponse:
    return page(request, "plan_new.html", form=asked(FIELDS, dict(given), sent=True))


@router.post("/plan/new", response_model=None)
@shows(_new_again)
def new(request: Request, given: Form) -> Response:
    """Plan a trial and begin it in the book."""
    store, form = get_book(request), asked(FIELDS, dict(given), sent=True)
    made = form.ask(lambda: _kept(request, store, form))
    if made is None:
        return page(request, "plan_new.html", status=form.status, form=form)
    return RedirectResponse(f"/plan/{made.code}", status_code=303)


def _kept(request: Request, store: BookStore, form: Asked) -> Trial:
    made, nonce = benchplans.planned(store, said_of(form.values))
    return keep_plan(store, hand_of(request), shelf.mark(), made, nonce, form.values["code"] or "")


def said_of(values: dict[str, Any]) -> dict[str, Any]:
    """A form's values as `wish_from` takes them."""
    told = {name: value for name, value in values.items() if value not in (None, "")}
    arms = [told.pop("arm_a", ""), told.pop("arm_b", "")]
    told.pop("code", "")
    held = told.pop("held", "")
    return told | {"arms": arms} | ({"held": held_fast(held)} if held else {})


def held_fast(text: str) -> dict[str, str]:
    """Lines such as ``plate = 150 x 100 x 8 mm``."""
    found = {}
    for line in filter(None, (part.strip() for part in text.splitlines())):
        name, sign, value = line.partition("=" if "=" in line else ":")
        if not sign or not name.strip() or not value.strip():
            raise RefusedError(f'What is held fast is written like plate = 8 mm, one a line, not "{line}"')
        found[name.strip()] = value.strip()
    return found


@router.get("/plan/{code}")
def plan(request: Request, code: str) -> HTMLResponse:
    """A planned trial: its rule, its run sheet to print, its papers."""
    found = plan_in(get_book(request), code)
    return page(request, "planned.html", found=found, **shown(found))


def shown(found: Planned) -> dict[str, Any]:
    """What a page shows of the open part of a plan."""
    made = sealed_plan(found.document)
    return {"made": made, "wish": made.wish, "label": DIMENSIONS[made.wish.response].label,
            "open_papers": benchplans.OPEN, "sealed_papers": benchplans.SEALED}  # fmt: skip


@router.get("/plan/{code}/paper/{name}")
def paper(request: Request, code: str, name: str) -> Response:
    """An open paper of the plan."""
    if name not in benchplans.OPEN:
        raise NotThereError("there is no such paper that anybody may open")
    return _paper(plan_in(get_book(request), code), name)


@router.post("/plan/{code}/sealed")
def sealed(request: Request, code: str, given: Form) -> Response:
    """A sealed paper for the helper; the book keeps who took it out."""
    store, name = get_book(request), str(given.get("paper", ""))
    if name not in benchplans.SEALED:
        raise RefusedError("say which sealed paper: the key or the helper's sheet")
    answer = _paper(plan_in(store, code), name)
    note_opened(store, hand_of(request), code)
    return answer


def _paper(found: Planned, name: str) -> Response:
    head = {"content-disposition": f'attachment; filename="{found.code}-{name}"', "cache-control": "no-store"}
    return Response(benchplans.paper(found, name), media_type=KINDS[name[name.rindex(".") :]], headers=head)
