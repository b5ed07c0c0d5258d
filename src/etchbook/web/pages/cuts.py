"""Where to saw a coupon: asked on a page, drawn to scale, entered into the book before the saw runs."""

import re
from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.preparation import CutPlan, CutWish
from etchbook.terms import FAMILIES
from etchbook.trials.records import Bead, Coupon
from etchbook.usecases import RefusedError
from etchbook.usecases.benchwork import enter_cuts, with_free_letters
from etchbook.usecases.cutting import cut_wish, cuts
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.ports import BookStore
from etchbook.web.again import FieldError, stays_on, tried
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.pages.home import to
from etchbook.web.pages.indications import SHEET
from etchbook.web.pages.opening import trail_of, trial_of
from etchbook.web.safety import form_of
from etchbook.wiring.benchpages import cuts_page, cuts_rows

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
TEXTS = ("length", "width", "joint", "thickness_1", "thickness_2", "prove", "sections", "at", "start_stops", "discard",
         "kerf", "slice", "allowance", "reserve")  # fmt: skip
SWITCHES = ("full_penetration", "branch")
ABOUT = {"test": "prove", "section": "sections", "place": "at", "blade": "kerf", "coupon": "length"}
"""Words of a refusal that tell which field it is about, where it does not name the field itself."""
TESTS = (
    ("own", "A plan of your own"),
    ("iso-15614-1", "ISO 15614-1, a welding procedure"),
    ("iso-9606-1", "ISO 9606-1, a welder"),
    ("asme-ix:procedure", "ASME IX, a procedure"),
    ("asme-ix:performance", "ASME IX, a welder's performance"),
)


@router.get("/bead/{code}/cuts")
def plan_page(request: Request, code: str) -> HTMLResponse:
    """The form, and the plan once it is filled in."""
    store = get_book(request)
    bead, _ = held(store, code, Bead)
    said: Mapping[str, str] = getattr(request.state, "said", None) or request.query_params
    asked = any(said.get(name) for name in ("length", "width", "prove"))
    plan = tried(request, lambda: _plan(store, bead.code, said)) if asked else None
    known = _known(store, bead.code)
    sawn, made = cuts_rows(plan) if plan else ([], [])
    return page(request, "cuts.html", code=bead.code, plan=plan, sawn=sawn, made=made, known=known, tests=TESTS,
                said=said, families=[(one, one) for one in FAMILIES], query=request.url.query, trail_of=trail_of,
                sent=[(name, said[name]) for name in (*TEXTS, *SWITCHES) if said.get(name)])  # fmt: skip


def _known(store: BookStore, bead: str) -> dict[str, str]:
    """What the book knows of the coupon already."""
    trial, coupon = trial_of(store, bead), store.entry(f"{bead}-0")
    joint = trial.joint if trial else None
    record = coupon.record if coupon is not None and isinstance(coupon.record, Coupon) else None
    set_ = {one.name: one.value for one in held(store, bead, Bead)[0].settings if one.value is not None}
    sizes = {
        "length": (record.length if record else None) or set_.get("plate_length"),
        "width": set_.get("plate_width"),
        "thickness_1": joint.thickness_1 if joint else set_.get("thickness_1"),
        "thickness_2": joint.thickness_2 if joint else set_.get("thickness_2"),
    }
    return {
        **{name: f"{size:g} mm" if size else "" for name, size in sizes.items()},
        "joint": joint.family if joint else "tee",
    }


def _plan(store: BookStore, bead: str, said: Mapping[str, str]) -> CutPlan:
    given: dict[str, Any] = {name: said.get(name, "").strip() for name in TEXTS if said.get(name, "").strip()}
    given |= {name: True for name in SWITCHES if said.get(name)}
    try:
        wish: CutWish = cut_wish({"coupon": bead, **given})
        return cuts(with_free_letters(store, wish))
    except ValueError as error:
        raise FieldError(_field(str(error)), str(error)) from error


def _field(told: str) -> str:
    """The field that a refusal is about, by the first word of it that names one."""
    words = [word.strip(",:;").lower() for word in re.split(r"[\s]+", told)]
    for word in words:
        for name in (word, word.replace("-", "_"), ABOUT.get(word.rstrip("s"), "")):
            if name in TEXTS:
                return name
    return ""


@router.get("/bead/{code}/cuts.{kind}")
def drawing(request: Request, code: str, kind: str) -> Response:
    """The drawing alone, or the cutting sheet to print."""
    if kind not in ("svg", "pdf"):
        raise RefusedError("a plan of cuts is drawn as svg or pdf")
    plan = _plan(get_book(request), held(get_book(request), code, Bead)[0].code, request.query_params)
    types = {"svg": "image/svg+xml", "pdf": "application/pdf"}
    return Response(cuts_page(kind, plan), media_type=types[kind],
                    headers={"content-security-policy": SHEET} if kind == "svg" else {})  # fmt: skip


@router.post("/bead/{code}/cuts")
@stays_on(plan_page)
def enter(request: Request, code: str, form: Form) -> RedirectResponse:
    """Enter the pieces of the plan into the book; their place says that they are planned."""
    store = get_book(request)
    said = {name: value for name, value in form.items() if isinstance(value, str)}
    made = enter_cuts(store, hand_of(request), _plan(store, held(store, code, Bead)[0].code, said))
    return to(f"/labels/{made[0].code.rpartition('-')[0]}")
