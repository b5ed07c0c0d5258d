"""A trial's plan in the book: its open part, who took out the key, and what was decided."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from etchbook.quantity import Measured
from etchbook.trials.deciding import Decision
from etchbook.trials.planning import Plan
from etchbook.trials.records import Bead, Trial
from etchbook.usecases.book_beads import result_of, settings_of
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.beads import keep_trial
from etchbook.usecases.keeping.looking import held, write_next
from etchbook.usecases.keeping.ports import BookStore, Hand, Write
from etchbook.usecases.planned import plan_document


@dataclass(frozen=True, kw_only=True, slots=True)
class Planned:
    """A planned trial of the book.

    Parameters
    ----------
    code, edition : of the trial
    document : the open part of the plan as JSON
    nonce : with it the machine on which it was planned finds the key again
    opened : who took the key out and when, oldest first
    decision : what was decided, "" before
    """

    code: str
    edition: int
    document: str
    nonce: str
    opened: tuple[str, ...]
    decision: str


def keep_plan(store: BookStore, hand: Hand, mark: str, made: Plan, nonce: str, code: str = "") -> Trial:
    """Begin a trial with a plan; a trial that is there is not planned anew."""
    if code and store.entry(code.upper()) is not None:
        raise RefusedError(f"there is a trial {code.upper()} already: choose another code, or leave it empty")
    text = _text(plan_document(made) | {"nonce": nonce})
    return keep_trial(store, hand, code, mark, {"question": made.wish.question, "plan": text})[0]


def plan_in(store: BookStore, code: str) -> Planned:
    """The plan of a trial; refused where it has none."""
    trial, edition = held(store, code, Trial)
    if not trial.plan:
        raise RefusedError(f"trial {trial.code} was not planned beforehand")
    told = json.loads(trial.plan)
    return Planned(
        code=trial.code,
        edition=edition,
        document=trial.plan,
        nonce=str(told.get("nonce", "")),
        opened=tuple(told.get("opened", ())),
        decision=str(told.get("decision", "")),
    )


def note_opened(store: BookStore, hand: Hand, code: str) -> None:
    """Write into the book who took the key out, and when."""
    found = plan_in(store, code)
    _change(store, hand, found, "took the sealed key of trial {} out", {"opened": [*found.opened, _by(hand)]})


def note_decided(store: BookStore, hand: Hand, code: str, decision: Decision) -> None:
    """Keep what the locked rule said; it is looked at once."""
    found = plan_in(store, code)
    if found.decision:
        raise RefusedError(f"trial {found.code} was decided already, and its rule looks once: {found.decision}")
    _change(store, hand, found, "decided trial {} by its locked rule", {"decision": decision.words})


def _by(hand: Hand) -> str:
    return f"{hand.by}, {hand.at[:16].replace('T', ' ')}"


def _change(store: BookStore, hand: Hand, found: Planned, words: str, more: Mapping[str, Any]) -> None:
    trial, edition = held(store, found.code, Trial)
    changed = replace(trial, plan=_text(json.loads(found.document) | more))
    write_next(store, hand, words, lambda: [Write(record=changed, expects=edition)])


def _text(told: Mapping[str, Any]) -> str:
    return json.dumps(told, ensure_ascii=False)


@dataclass(frozen=True, kw_only=True, slots=True)
class Result:
    """A bead of the trial that may stand for a code of the plan.

    Parameters
    ----------
    bead : its code in the book
    value : mean of the response over its sections
    beside : what the plan names to be measured beside, None where it was not logged
    words : what was seen of it, in which the plan's code may stand
    """

    bead: str
    value: Measured
    beside: float | None
    words: str


def results_in(store: BookStore, trial: str, response: str, covariate: str = "") -> tuple[Result, ...]:
    """Beads of a trial on which the response was read, in their order."""
    found = []
    for entry in store.below(trial, "bead"):
        value = result_of(store, entry.code, response)
        if value is not None and isinstance(entry.record, Bead):
            beside = settings_of(entry.record.settings).get(covariate) if covariate else None
            words = " ".join(one.text for one in entry.record.settings if one.name == "remarks")
            number = beside if isinstance(beside, float) else None
            found.append(Result(bead=entry.code, value=value, beside=number, words=words))
    return tuple(found)
