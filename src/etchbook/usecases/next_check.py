"""Which check comes next for a bead that came out different, told in words."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from etchbook.evidence import (
    Answer,
    Case,
    EvidenceError,
    NextTest,
    Table,
    Verdict,
    Weighed,
    next_tests,
    stop_reason,
    weigh,
)
from etchbook.trials.causes import Check, Knowledge, checks, knowledge_from, usual_knowledge
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.explained import piece_words

SHOWN = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class NextCheck:
    """What the evidence says about a changed bead, and what to check next.

    Parameters
    ----------
    weighed : the causes
    tests : checks that tell something, most bits for a minute first
    order : isolating checks by chance × detection / minutes
    stop : why looking further is not worth it, "" while it is
    idle : checks that are not worth their time as things stand
    table : what it was weighed with
    """

    weighed: Weighed
    tests: tuple[NextTest, ...]
    order: tuple[Check, ...]
    stop: str
    idle: tuple[str, ...]
    table: Table

    def __str__(self) -> str:
        return "\n".join(lines(self))


def next_check(
    answers: Sequence[Answer], priors: Mapping[str, float] | None = None, known: Knowledge | None = None
) -> NextCheck:
    """Weigh what is known of a changed bead and rank the checks.

    Parameters
    ----------
    answers : what was seen, logged or told; a later one replaces an earlier one of the same observation
    priors : priors of the person's own, by cause
    known : a table of the person's own; the packaged one where None
    """
    table = (known or usual_knowledge()).table
    _look_over(table, answers, priors or {})
    latest = tuple({answer.observation: answer for answer in answers}.values())
    try:
        case = Case(gate="any", answers=latest, priors=priors or None)
        weighed = weigh(table, case)
    except EvidenceError as error:
        raise RefusedError(str(error)) from None
    tests = next_tests(table, case)
    named, answered = {one.test.id for one in tests}, {answer.observation for answer in latest}
    idle = tuple(one.label for one in table.tests if one.id not in named and set(one.answers) - answered)
    stop = stop_reason(table, weighed)
    return NextCheck(weighed=weighed, tests=tests, order=checks(case, known), stop=stop, idle=idle, table=table)


def knowledge_in(text: str) -> Knowledge:
    """A table of the person's own out of TOML, built like the packaged one."""
    try:
        return knowledge_from(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise RefusedError(f"the table is not TOML: {error}") from None
    except EvidenceError as error:
        raise RefusedError(f"the table cannot be used: {error}") from None


def _look_over(table: Table, answers: Sequence[Answer], priors: Mapping[str, float]) -> None:
    observations = {row.id: row for row in table.observations}
    for answer in answers:
        row = observations.get(answer.observation)
        if row is None:
            raise RefusedError(f'"{answer.observation}" is no observation: use {", ".join(observations)}')
        if row.state(answer.state) is None and answer.state != "no":
            raise RefusedError(f'{answer.observation} is answered with yes or no, not "{answer.state}"')
    causes = {cause.id for cause in table.causes}
    for name in priors:
        if name not in causes:
            raise RefusedError(f'"{name}" is no cause: use {", ".join(sorted(causes))}')


def answer_from(text: str, by: str = "you") -> Answer:
    """``observation=yes`` as an answer."""
    name, sign, state = text.partition("=")
    if not sign:
        raise RefusedError(f'"{text}" is no answer: write it like amps_differ=yes')
    return Answer(observation=name.strip(), state=state.strip().lower(), by=by)


def prior_from(text: str) -> tuple[str, float]:
    """``cause=0.3`` as a prior."""
    name, _, value = text.partition("=")
    try:
        return name.strip(), float(value)
    except ValueError:
        raise RefusedError(f'"{text}" is no prior: write it like stick_out=0.3') from None


def lines(found: NextCheck) -> Iterator[str]:
    """The answer as lines of text."""
    yield f"{found.weighed.sentence} (priors and ratios are common practice, judged)"
    for verdict in found.weighed.verdicts[:SHOWN]:
        yield from _verdict(verdict, found.table)
    if found.stop:
        yield f"stop looking: {found.stop}; mend it and weld again"
    else:
        yield "next checks, the most told for a minute first:"
        for number, test in enumerate(found.tests[:SHOWN], start=1):
            yield from _test(number, test, found.table)
        yield "isolating checks in the order that finds a single fault soonest (chance × detection / minutes):"
        yield from (f"  {one.cause}: {one.how} ({one.minutes:g} min)" for one in found.order[:SHOWN])
    if found.idle:
        yield f"not worth their time as things stand: {', '.join(found.idle)}"
    swings = {f"{one.cause} × {one.times:g}" for one in found.weighed.swings}
    yield f"sensitivity: {'the first cause or its word changes with ' + ', '.join(sorted(swings)) if swings else NONE}"
    yield from (f"rule: {note}" for note in found.table.notes)


NONE = "halving or doubling any one prior changes neither the first cause nor its word"


def _verdict(verdict: Verdict, table: Table) -> Iterator[str]:
    span = f"{verdict.low:.2f} to {verdict.high:.2f} with one prior halved or doubled"
    yield f"  {verdict.word}: {verdict.cause.label}, chance {verdict.chance:.2f} ({span}); {verdict.cause.remedy}"
    for piece in verdict.evidence[:3]:
        yield f"    {piece_words(table, piece)}"


def _test(number: int, test: NextTest, table: Table) -> Iterator[str]:
    lost = "; cannot be undone" if test.test.destroys else ""
    yield f"  {number}. {test.test.label}: {test.effort:g} min, {test.gain:.2f} bit{lost}; {test.test.tells}"
    for outcome in test.outcomes[:2]:
        first, second = list(outcome.after.items())[:2]
        told = ", then ".join(f"{table.cause(name).label} {chance:.2f}" for name, chance in (first, second))
        yield f"     {outcome.state} (chance {outcome.chance:.2f}): {told}"


def document(found: NextCheck) -> dict[str, Any]:
    """The answer for other programs."""
    return {
        "sentence": found.weighed.sentence,
        "causes": [
            {"id": one.cause.id, "label": one.cause.label, "word": one.word, "chance": one.chance,
             "prior": one.prior, "low": one.low, "high": one.high} for one in found.weighed.verdicts
        ],
        "tests": [
            {"id": one.test.id, "label": one.test.label, "minutes": one.effort, "bits": one.gain,
             "outcomes": [{"state": part.state, "chance": part.chance, "after": dict(part.after)}
                          for part in one.outcomes]} for one in found.tests
        ],
        "order": [{"cause": one.cause, "how": one.how, "rate": one.rate} for one in found.order],
        "stop": found.stop,
        "not_worth_it": list(found.idle),
    }  # fmt: skip
