"""Why a bead came out different: one question at a time, what to check next, and when to stop."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from etchbook.evidence import Answer
from etchbook.trials.causes import bead_table
from etchbook.usecases.explained import piece_words
from etchbook.usecases.keeping.ports import BookStore
from etchbook.usecases.next_check import NONE, NextCheck, next_check
from etchbook.usecases.next_question import meanings_of, next_question
from etchbook.web.aside import aside
from etchbook.web.asking import Field, asked
from etchbook.web.bench import get_book, page
from etchbook.web.pages.picking import picking
from etchbook.wiring.comparison import answered_by, both_in

router = APIRouter(include_in_schema=False)
Codes = Annotated[list[str], Query(max_length=60)]
SHOWN = 5
PRIOR = "prior."
ASK = "/next-check/ask"


@dataclass(frozen=True, kw_only=True, slots=True)
class State:
    """How far the asking is; all of it stands in the address, so that going back takes an answer back.

    Parameters
    ----------
    usual, odd : codes of beads
    said : answers as ``amps_differ=yes``
    passed : questions that nobody could answer
    priors : as typed, by cause
    """

    usual: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    passed: tuple[str, ...] = ()
    priors: tuple[tuple[str, str], ...] = ()

    @property
    def pairs(self) -> list[tuple[str, str]]:
        """As fields of a form, in their order."""
        held = (("usual", self.usual), ("odd", self.odd), ("said", self.said), ("passed", self.passed))
        return [(name, value) for name, values in held for value in values] + list(self.priors)

    def without(self, said: str) -> str:
        """The address with one answer, or one question that was passed by, taken back."""
        left = replace(self, said=_less(self.said, said), passed=_less(self.passed, said))
        return f"{ASK}?{urlencode(left.pairs)}"


def _less(held: tuple[str, ...], name: str) -> tuple[str, ...]:
    return tuple(one for one in held if one.partition("=")[0] != name)


@router.get("/next-check")
def begin(request: Request, usual: Codes = [], odd: Codes = [], trial: Codes = []) -> HTMLResponse:  # noqa: B006
    """Pick usual beads and odd ones, or begin without."""
    return page(request, "next_check.html", **picking(get_book(request), [*usual, *odd], trial), usual=usual, odd=odd,
                refused="")  # fmt: skip


@router.get(ASK)
def ask(
    request: Request,
    usual: Codes = [],  # noqa: B006
    odd: Codes = [],  # noqa: B006
    said: Codes = [],  # noqa: B006
    passed: Codes = [],  # noqa: B006
) -> HTMLResponse:
    """The next question, and what is known so far."""
    given = dict(request.query_params)
    form = asked(prior_fields(), given, sent=True)
    typed = tuple((name, text) for name, text in form.typed.items() if text)
    state = State(usual=tuple(usual), odd=tuple(odd), said=tuple(said), passed=tuple(passed), priors=typed)
    store = get_book(request)
    found = form.ask(lambda: _found(store, state, form.values))
    if found is None and form.trouble:
        return page(request, "next_check.html", status=422, **picking(store, [*usual, *odd], []), usual=usual, odd=odd,
                    refused=form.trouble)  # fmt: skip
    known, differ, checked = found or ((), [], None)
    return page(request, "next_check_ask.html", status=form.status, form=form, state=state, differ=differ,
                **shown(known, checked, _priors(form.values) if found else {}, state))  # fmt: skip


def prior_fields() -> tuple[Field, ...]:
    """A field for the chance of each cause beforehand."""
    return tuple(
        Field(name=f"{PRIOR}{one.id}", label=one.label, kind="number", needed=False, hint=one.means,
              told=(f'"{one.id}"', "prior"))
        for one in bead_table().causes
    )  # fmt: skip


def _priors(values: Mapping[str, Any]) -> dict[str, float]:
    return {name.removeprefix(PRIOR): value for name, value in values.items() if value is not None}


def answers_so_far(store: BookStore, state: State) -> tuple[tuple[Answer, ...], list[str]]:
    """What log and readings say by themselves and what the person said; and whether the beads differ at all."""
    told = [one.partition("=") for one in state.said]
    own = tuple(Answer(observation=name, state=answer, by="you") for name, _, answer in told)
    answered, differ = differing(store, state.usual, state.odd)
    return (*answered, *own), differ


def differing(store: BookStore, usual: Sequence[str], odd: Sequence[str]) -> tuple[tuple[Answer, ...], list[str]]:
    """What usual and odd beads of the book answer by themselves, and whether they differ at all."""
    held = both_in(store, usual, odd)
    return ((), []) if held is None else aside(answered_by, held[0][0], held[0][1], held[1])


def _found(
    store: BookStore, state: State, values: Mapping[str, Any]
) -> tuple[tuple[Answer, ...], list[str], NextCheck]:
    known, differ = answers_so_far(store, state)
    return known, differ, next_check(known, _priors(values))


def shown(
    known: Sequence[Answer], found: NextCheck | None, priors: Mapping[str, float], state: State
) -> dict[str, Any]:
    """What the page shows of the asking."""
    if found is None:
        return {"found": None}
    table = bead_table()
    latest = {one.observation: one for one in known}
    labels = {one.id: one.label for one in table.observations}
    return {
        "found": found,
        "question": next_question(known, priors, state.passed),
        "verdicts": [(one, [piece_words(table, piece) for piece in one.evidence[:3]])
                     for one in found.weighed.verdicts[:SHOWN]],
        "tests": [(one, meanings_of(one)) for one in found.tests[:SHOWN]],
        "order": [(table.cause(one.cause).label, one) for one in found.order[:SHOWN]],
        "known": [(labels.get(name, name), one, state.without(name)) for name, one in latest.items()],
        "passed": [(labels.get(name, name), state.without(name)) for name in state.passed],
        "swings": sorted({f"{table.cause(one.cause).label} × {one.times:g}" for one in found.weighed.swings}),
        "steady": NONE,
        "rules": table.notes,
        "causes": [(one.cause.id, one.prior) for one in found.weighed.verdicts],
    }  # fmt: skip
