"""Several settings dialled in together: the beads to weld, what was read on them, and the next setting to try."""

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from etchbook.terms import DIMENSIONS
from etchbook.terms.settings import NUMBERS, SETTINGS
from etchbook.trials.designs import Factor
from etchbook.usecases import RefusedError
from etchbook.usecases.dialling import Dialled, dialled_from, factors_from, run_list, runs, told
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import page
from etchbook.wiring.benchdrawn import inline
from etchbook.wiring.trialpages import contour_page
from etchbook.wiring.units import listed

router = APIRouter(include_in_schema=False)
MOST = 5
LEAST = 2
KINDS = (
    ("surface", "with bending: corners, sides and middle"),
    ("two levels", "straight lines: every corner"),
    ("half", "half of the corners, three settings or more"),
    ("surface in few beads", "with bending in few beads, three settings or more"),
)
CHOICES = (
    ("", "none"),
    *((n, f"{SETTINGS[n].label}, {SETTINGS[n].unit}") for n in SETTINGS if n in NUMBERS),
)


def _turned() -> tuple[Field, ...]:
    made: list[Field] = []
    for at in range(1, MOST + 1):
        needed = at <= LEAST
        made += [
            Field(name=f"turn{at}", label=f"Setting {at}", kind="choice", options=CHOICES, needed=needed, told=("-",)),
            Field(name=f"low{at}", label="from", kind="words", needed=needed, like="17 V" if at == 1 else "",
                  told=("-",)),
            Field(name=f"high{at}", label="to", kind="words", needed=needed, like="20 V" if at == 1 else "",
                  told=("-",)),
        ]  # fmt: skip
    return tuple(made)


FIELDS = (
    *_turned(),
    Field(name="kind", label="Which beads", kind="choice", usual="surface", options=KINDS, told=("the design",)),
    Field(name="response", label="What is measured", kind="choice", usual="convexity",
          options=tuple((name, term.label) for name, term in DIMENSIONS.items())),
    Field(name="centres", label="Beads in the middle", kind="whole", usual="3", told=("in the middle",),
          hint="They show the scatter, and whether the answer bends."),
    Field(name="seed", label="Number of the order", kind="whole", usual="1",
          hint="The same number gives the same order again."),
    Field(name="target", label="What is wanted", kind="number", needed=False, like="0.5", told=("target",),
          hint="Names the next setting to try, when beads are read."),
    Field(name="tolerance", label="How far off it may be", kind="number", usual="0.1", told=("tolerance",)),
)  # fmt: skip


@router.get("/plan/settings")
def settings(request: Request) -> HTMLResponse:
    """The beads to weld in their order; what was read on them, fitted."""
    given = dict(request.query_params)
    form = asked(FIELDS, given)
    beads = form.ask(lambda: _runs(form))
    answer, read = None, {}
    if beads is not None:
        read = {at: given.get(f"r{at}", "").strip()[:40] for at in range(1, len(beads) + 1)}
        answer = form.ask(lambda: _fitted(form, beads, read)) if any(read.values()) else None
    return page(request, "plan_settings.html", status=form.status, form=form, beads=beads, read=read, most=MOST,
                terms=SETTINGS, least=LEAST, query=request.url.query, **_shown(form, answer))  # fmt: skip


@router.get("/plan/settings.csv")
def table(request: Request) -> Response:
    """The same beads as a table for a spreadsheet."""
    form = asked(FIELDS, dict(request.query_params), sent=True)
    said = form.values
    text = form.ask(lambda: run_list(factors_of(form), said["kind"], said["response"], centres=said["centres"],
                                     seed=said["seed"]))  # fmt: skip
    if text is None:
        raise RefusedError(form.trouble or next(iter(form.troubles.values())))
    return Response(text, media_type="text/csv", headers={"content-disposition": 'attachment; filename="beads.csv"'})


def factors_of(form: Asked) -> list[Factor]:
    """The settings that are turned, each from its low to its high end."""
    turn: dict[str, tuple[float, float]] = {}
    for at in range(1, MOST + 1):
        name = form.values[f"turn{at}"]
        if not name:
            continue
        if name in turn:
            raise RefusedError(f"{SETTINGS[name].label} is turned twice: choose each setting once")
        turn[name] = (_end(form, name, f"low{at}"), _end(form, name, f"high{at}"))
    return factors_from(turn)


def _end(form: Asked, name: str, field: str) -> float:
    term, text = SETTINGS[name], form.values[field] or ""
    return listed(text, term.unit, f"the end of {term.label}").value


def _runs(form: Asked) -> tuple[dict[str, float], ...]:
    said = form.values
    return runs(factors_of(form), said["kind"], centres=said["centres"], seed=said["seed"])


def _fitted(form: Asked, beads: tuple[dict[str, float], ...], read: Mapping[int, str]) -> Dialled:
    said = form.values
    unit = DIMENSIONS[said["response"]].unit
    values = [(bead, listed(read[at], unit, f"the result of bead {at}").value)
              for at, bead in enumerate(beads, start=1) if read[at]]  # fmt: skip
    return dialled_from(values, factors_of(form), target=said["target"], tolerance=said["tolerance"], unit=unit)


def _shown(form: Asked, found: Dialled | None) -> dict[str, Any]:
    if found is None:
        return {"lines": [], "contours": None}
    said = form.values
    return {
        "lines": [line.strip() for line in told(found, said["target"], said["tolerance"])],
        "contours": Markup(inline(contour_page(found, said["response"]).decode(), "contours")),
    }
