"""Limits: those of the standards with clause and edition, and a shop's own as a form."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from etchbook.tables import Limit, limit_sets, load_limits
from etchbook.tables.own import SYMBOLS
from etchbook.terms import DIMENSIONS
from etchbook.usecases import RefusedError
from etchbook.usecases.ownlimits import OwnRow, OwnRowError, rows_of, toml_of
from etchbook.web.again import FieldError, stays_on
from etchbook.web.bench import get_bench, page
from etchbook.web.pages.home import to
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import ownlimits

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
SPARE, MOST = 3, 60


def choices_of(request: Request) -> list[tuple[str, str]]:
    """Every set of limits that a reading may be held against: the book's own first."""
    own = [
        (f"own:{name}", f"{title} (your own)") for name, title in ownlimits.own_sets(get_bench(request).folder).items()
    ]
    return [*own, *((name, load_limits(name).title) for name in limit_sets())]


@router.get("/limits")
def limits(request: Request) -> HTMLResponse:
    """Every set of limits, to be looked at."""
    sets = [load_limits(name) for name in limit_sets()]
    return page(request, "limits.html", sets=sets, own=ownlimits.own_sets(get_bench(request).folder))


@router.get("/limits/set/{name}")
def one_set(request: Request, name: str) -> HTMLResponse:
    """The rows of a set with clause and edition, and how each figure is known."""
    held = ownlimits.limits_named(get_bench(request).folder, name)
    own = name[4:] if name.startswith("own:") else ""
    mark = ownlimits.mark_of(ownlimits.own_text(get_bench(request).folder, own)) if own else ""
    return page(request, "limits_set.html", held=held, rows=[_row(one) for one in held.limits], called=name, own=own,
                mark=mark,
                readings=get_bench(request).store.every("reading", limit=12))  # fmt: skip


def _row(one: Limit) -> dict[str, Any]:
    return {
        "title": f"{one.number} {one.title}".strip() if one.number != one.id else one.title,
        "on": ", ".join(DIMENSIONS[name].label for name in one.dimensions if name in DIMENSIONS),
        "rule": rule_words(one),
        "when": one.when.replace(">=", "≥").replace("<=", "≤"),
        "source": ", ".join(part for part in (f"{one.source} ({one.edition})", one.clause) if part),
        "status": one.status,
        "remark": one.remark or one.needs,
    }


def rule_words(one: Limit) -> str:
    """A limit as it is written, in words and with its formula."""
    if one.rule:
        return one.rule
    said = []
    if one.least:
        said.append(f"at least {_formula(one.least)}")
    if one.most:
        said.append(f"at most {_formula(one.most)}" + (f", never more than {one.cap}" if one.cap else ""))
    if one.short:
        said.append("only where it is short")
    if one.if_short:
        said.append(f"{_formula(one.if_short)} where it is short")
    return "; ".join(said)


def _formula(text: str) -> str:
    return text.replace("*", "×").removesuffix(".0")


@router.get("/limits/own/{name}.toml")
def download(request: Request, name: str) -> Response:
    """Own limits as the file that the commands take."""
    text = ownlimits.own_text(get_bench(request).folder, name)
    kept = {"content-disposition": f'attachment; filename="{name}.toml"'}
    return Response(text, media_type="application/toml", headers=kept)


@router.get("/limits/own")
def new_own(request: Request) -> HTMLResponse:
    """The form of new limits."""
    return _form(request, "", "", (), "")


@router.get("/limits/own/{name}")
def edit_own(request: Request, name: str) -> HTMLResponse:
    """The form of own limits that are there."""
    text = ownlimits.own_text(get_bench(request).folder, name)
    title, rows = rows_of(text)
    return _form(request, name, title, rows, ownlimits.mark_of(text))


def _form(request: Request, name: str, title: str, rows: tuple[OwnRow, ...], mark: str) -> HTMLResponse:
    sent = getattr(request.state, "said", {})
    count = max(len(rows) + SPARE, min(MOST, 1 + max((int(one[10:]) for one in sent if one.startswith("dimension.")
                                                      and one[10:].isdecimal()), default=-1)))  # fmt: skip
    empty = OwnRow(dimension="")
    shown = [rows[place] if place < len(rows) else empty for place in range(count)]
    options = [
        ("", "None"),
        *((one.id, f"{one.label}{f', {one.unit}' if one.unit else ''}") for one in DIMENSIONS.values()),
    ]
    return page(request, "limits_own.html", called=name, title=title, rows=shown, mark=mark, options=options,
                symbols=SYMBOLS)  # fmt: skip


@router.post("/limits/own")
@stays_on(new_own)
def keep_new(request: Request, form: Form) -> RedirectResponse:
    """Keep new limits under a name made of their title."""
    if not word(form, "title"):
        raise FieldError("title", "give the limits a title, such as: Bracket fillet, sheet 4")
    name, folder = ownlimits.name_from(word(form, "title")), get_bench(request).folder
    if name in ownlimits.own_sets(folder):
        raise FieldError("title", "there are limits of that title already: choose another one, or edit those")
    return _keep(request, form, name)


@router.post("/limits/own/{name}")
@stays_on(edit_own)
def keep_old(request: Request, name: str, form: Form) -> RedirectResponse:
    """Keep changed limits."""
    ownlimits.own_text(get_bench(request).folder, name)
    return _keep(request, form, name)


def _keep(request: Request, form: FormData, name: str) -> RedirectResponse:
    places = [
        place for place in range(MOST) if any(word(form, f"{key}.{place}") for key in ("dimension", "least", "most"))
    ]
    rows = [_read(form, place) for place in places]
    if not rows:
        raise FieldError("dimension.0", "choose at least one dimension and say its least or its most")
    try:
        text = toml_of(word(form, "title"), rows)
    except OwnRowError as error:
        raise FieldError(f"{error.key}.{places[error.row]}", str(error)) from error
    ownlimits.keep_own(get_bench(request).folder, name, text, word(form, "mark"))
    return to(f"/limits/set/own:{name}")


def _read(form: FormData, place: int) -> OwnRow:
    said = {
        key: word(form, f"{key}.{place}") for key in ("dimension", "least", "most", "cap", "title", "clause", "remark")
    }
    if not said["dimension"]:
        raise FieldError(f"dimension.{place}", "choose the dimension that this row is about")
    if said["dimension"] not in DIMENSIONS:
        raise RefusedError(f'"{said["dimension"]}" is no dimension')
    return OwnRow(short=bool(word(form, f"short.{place}")), **said)
