"""Two beads or two groups of beads, picked from the book, side by side."""

from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from etchbook.quantity import Absent
from etchbook.terms import DIMENSIONS
from etchbook.terms.settings import SETTINGS
from etchbook.trials.confounding import setting_words
from etchbook.usecases import RefusedError
from etchbook.usecases.comparing_words import dimension_table, effect_notes, verdict_words
from etchbook.usecases.effects import effect_table
from etchbook.usecases.keeping.errors import NotThereError
from etchbook.usecases.keeping.ports import BookStore
from etchbook.web.aside import aside
from etchbook.web.asking import Asked, Field, asked
from etchbook.web.bench import get_book, page
from etchbook.web.pages.picking import picking
from etchbook.wiring.benchdrawn import comparison_drawings
from etchbook.wiring.compared import groups_in
from etchbook.wiring.comparison import ComparisonView, Wish, compared

router = APIRouter(include_in_schema=False)
Codes = Annotated[list[str], Query(max_length=60)]
WORDS = tuple((name, term.label) for name, term in DIMENSIONS.items())
FIELDS = (
    Field(name="name_a", label="First group is called", kind="words", usual="first", told=("names",)),
    Field(name="name_b", label="Second group is called", kind="words", usual="second"),
    Field(name="on", label="The question is about", kind="choice", needed=False,
          options=(("", "how tall the bead stands"), *WORDS), told=("was read on no bead",),
          hint="Say it before you look: of many dimensions one in twenty seems to differ by chance."),
    Field(name="under_test", label="What was meant to differ", kind="choice", needed=False,
          options=(("", "nothing was meant to"), *((name, term.label) for name, term in SETTINGS.items()))),
    Field(name="margin", label="Differences of no consequence, up to", kind="number", needed=False, like="0.2",
          hint="In the unit of that dimension.", told=("margin",)),
    Field(name="welding", label="Welded", kind="choice", needed=False, told=("welding",),
          options=(("", "not said"), ("mechanised", "mechanised"), ("hand", "by hand")),
          hint="Which planning value stands in where the book does not know its own scatter."),
    Field(name="scatter", label="Scatter from bead to bead", kind="number", needed=False,
          like="0.15", hint="If you know it: standard deviation, in the unit of that dimension.", told=("scatter",)),
    Field(name="scatter_dof", label="Beads behind that scatter, less one", kind="number", needed=False, like="5",
          told=("degrees of freedom",)),
)  # fmt: skip
KINDS = {
    "moved with it": "Moved together with it: cannot be told apart from it",
    "differs": "Differs in part",
    "logged on one side": "Logged on one side alone",
}
PAGES = {"html": "text/html", "pdf": "application/pdf", "json": "application/json"}


@router.get("/compare")
def pick(request: Request, a: Codes = [], b: Codes = [], trial: Codes = []) -> HTMLResponse:  # noqa: B006
    """Beads on which something was read, each to be put in one group or the other."""
    return _picking(request, a, b, trial, asked(FIELDS, {}))


@router.get("/compare/seen")
def seen(request: Request, a: Codes = [], b: Codes = [], trial: Codes = []) -> HTMLResponse:  # noqa: B006
    """The comparison of both groups."""
    form = asked(FIELDS, dict(request.query_params), sent=True)
    view = form.ask(lambda: compared_in_book(get_book(request), a, b, form.values))
    if view is None:
        return _picking(request, a, b, trial, form)
    rest = "&".join(part for part in request.url.query.split("&") if not part.endswith("="))
    return page(request, "compared.html", view=view, form=form, a=a, b=b, query=rest, **shown(view))


@router.get("/compare/page.{kind}")
def kept(request: Request, kind: str, a: Codes = [], b: Codes = []) -> Response:  # noqa: B006
    """The same as one file to keep or to print."""
    if kind not in PAGES:
        raise NotThereError(f"a comparison is kept as {', '.join(PAGES)}, not as {kind}")
    form = asked(FIELDS, dict(request.query_params), sent=True)
    view = form.ask(lambda: compared_in_book(get_book(request), a, b, form.values))
    if view is None:
        raise RefusedError(form.trouble or next(iter(form.troubles.values())))
    head = {"content-disposition": f'attachment; filename="comparison.{kind}"'}
    return Response(view.page(kind), media_type=PAGES[kind], headers=head)


def compared_in_book(store: BookStore, a: list[str], b: list[str], said: Mapping[str, Any]) -> ComparisonView:
    """Two groups of the book compared."""
    if not a or not b:
        raise RefusedError("put at least one bead into the first group and one into the second")
    groups, own = groups_in(store, a, b)
    asked_of = ("under_test", "on", "scatter", "scatter_dof", "margin", "welding")
    wish = Wish(names=(said["name_a"], said["name_b"]), **{name: _or_usual(name, said[name]) for name in asked_of})
    return aside(compared, groups[0], groups[1], wish, own)


def _or_usual(name: str, value: Any) -> Any:
    return "" if value is None and name in ("under_test", "on", "welding") else value


def _picking(request: Request, a: list[str], b: list[str], trials: list[str], form: Asked) -> HTMLResponse:
    return page(request, "compare.html", status=form.status, form=form, a=[code.upper() for code in a],
                b=[code.upper() for code in b], **picking(get_book(request), [*a, *b], trials))  # fmt: skip


def shown(view: ComparisonView) -> dict[str, Any]:
    """What the page shows of a comparison."""
    made, row = view.made, view.rows[view.question]
    return {
        "words": verdict_words(row),
        "row": row,
        "views": () if isinstance(row.difference, Absent) else row.difference.views,
        "dimensions": dimension_table(made),
        "moved": [(words, [one.words for one in made.suspects if one.kind == kind]) for kind, words in KINDS.items()],
        "lacking": [setting_words(one.setting) for one in made.suspects if one.kind == "not logged"],
        "effects": effect_table(made.beside),
        "effect_notes": list(effect_notes(made)),
        "drawings": {name: (said, Markup(svg)) for name, (said, svg) in comparison_drawings(view).items()},
        "beads": [(name, group) for name, group in zip(made.names, made.groups, strict=True)],
    }
