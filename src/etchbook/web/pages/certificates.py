"""Material certificates, and the plates of a coupon that refer to them."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData

from etchbook.trials.records import Certificate, Plate
from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.certificates import keep_certificate, referring, shares
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.pieces import keep_coupon
from etchbook.usecases.keeping.ports import BookStore
from etchbook.web.again import FieldError, beside, measured, stays_on
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.pages.home import to
from etchbook.web.pages.opening import opened
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
ELEMENTS = ("C", "Si", "Mn", "P", "S", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "Al")
"""The elements that most mill certificates state; any other is typed below them."""
MOST = 500


@router.get("/certificates")
def certificates(request: Request) -> HTMLResponse:
    """Every certificate with the coupons whose plates refer to it, and a form for another one."""
    store = get_book(request)
    used = referring(store)
    rows = [(one, used.get(one.code, ())) for one in store.every("certificate", limit=MOST)]
    return page(request, "certificates.html", rows=rows, elements=ELEMENTS)


@router.post("/certificates")
@stays_on(certificates)
def add(request: Request, form: Form) -> RedirectResponse:
    """Keep another certificate."""
    pairs = []
    for name in ELEMENTS:
        if typed := word(form, f"share.{name}"):
            with beside(f"share.{name}"):
                shares([(name, typed)])
            pairs.append((name, typed))
    with beside("others"):
        pairs += [_pair(one) for one in word(form, "others").replace(";", " ").split()]
        composition = shares(pairs)
    if not word(form, "heat"):
        raise FieldError("heat", "a certificate goes by its heat number: type it as it is printed")
    made = keep_certificate(get_book(request), hand_of(request), word(form, "heat"), composition,
                            material=word(form, "material"), remarks=word(form, "remarks"))  # fmt: skip
    return to(f"/open/{made.code}")


def _pair(typed: str) -> tuple[str, str]:
    element, equals, share = typed.partition("=")
    if not equals:
        raise RefusedError(f'"{typed}" is no share of an element: write it like Ti=0.02')
    return element, share


@router.post("/bead/{code}/plates")
@stays_on(opened)
def plates(request: Request, code: str, form: Form) -> RedirectResponse:
    """Say which plates a coupon was made of, and by which certificates."""
    store = get_book(request)
    made = tuple(plate for member in (1, 2) if (plate := _plate(store, form, member)))
    if not made:
        raise FieldError("plate_1.material", "say at least one thing about a plate: its steel, thickness or heat")
    keep_coupon(store, hand_of(request), code, {"plates": made})
    return to(f"/open/{code}#plates")


def _plate(store: BookStore, form: FormData, member: int) -> Plate | None:
    """A plate as it was filled in; a certificate brings its heat and steel along where those were left empty."""
    start = f"plate_{member}"
    thick = measured(form, f"{start}.thickness", "mm", f"the thickness of plate {member}")
    if thick is not None and thick <= 0:
        raise FieldError(f"{start}.thickness", f"the thickness of plate {member} must be more than 0 mm")
    named = word(form, f"{start}.certificate")
    with beside(f"{start}.certificate"):
        papers = held(store, named, Certificate)[0] if named else None
    heat = word(form, f"{start}.heat") or (papers.heat if papers else "")
    if papers and heat != papers.heat:
        raise FieldError(
            f"{start}.heat", f"{papers.code} is of heat {papers.heat}, not of {heat}: one of the two is wrong"
        )
    material = word(form, f"{start}.material") or (papers.material if papers else "")
    if thick is None and not (heat or material):
        return None
    return Plate(
        member=member, material=material, thickness=thick, heat=heat, certificate=papers.code if papers else ""
    )
