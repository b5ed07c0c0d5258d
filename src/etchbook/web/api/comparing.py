"""Two groups of beads compared, as JSON."""

from typing import Any

from fastapi import Request

from etchbook.quantity import Absent
from etchbook.terms import DIMENSIONS
from etchbook.trials.difference import Difference, View
from etchbook.trials.scatter import Scatter
from etchbook.usecases.comparing import Row
from etchbook.web.api.compareshapes import (
    CompareAsked,
    ComparisonTold,
    DifferenceTold,
    ExpectedTold,
    RowTold,
    ScatterTold,
    SplitTold,
    SuspectTold,
    ViewTold,
)
from etchbook.web.api.quantities import finite, quantity
from etchbook.web.api.verbs import verbs
from etchbook.web.aside import aside
from etchbook.web.bench import get_book
from etchbook.wiring.compared import groups_in
from etchbook.wiring.comparison import ComparisonView, Wish, compared, named

router = verbs("trials")
NUMBERS = ("value", "least_shown", "inside", "above", "below", "margin")


@router.post("/compare")
def compare_beads(request: Request, given: CompareAsked) -> ComparisonTold:
    """What differs between two groups of beads, whether it is more than scatter, and what else was not the same."""
    said = given.model_dump(exclude={"a", "b", "names", "margins"})
    wish = Wish(names=named(given.names), margins=given.margins, **said)
    groups, own = groups_in(get_book(request), given.a, given.b)
    return _told(aside(compared, groups[0], groups[1], wish, own))


def _told(view: ComparisonView) -> ComparisonTold:
    made, expected = view.made, view.made.expected
    return ComparisonTold(
        sentence=view.words,
        question=view.question,
        names=list(made.names),
        rows=[_row(one) for one in made.rows],
        splits={name: _split(one) for name, one in made.splits.items()},
        suspects=[SuspectTold.model_validate(one, from_attributes=True) for one in made.suspects],
        expected=[] if isinstance(expected, Absent) else [_expected(one) for one in expected],
        no_expected=expected.reason if isinstance(expected, Absent) else "",
        seen=dict(zip(made.beside.labels, map(finite, made.beside.seen), strict=True)),
        hints=list(made.beside.hints),
        notes=list(made.notes),
    )


def _row(one: Row) -> RowTold:
    return RowTold(dimension=one.dimension, label=DIMENSIONS[one.dimension].label, unit=one.unit, a=quantity(one.a),
                   b=quantity(one.b), difference=difference(one.difference),
                   scatter=None if one.scatter is None else scatter(one.scatter))  # fmt: skip


def difference(one: Difference | Absent) -> DifferenceTold:
    """A difference for JSON."""
    if isinstance(one, Absent):
        return DifferenceTold(**dict.fromkeys(NUMBERS), views=[], verdict="", words="", absent=one.reason)
    return DifferenceTold(**{name: finite(getattr(one, name)) for name in NUMBERS}, verdict=one.verdict,
                          words=one.words, views=[_view(view) for view in one.views], absent="")  # fmt: skip


def _view(one: View) -> ViewTold:
    return ViewTold(name=one.name, assumes=one.assumes, words=one.words, low=finite(one.low), high=finite(one.high),
                    p=finite(one.p))  # fmt: skip


def scatter(one: Scatter) -> ScatterTold:
    """A scatter for JSON."""
    return ScatterTold(sd=one.sd, dof=finite(one.dof), source=one.source)


def _split(one: Any) -> SplitTold:
    parts = {name: quantity(getattr(one, name)) for name in ("total", "amount", "shape", "at_equal_area")}
    return SplitTold(words=one.words, **parts)


def _expected(one: Any) -> ExpectedTold:
    moved = {name: finite(getattr(one, name)) for name in ("width", "depth", "height")}
    return ExpectedTold(setting=one.setting, words=one.words, source=one.source, counted=one.counted, **moved)
