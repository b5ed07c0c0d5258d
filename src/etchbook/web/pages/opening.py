"""Open whatever a code names: each kind of thing has its page."""

import secrets
from collections.abc import Callable
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from etchbook.preparation import choices
from etchbook.quantity import Measured, spoken
from etchbook.terms import FAMILIES, Term
from etchbook.terms.settings import SETTINGS
from etchbook.trials import code_kind, parent_code, with_check
from etchbook.trials.codes import bead_code
from etchbook.trials.records import Bead, Certificate, Coupon, Face, PictureEntry, Piece, Plate, ReadingEdition, Trial
from etchbook.usecases import RefusedError
from etchbook.usecases.beadwork import sections_of_bead, sheet_of_bead
from etchbook.usecases.grooves import spoken_groove
from etchbook.usecases.keeping.certificates import referring
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.pieces import whereabouts
from etchbook.usecases.keeping.ports import BookStore, Entry
from etchbook.usecases.keeping.telling import line_of
from etchbook.web.bench import get_bench, page

router = APIRouter(include_in_schema=False)
Shown = dict[str, Any]


def trail_of(code: str) -> list[dict[str, Any]]:
    """The way from the trial down to a code."""
    way: list[str] = []
    while code:
        way.insert(0, code)
        code = parent_code(code)
    return [{"code": one, "words": f"{code_kind(one)} {one}" if one == way[0] else one.rpartition("-")[2],
             "here": one == way[-1]} for one in way]  # fmt: skip


@router.get("/open/{code}", response_model=None)
def opened(request: Request, code: str) -> Response:
    """The page of a thing."""
    store = get_bench(request).store
    entry = lookup(store, code)
    if entry.kind == "reading":
        return RedirectResponse(f"/reading/{entry.code}", status_code=303)
    if entry.kind in ("indication", "judgement"):
        return RedirectResponse(f"/reading/{parent_code(entry.code)}", status_code=303)
    return _drawn(request, store, entry)


def _drawn(request: Request, store: BookStore, entry: Entry) -> HTMLResponse:
    teller = _KINDS.get(entry.kind)
    shown = teller(request, store, entry) if teller and not entry.binned else {}
    name = f"{entry.kind}.html" if teller and not entry.binned else "thing.html"
    below = [one for one in store.tree(entry.code) if one.code != entry.code]
    return page(request, name, entry=entry, record=entry.record, code=entry.code, written=with_check(entry.code),
                below=below, trail_of=trail_of, **shown)  # fmt: skip


def _trial(_: Request, store: BookStore, entry: Entry) -> Shown:
    assert isinstance(entry.record, Trial)
    groove = entry.record.joint.groove if entry.record.joint else None
    beads = store.below(entry.code, "bead")
    to_cut = [one.code for one in beads if not _pieces(store, one.code)]
    return {"beads": beads, "to_cut": to_cut, "groove": "" if groove is None else spoken_groove(groove)}


def _pieces(store: BookStore, bead: str) -> list[Entry]:
    return [one for one in store.tree(bead) if one.kind == "piece"]


def _bead(_: Request, store: BookStore, entry: Entry) -> Shown:
    assert isinstance(entry.record, Bead)
    by_origin = [(origin, [one for one in entry.record.settings if one.origin == origin])
                 for origin in ("set", "read", "seen")]  # fmt: skip
    return {
        "by_origin": [(origin, told) for origin, told in by_origin if told],
        "pieces": _pieces(store, entry.code),
        "plates": _plates(store, entry.code),
        "papers": [
            ("", "None"),
            *((one.code, f"{one.code}, {line_of(one)}"[:70]) for one in store.every("certificate", limit=500)),
        ],
        "setting_choices": [("", "Choose one"), *((one.id, _term(one)) for one in SETTINGS.values())],
        **_meaning(store, entry.code),
    }


def _plates(store: BookStore, bead: str) -> dict[int, Plate]:
    """The plates of a bead's coupon by member; those that nobody described yet are empty."""
    coupon = store.entry(f"{bead}-0")
    known = coupon.record.plates if coupon is not None and isinstance(coupon.record, Coupon) else ()
    return {member: next((one for one in known if one.member == member), Plate(member=member)) for member in (1, 2)}


def _certificate(_: Request, store: BookStore, entry: Entry) -> Shown:
    assert isinstance(entry.record, Certificate)
    return {"used": referring(store).get(entry.code, ())}


def _meaning(store: BookStore, code: str) -> Shown:
    try:
        sheet = sheet_of_bead(store, code)
        sections = sections_of_bead(store, code)
    except (RefusedError, ValueError) as error:
        return {"figures": [], "lacking": [("what the settings mean", str(error))], "sections": ()}
    figures = [(one.label, _said(one.quantity), one.source) for one in sheet.known]
    lacking = [(one.label, getattr(one.quantity, "reason", "")) for one in sheet.absent]
    return {"figures": figures, "lacking": lacking, "sections": sections, "spoken": spoken}


def _said(quantity: Any) -> str:
    if isinstance(quantity, Measured) and quantity.u <= 0:
        return f"{quantity.value:.4g} {quantity.unit} (± not stated)"
    return spoken(quantity)


def _piece(_: Request, store: BookStore, entry: Entry) -> Shown:
    assert isinstance(entry.record, Piece)
    return {"found": whereabouts(store, entry.code), "faces": store.below(entry.code, "face")}


def _face(request: Request, store: BookStore, entry: Entry) -> Shown:
    assert isinstance(entry.record, Face)
    trial = trial_of(store, entry.code)
    return {
        "pictures": store.below(entry.code, "picture"),
        "once": secrets.token_urlsafe(9),
        "wants": choices("want"),
        "materials": choices("material"),
        "cuts": choices("cut"),
        "jobs": get_bench(request).jobs.under_way(entry.code),
        "scales": scales_for(trial),
        "joints": joints_for(trial),
    }


def _picture(request: Request, store: BookStore, entry: Entry) -> Shown:
    assert isinstance(entry.record, PictureEntry)
    trial, readings = trial_of(store, entry.code), store.below(entry.code, "reading")
    return {
        "readings": readings,
        "corrected": [
            one.code for one in readings if isinstance(one.record, ReadingEdition) and one.record.made == "corrected"
        ],
        "jobs": get_bench(request).jobs.under_way(entry.code),
        "scales": scales_for(trial),
        "joints": joints_for(trial),
    }


def trial_of(store: BookStore, code: str) -> Trial | None:
    """The trial that a code belongs to."""
    entry = store.entry((bead_code(code) or code).partition("-")[0])
    return entry.record if entry is not None and isinstance(entry.record, Trial) else None


def scales_for(trial: Trial | None) -> list[tuple[str, str]]:
    """Where the millimetres may come from; no way is taken unless a person chose it."""
    joint = trial.joint if trial else None
    ways = [("", "Nothing yet: read it without millimetres"), ("rule", "A rule in the picture")]
    for member in (1, 2):
        thick = getattr(joint, f"thickness_{member}", None)
        if thick:
            ways.append((f"thickness_{member}={thick:g}", f"Member {member}, {thick:g} mm thick"))
    return [*ways, ("typed", "Pixels per millimetre, typed below")]


def joints_for(trial: Trial | None) -> list[tuple[str, str]]:
    """The joints to choose from: what the trial says goes first."""
    known = trial.joint if trial else None
    first = f"as the trial says: {known.family}" if known else "propose one from the picture"
    return [("", first), *((one, one) for one in FAMILIES)]


def _term(term: Term) -> str:
    return f"{term.label}, {term.unit}" if term.unit else term.label


_KINDS: dict[str, Callable[[Request, BookStore, Entry], Shown]] = {
    "trial": _trial,
    "bead": _bead,
    "piece": _piece,
    "face": _face,
    "picture": _picture,
    "certificate": _certificate,
}
