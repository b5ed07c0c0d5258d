"""Any one formula of the house by itself, with its source."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from etchbook.procedure import Figure
from etchbook.procedure.formulas import Formula
from etchbook.quantity import Absent
from etchbook.usecases import RefusedError, formulary
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import page
from etchbook.wiring.told import told
from etchbook.wiring.units import listed

router = APIRouter(include_in_schema=False)


@router.get("/reckon")
def formulas(request: Request) -> HTMLResponse:
    """Every formula."""
    return page(request, "reckon.html", formulas=formulary.formulas())


@router.get("/reckon/{name}")
def formula(request: Request, name: str) -> HTMLResponse:
    """One formula: its arguments and what they give."""
    try:
        held = formulary.formula_named(name[:60])
    except RefusedError as error:
        raise NotThereError(str(error)) from None
    form = asked(_fields(held), dict(request.query_params))
    found = form.ask(lambda: _reckoned(held, form))
    return page(request, "reckon_one.html", status=form.status, formula=held, form=form,
                told=None if found is None else told([found]))  # fmt: skip


def _fields(held: Formula) -> tuple[Field, ...]:
    return tuple(
        Field(name=name, label=name.replace("_", " ").capitalize(), kind="own", like=unit or "a plain number",
              hint=f"In {unit} where no unit is typed." if unit else "", told=(name, name.replace("_", " ")),
              own=lambda of, text, unit=unit: _pair(text, unit, of))  # type: ignore[misc]
        for name, unit in formulary.input_units(held).items()
    )  # fmt: skip


def _pair(text: str, unit: str, name: str) -> tuple[float, float]:
    found = listed(text, unit, name.replace("_", " "))
    return found.value, found.u or 0.0


def _reckoned(held: Formula, form: Asked) -> Figure:
    found = formulary.reckoned(held, form.values)
    if isinstance(found.quantity, Absent):
        raise RefusedError(found.quantity.reason)
    return found
