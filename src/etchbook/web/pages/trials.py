"""Begin a trial, log a bead, add to a bead."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from etchbook.joint import Joint
from etchbook.terms import FAMILIES
from etchbook.terms.settings import NUMBERS, SETTINGS
from etchbook.trials.records import Bead, Origin, Setting, Trial
from etchbook.usecases.grooves import fitting, groove_from
from etchbook.usecases.keeping.beads import change_bead, keep_trial, log_bead
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.keeping.settings import setting_of
from etchbook.usecases.words import family_named
from etchbook.web.again import FieldError, beside, measured, stays_on
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.pages.home import to
from etchbook.web.pages.opening import opened
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import shelf
from etchbook.wiring.units import amount

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
FIRST = ("volts", "amps", "wire_feed", "travel", "stick_out", "gas_flow")
EXAMPLES = {"volts": "18.5 V", "amps": "150 A", "wire_feed": "5.6 m/min", "travel": "30 cm/min", "stick_out": "15 mm",
            "gas_flow": "14 L/min", "arc_time": "24 s", "bead_length": "140 mm"}  # fmt: skip
OF_A_JOINT = ("thickness_1", "thickness_2", "throat", "gap", "groove_angle", "root_face")
TEXTS = ("question", "material", "wire", "gas", "procedure", "remarks")


@router.get("/trial/new")
def new_trial(request: Request) -> HTMLResponse:
    """The form of a new trial."""
    return page(request, "trial_new.html", families=FAMILIES)


@router.post("/trial/new")
@stays_on(new_trial)
def begin_trial(request: Request, form: Form) -> RedirectResponse:
    """Begin a trial."""
    said: dict[str, Any] = {name: word(form, name) for name in TEXTS if word(form, name)}
    if joint := _joint(form):
        said["joint"] = joint
    store, code = get_book(request), word(form, "code")
    if code and store.entry(code.upper()) is not None:
        taken = f"there is a trial {code.upper()} already: choose another code, or leave it empty"
        raise FieldError("code", taken)
    with beside("code"):
        made, _ = keep_trial(store, hand_of(request), code, shelf.mark(), said)
    return to(f"/open/{made.code}")


def _joint(form: FormData) -> Joint | None:
    if not word(form, "joint"):
        if any(word(form, name) for name in OF_A_JOINT):
            raise FieldError("joint", "choose the joint that these sizes belong to, or leave them empty")
        return None
    with beside("joint"):
        family = family_named(word(form, "joint"))
    with beside("gap"):
        groove = groove_from(word(form, "gap"), word(form, "groove_angle"), word(form, "root_face"), None, amount)
        groove = fitting(groove, family)
    return Joint(
        groove=groove,
        family=family,
        thickness_1=length(form, "thickness_1", "the thickness of member 1"),
        thickness_2=length(form, "thickness_2", "the thickness of member 2"),
        throat=length(form, "throat", "the throat"),
    )


def length(form: FormData, name: str, what: str) -> float | None:
    """A length of a form in mm; None where the field was left empty."""
    value = measured(form, name, "mm", what)
    if value is not None and value <= 0:
        raise FieldError(name, f"{what} must be more than 0 mm, not {word(form, name)}")
    return value


def last_typed(store: BookStore, trial: str) -> dict[str, str]:
    """What was set for the trial's last bead, as the person wrote it, to be filled in again."""
    beads = store.below(trial, "bead")
    if not beads or not isinstance(beads[-1].record, Bead):
        return {}
    return {one.name: typed(one) for one in beads[-1].record.settings if one.origin == "set"}


def typed(one: Setting) -> str:
    """A setting as the person wrote it, with a unit beside the number."""
    if one.value is None:
        return one.text
    bare = one.typed.replace(".", "").replace(",", "").isdecimal()
    return f"{one.typed} {SETTINGS[one.name].unit}" if bare else one.typed or f"{one.value:g} {SETTINGS[one.name].unit}"


@router.get("/trial/{code}/bead")
def bead_form(request: Request, code: str) -> HTMLResponse:
    """The form that is filled in beside the machine."""
    store = get_book(request)
    trial, _ = held(store, code, Trial)
    before = last_typed(store, trial.code)
    first = [*FIRST, *(name for name in before if name in NUMBERS and name not in FIRST)]
    rest = [name for name in SETTINGS if name not in first and name != "remarks"]
    return page(request, "bead_new.html", code=trial.code, trial=trial, before=before, first=first, rest=rest,
                terms=SETTINGS, examples=EXAMPLES)  # fmt: skip


@router.post("/trial/{code}/bead")
@stays_on(bead_form)
def log(request: Request, code: str, form: Form) -> RedirectResponse:
    """Log a bead."""
    made = log_bead(get_book(request), hand_of(request), code, settings_in(form))
    return to(f"/open/{made.code}")


@router.post("/bead/{code}/settings")
@stays_on(opened)
def add(request: Request, code: str, form: Form) -> RedirectResponse:
    """Add to a bead what was set, read or seen later."""
    expects = word(form, "edition")
    settings = settings_in(form)
    if not settings:
        raise FieldError("extra_value", "nothing was filled in: say what was set, read or seen")
    made = change_bead(get_book(request), hand_of(request), code, settings,
                       expects=int(expects) if expects.isdecimal() else 0)  # fmt: skip
    return to(f"/open/{made.code}")


def settings_in(form: FormData) -> list[Setting]:
    """Settings of a form: fields called ``set.volts``, ``read.amps``; ``seen`` holds plain words."""
    made = []
    for origin in ("set", "read", "seen"):
        made += _of(form, origin)
    if name := word(form, "extra_name"):
        origin = word(form, "extra_origin")
        kind: Origin = "read" if origin == "read" else "seen" if origin == "seen" else "set"
        with beside("extra_value"):
            made.append(setting_of(name, word(form, "extra_value"), kind, amount))
    if seen := word(form, "seen"):
        made.append(Setting(name="remarks", origin="seen", text=seen))
    return made


def _of(form: FormData, origin: Origin) -> list[Setting]:
    made = []
    for name in SETTINGS:
        if typed_now := word(form, f"{origin}.{name}"):
            with beside(f"{origin}.{name}"):
                made.append(setting_of(name, typed_now, origin, amount))
    return made
