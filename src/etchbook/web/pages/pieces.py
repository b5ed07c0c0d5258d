"""Cut a coupon, say where a piece is, make a face, tick off its preparation, print labels."""

from typing import Annotated, Any, cast

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.preparation import PreparationPlan, Step
from etchbook.trials.records import Face, PieceState
from etchbook.usecases import RefusedError
from etchbook.usecases.benchwork import tick_off
from etchbook.usecases.keeping.faces import prepare_face
from etchbook.usecases.keeping.history import bring_back, put_in_bin
from etchbook.usecases.keeping.labels import labels
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.pieces import cut, keep_piece
from etchbook.usecases.preparing import prepare, prepare_wish
from etchbook.web.again import FieldError, beside, measured, stays_on
from etchbook.web.bench import get_book, hand_of, in_place, page
from etchbook.web.pages.home import to
from etchbook.web.pages.opening import opened, trail_of
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import benchviews, shelf
from etchbook.wiring.units import amount

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
Short = Annotated[str, Query(max_length=60)]
STATES = ("kept", "lost", "scrapped", "sent away")


@router.post("/bead/{code}/cut")
@stays_on(opened)
def saw(request: Request, code: str, form: Form) -> RedirectResponse:
    """Cut a coupon or a piece."""
    into, at = word(form, "into"), word(form, "at")
    with beside("at"):
        places = [amount(one, "mm", "the place of a cut").value for one in at.split(";") if one.strip()]
    if not places and not into.isdecimal():
        raise FieldError("into", "say into how many pieces, as a number such as 2")
    kerf = measured(form, "kerf", "mm", "the kerf") or 0.0
    made = cut(get_book(request), hand_of(request), code, into=int(into or 2), at=places, kerf=kerf,
               place=word(form, "place"))  # fmt: skip
    return to(f"/open/{made[0].code}")


@router.post("/piece/{code}/place")
@stays_on(opened)
def put(request: Request, code: str, form: Form) -> RedirectResponse:
    """Say where a piece is now."""
    state, edition = word(form, "state") or "kept", word(form, "edition")
    if state not in STATES:
        raise FieldError("state", f"a piece is one of {', '.join(STATES)}")
    made = keep_piece(get_book(request), hand_of(request), code, place=word(form, "place"),
                      state=cast(PieceState, state), remarks=word(form, "remarks"),
                      expects=int(edition) if edition.isdecimal() else 0)  # fmt: skip
    return to(f"/open/{made.code}")


@router.post("/piece/{code}/face")
@stays_on(opened)
def face(request: Request, code: str, form: Form) -> RedirectResponse:
    """Make the next face of a piece."""
    made, _ = prepare_face(get_book(request), hand_of(request), code, (), towards=word(form, "towards"))
    return to(f"/open/{made.code}")


def _plan(want: str, material: str, how: str) -> PreparationPlan:
    return prepare(prepare_wish(want, [material], how))


@router.get("/face/{code}/card")
def card(
    request: Request, code: str, want: Short = "outline", material: Short = "carbon_steel", cut: Short = "saw"
) -> HTMLResponse:
    """The preparation card of a face: steps to tick, each with its timer and its cautions."""
    return page(request, "card.html", trail_of=trail_of, **_card(request, code, (want, material, cut)))


def _card(request: Request, code: str, asked: tuple[str, str, str]) -> dict[str, Any]:
    record, edition = held(get_book(request), code, Face)
    plan = _plan(*asked)
    done = {one.remarks for one in record.steps}
    left = [step.id for step in plan.steps if step.id not in done]
    boxes = {box.id: box for box in plan.boxes}
    return {"code": record.code, "plan": plan, "done": done, "edition": edition, "boxes": boxes, "left": left,
            "want": asked[0], "material": asked[1], "cut": asked[2]}  # fmt: skip


def _card_again(request: Request, code: str) -> HTMLResponse:
    """The card after a refusal: whole, or the one step that was ticked."""
    said = request.state.said
    shown = _card(request, code, (said.get("want", ""), said.get("material", ""), said.get("cut", "")))
    if not in_place(request):
        return page(request, "card.html", trail_of=trail_of, **shown)
    return page(request, "tick.html", step=_step_named(shown["plan"], said.get("one", "")), **shown)


def _step_named(plan: PreparationPlan, name: str) -> Step:
    found = next((step for step in plan.steps if step.id == name), None)
    if found is None:
        raise RefusedError(f'this card has no step "{name}"')
    return found


@router.post("/face/{code}/card", response_model=None)
@stays_on(_card_again)
def tick(request: Request, code: str, form: Form) -> Response:
    """Tick off what was done: the steps of the form, or the one whose box was just touched."""
    asked = (word(form, "want"), word(form, "material"), word(form, "cut"))
    one = word(form, "one")
    ticked = [one] if one else [name for name in form.getlist("done") if isinstance(name, str)]
    if not ticked:
        raise RefusedError("nothing was ticked: tick the steps that are done")
    took = {name: measured(form, f"took.{name}", "s", "the time") for name in ticked}
    tick_off(get_book(request), hand_of(request), code, _plan(*asked), took)
    if not in_place(request):
        return to(f"/face/{code}/card?want={asked[0]}&material={asked[1]}&cut={asked[2]}")
    shown = _card(request, code, asked)
    return page(request, "tick.html", step=_step_named(shown["plan"], one), **shown)


@router.get("/labels/{code}")
def label_page(request: Request, code: str) -> HTMLResponse:
    """Labels of a thing and all its pieces: what to write by hand, and a sheet to print."""
    made = labels(get_book(request), [code])
    return page(request, "labels.html", code=code, labels=made, sizes=shelf.label_sizes().items(), trail_of=trail_of)


@router.get("/labels/{code}/sheet.pdf")
def label_sheet(
    request: Request, code: str, size: Short = "70x37", skip: Annotated[int, Query(ge=0, le=200)] = 0
) -> Response:
    """The sheet as PDF."""
    if size not in shelf.label_sizes():
        raise RefusedError(f'"{size}" is no size of a label: use {", ".join(shelf.label_sizes())}')
    data = benchviews.label_sheet(labels(get_book(request), [code]), size, skip)
    return Response(data, media_type="application/pdf")


@router.post("/bin/{code}")
@stays_on(opened)
def to_bin(request: Request, code: str, form: Form) -> RedirectResponse:
    """Put a thing into the bin, or bring it back."""
    move = bring_back if word(form, "back") else put_in_bin
    move(get_book(request), hand_of(request), code)
    return to(f"/open/{code}")
