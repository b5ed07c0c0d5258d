"""What settings mean: the whole sheet of figures, from a bead of the book or as typed."""

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from etchbook.procedure import hardness_limit
from etchbook.quantity import spoken
from etchbook.usecases.beadwork import sections_of_bead
from etchbook.web.aside import aside
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import get_book, page
from etchbook.web.pages.weldfields import ARC, PLATE, WELD, fields, settings_said, typed_in_book
from etchbook.wiring.told import told
from etchbook.wiring.welding import weld as reckoned

router = APIRouter(include_in_schema=False)
FIELDS = (
    *fields(WELD),
    Field(name="group", label="Material group", kind="words", needed=False, like="1",
          hint="To ISO/TR 15608, for the hardness that a procedure test permits.", told=("group",)),
    Field(name="treated", label="Heat-treated after welding", kind="choice", usual="no", needed=False,
          options=(("no", "no"), ("yes", "yes"))),
)  # fmt: skip
FIRST = (*ARC, *PLATE)


@router.get("/weld")
def weld(request: Request) -> HTMLResponse:
    """The sheet of figures of a bead, or of settings as typed."""
    given = dict(request.query_params)
    bead, store = given.pop("bead", "")[:40], get_book(request)
    form = asked(FIELDS, given or typed_in_book(store, bead), sent=True if given or bead else None)
    sheet = form.ask(lambda: answered(form))
    beside = sections_of_bead(store, bead) if bead and not given else ()
    return page(request, "weld.html", status=form.status, form=form, bead=bead, sheet=sheet, sections=beside,
                first=FIRST, spoken=spoken)  # fmt: skip


def answered(form: Asked) -> dict[str, Any]:
    """The sheet of a form, with the hardness that is permitted where a material group was named."""
    group = form.values["group"]
    treated = form.values["treated"] == "yes"
    return {
        "told": told(list(aside(reckoned, settings_said(form.values)).figures.values())),
        "hardness": hardness_limit(group, heat_treated=treated) if group else None,
    }
