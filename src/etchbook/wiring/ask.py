"""The second question, for people who write Python: same settings, different bead.

>>> from etchbook import ask
>>> print(ask.gas.split(co2=25, coldest=-10).sentence)  # doctest: +ELLIPSIS
Can argon with 25 % CO2 come apart at -10 °C? No...
"""

from collections.abc import Mapping, Sequence
from os import PathLike
from pathlib import Path
from typing import Any

from etchbook.evidence import Answer
from etchbook.section import Reading
from etchbook.usecases import RefusedError
from etchbook.usecases.comparing import BeadReadings
from etchbook.usecases.dialling import Dialled, dialled_from, factors_from, runs
from etchbook.usecases.next_check import NextCheck, knowledge_in
from etchbook.usecases.next_check import next_check as weighed
from etchbook.usecases.planned import plan_trial, wish_from
from etchbook.wiring import ask_gas as gas
from etchbook.wiring.compared import answers_from, bead_at_hand, groups_from, settings_file
from etchbook.wiring.comparison import ComparisonView, Wish, compared, margins_in, named
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.plans import PlanView, fresh_secret, own_scatter_of
from etchbook.wiring.view import ReadingView

__all__ = ["ComparisonView", "PlanView", "compare", "design", "fit", "gas", "next_check", "plan"]

Bead = str | PathLike[str] | Reading | ReadingView | Sequence[Reading | ReadingView]


def compare(
    a: Sequence[Bead],
    b: Sequence[Bead],
    *,
    names: tuple[str, str] = ("a", "b"),
    settings: Mapping[str, Any] | str | PathLike[str] | None = None,
    under_test: str = "",
    on: str = "",
    scatter: float | None = None,
    scatter_dof: float | None = None,
    margin: float | None = None,
    welding: str = "",
    book: str | PathLike[str] | None = None,
) -> ComparisonView:
    """Compare two beads or two groups of beads.

    Parameters
    ----------
    a, b : beads; each the path of a kept reading, its code in a book, a reading at hand, or the readings of its
        sections
    names : of the groups
    settings : what was logged, ``{"a": [one table a bead], "b": [...]}`` with optional ``margin`` and ``under_test``,
        or the path of such a TOML file; beads of a book bring theirs along
    under_test : the setting that was meant to differ
    on : the dimension in question; convexity or excess weld metal when left out
    scatter, scatter_dof : of that dimension from bead to bead [its unit]; the book's own, else a planning value
    margin : differences of it up to this are of no consequence [its unit]
    welding : mechanised or hand
    book : folder of the book that knows the codes

    Returns
    -------
    ComparisonView
        `.words`, `.rows["convexity"].difference`, `.made.beside` (expected effects beside what was seen), `.save(...)`.
    """
    logged = _logged(settings)
    if all(isinstance(bead, str | PathLike) for bead in (*a, *b)):
        words = [[str(bead) for bead in group if isinstance(bead, str | PathLike)] for group in (a, b)]
        groups, own = groups_from(words[0], words[1], logged, None if book is None else str(book))
    else:
        groups, own = [_at_hand(group, logged.get(side, ()), side) for side, group in (("a", a), ("b", b))], {}
    _some(groups)
    wish = Wish(names=named(names), under_test=under_test or str(logged.get("under_test", "")), on=on, scatter=scatter,
                scatter_dof=scatter_dof, margin=margin, margins=margins_in(logged), welding=welding)  # fmt: skip
    return compared(groups[0], groups[1], wish, own)


def _logged(settings: Mapping[str, Any] | str | PathLike[str] | None) -> Mapping[str, Any]:
    if settings is None:
        return {}
    return settings if isinstance(settings, Mapping) else settings_file(str(Path(settings)))


def _some(groups: Sequence[Sequence[BeadReadings]]) -> None:
    if not all(groups):
        raise RefusedError("a comparison needs one bead at least on either side")


def _at_hand(beads: Sequence[Bead], logged: Sequence[Mapping[str, Any]], name: str) -> tuple[BeadReadings, ...]:
    if logged and len(logged) != len(beads):
        raise RefusedError(f"group {name} has {len(beads)} beads but settings for {len(logged)}")
    tables = logged or [{}] * len(beads)
    return tuple(
        bead_at_hand(_sections(bead), table, f"{name}{at}")
        for at, (bead, table) in enumerate(zip(beads, tables, strict=True), start=1)
    )


def _sections(bead: Bead) -> list[Reading]:
    held = bead if isinstance(bead, Sequence) and not isinstance(bead, str) else [bead]
    records = [each.record if isinstance(each, ReadingView) else each for each in held]
    told = [each for each in records if isinstance(each, Reading)]
    if not told or len(told) < len(records):
        raise RefusedError("beads are all readings at hand, or all paths and codes, not both")
    return told


def next_check(
    answers: Mapping[str, str] | None = None,
    *,
    usual: Sequence[str] = (),
    odd: Sequence[str] = (),
    comparison: ComparisonView | None = None,
    priors: Mapping[str, float] | None = None,
    table: str | PathLike[str] | None = None,
    book: str | PathLike[str] | None = None,
) -> NextCheck:
    """Say what most likely made a bead come out different, and which check comes next.

    Parameters
    ----------
    answers : what was seen, ``{"amps_differ": "yes"}``; `etchbook next-check --list` names the observations
    usual, odd : beads by code in the book or by path, whose logs and readings answer by themselves
    comparison : or a comparison of usual with odd beads, which does the same
    priors : priors of your own, by cause
    table : path of a table of evidence of your own; `etchbook next-check --keep-table` gives the packaged one to change
    book : folder of the book that knows the codes

    Returns
    -------
    NextCheck
        Printed in words; `.weighed.verdicts` with the evidence, `.tests` with the most told for a minute first,
        `.order` of isolating checks, `.stop`. Priors and ratios are common practice, judged.
    """
    given: list[Answer] = []
    if usual or odd:
        given += answers_from(usual, odd, None if book is None else str(book))
    given += comparison.made.answers if comparison is not None else ()
    given += [Answer(observation=name, state=state, by="you") for name, state in (answers or {}).items()]
    return weighed(given, priors, None if table is None else knowledge_in(FilesDesk().text(str(table))))


def plan(
    question: str,
    *,
    worth: float,
    arms: tuple[str, str],
    book: str | PathLike[str] | None = None,
    secret: str = "",
    **more: Any,
) -> PlanView:
    """Plan a trial: size by exact power, randomised order, blinding codes, locked rule.

    Parameters
    ----------
    question : what it is to answer
    worth : smallest difference worth knowing [unit of the response]
    arms : the two things compared; for the kind "reference cylinder" the suspect and the reference
    book : folder of a book whose own scatter is taken where it knows it
    secret : what the codes are drawn from; drawn by chance when left out
    more : response, kind, scatter, scatter_dof, welding, margin, held, covariate, warm_up, sections, power, seed, beads

    Returns
    -------
    PlanView
        `.made` with everything in it, `.save(folder)`, `.decide(results)`.
    """
    said = {"question": question, "worth": worth, "arms": list(arms), **more}
    return PlanView(plan_trial(wish_from(said, secret or fresh_secret(), own=own_scatter_of(book))))


def design(
    turn: Mapping[str, tuple[float, float]], kind: str = "surface", *, centres: int = 3, seed: int = 0
) -> tuple[dict[str, float], ...]:
    """Settings of every bead for dialling in several settings together, in randomised order.

    Parameters
    ----------
    turn : lowest and highest value of two to five settings, in the unit of their term
    kind : "two levels", "half", "surface" or "surface in few beads"
    centres : beads in the middle, which show scatter and bending
    seed : of the order
    """
    return runs(factors_from(turn), kind, centres=centres, seed=seed)


def fit(
    beads: Sequence[tuple[Mapping[str, float], float]],
    turn: Mapping[str, tuple[float, float]],
    *,
    target: float | None = None,
    tolerance: float = 0.1,
    unit: str = "mm",
) -> Dialled:
    """Fit what the beads of `design` gave.

    Parameters
    ----------
    beads : settings and response of each bead
    turn : as given to `design`
    target, tolerance : wanted response and how far off it may be; None for no next setting

    Returns
    -------
    Dialled
        `.surface.effects()` with their uncertainty, `.surface.at(settings)`, `.next_bead` with its `.chance`.
    """
    return dialled_from(beads, factors_from(turn), target=target, tolerance=tolerance, unit=unit)
