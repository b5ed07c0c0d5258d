"""Where the heat goes: a bead's settings and coupon, isotherms, and temperature over time."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup

from etchbook.procedure.heat_flow import CONDUCTION
from etchbook.quantity import Absent
from etchbook.usecases import RefusedError
from etchbook.usecases.reckoning import HeatAnswer
from etchbook.web.aside import aside
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import get_book, page
from etchbook.web.pages.weldfields import HEAT, fields, settings_said, typed_in_book
from etchbook.wiring.benchdrawn import inline
from etchbook.wiring.told import told
from etchbook.wiring.welding import heat as reckoned
from etchbook.wiring.welding import heat_pages, point_from

router = APIRouter(include_in_schema=False)
MOST_POINTS = 6
CAPTIONS = {
    "plan": "Isotherms on the surface, seen from above",
    "section": "Highest temperatures reached in the section",
    "history": "Temperature over time at the points",
}


def _points(_: str, text: str) -> list[tuple[float, float]]:
    found = [point_from(part) for part in text.split(";") if part.strip()]
    if len(found) > MOST_POINTS:
        raise RefusedError(f"at most {MOST_POINTS} points are followed at once, not {len(found)}")
    return found


FIELDS = (
    *fields(HEAT),
    Field(name="points", label="Points to follow", kind="own", own=_points, usual="6,0; 10,0", needed=False,
          hint="Across from the centreline and below the surface, in mm, with a semicolon between points.",
          told=("the point", "points")),
    Field(name="beads", label="Beads on the same coupon", kind="whole", usual="1", told=("a series",)),
    Field(name="every", label="Time from one bead to the next", unit="s", needed=False, like="3 min"),
)  # fmt: skip


@router.get("/heat")
def heat(request: Request) -> HTMLResponse:
    """The form, filled in with a bead's settings where one is named, and its answer."""
    given = dict(request.query_params)
    bead = given.pop("bead", "")[:40]
    known = typed_in_book(get_book(request), bead)
    form = asked(FIELDS, given or known, sent=bool(given))
    if not given:
        form.typed |= {name: text for name, text in known.items() if name in form.typed}
    answer = form.ask(lambda: answered(form))
    return page(request, "heat.html", status=form.status, form=form, bead=bead, answer=answer, **_shown(answer))


def answered(form: Asked) -> HeatAnswer:
    """The heat flow of a form."""
    said = form.values
    return aside(reckoned, settings_said(said), points=said["points"] or (), beads=said["beads"], cycle=said["every"])


def _shown(answer: HeatAnswer | None) -> dict[str, object]:
    if answer is None:
        return {}
    starts = answer.starts
    return {
        "told": told(answer.figures),
        "drawings": [(CAPTIONS[name], Markup(inline(svg, name))) for name, svg in heat_pages(answer).items()],
        "changes": [(one.words, *(_moved(n) for n in (one.width, one.depth, one.area, one.t85)))
                    for one in answer.changes],
        "starts": [] if isinstance(starts, Absent) else [f"{one:.0f} °C" for one in starts],
        "no_starts": starts.reason if isinstance(starts, Absent) and "only one" not in starts.reason else "",
        "conduction": CONDUCTION,
    }  # fmt: skip


def _moved(number: float) -> str:
    return "none" if number != number else f"{round(number, 2) + 0.0:+.2f}"
