"""Explain an indication: what it most likely is, what speaks for and against, and the cheapest thing to do next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.evidence import (
    Answer,
    Case,
    NextTest,
    Observation,
    Table,
    Weighed,
    next_questions,
    next_tests,
    stop_reason,
    weigh,
)
from etchbook.quantity import Measured
from etchbook.section import Indication, Reading
from etchbook.usecases.answering import EVERY, Said, Words
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.evidence_tables import advice_rows, bead_shapes, last_rungs, line_table, weld_mark_table
from etchbook.usecases.observing import Seen, inside, observe

UNKNOWN = ("unknown", "not known", "cannot say")
"""Answers that say nothing, and are counted so."""
ADVISED_FROM = 0.10
LEAST_GAIN = 0.005
"""A question that would tell less than this [bit] is not asked."""
CAUTION = (
    "This is a weighing of what was seen on one face, not a finding. An etched photo alone never proves a lamination; "
    "nothing here accepts or rejects the piece. Where it carries load, the test that is named comes first."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Advice:
    """What is done about a cause, or where the sources disagree on it."""

    text: str
    conflict: bool
    source: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Explanation:
    """One indication, explained.

    Parameters
    ----------
    indication : its name on the picture
    table : the table that it was weighed by
    place : the place by which causes were let through, in words
    weighed : every cause with its word, evidence and chance
    tests : what to do next, the best first, with what each result would change
    questions : what a person may simply know, the most useful first, each with its gain [bit]
    stop : why looking further is not worth it, "" while it is
    advice : remedies of the causes that are possible, and conflicts between sources
    bead : what the shape of the bead tells, for marks in the weld metal; None elsewhere
    words : what people wrote about it
    """

    indication: str
    table: Table
    place: str
    weighed: Weighed
    tests: tuple[NextTest, ...]
    questions: tuple[tuple[Observation, float], ...]
    stop: str = ""
    advice: tuple[Advice, ...] = ()
    bead: Advice | None = None
    words: tuple[Words, ...] = ()
    last_rungs: tuple[Mapping[str, object], ...] = ()

    def ask_next(self, passed: Sequence[str] = ()) -> Observation | None:
        """The most useful question not yet passed by, or None where no question tells anything more."""
        useful = (row for row, gain in self.questions if row.id not in passed and gain >= LEAST_GAIN)
        return next(useful, None)

    @property
    def answers(self) -> tuple[Answer, ...]:
        """Everything that was weighed, with who says so."""
        return self.weighed.case.answers


def explain(reading: Reading, said: Said | None = None, asked: Sequence[str] = ()) -> tuple[Explanation, ...]:
    """Explain every indication of a reading.

    Parameters
    ----------
    reading : with its indications
    said : what people answered, and priors that they changed
    asked : ids of questions not to be asked again

    Returns
    -------
    tuple of Explanation
        In the order of the indications; RefusedError where an answer does not fit the reading or the tables.
    """
    answers = said or Said()
    names = [name_of(found, place) for place, found in enumerate(reading.indications)]
    _check(answers, reading, names)
    return tuple(
        explain_one(reading, found, name, answers, asked)
        for found, name in zip(reading.indications, names, strict=True)
    )


def explain_one(
    reading: Reading, indication: Indication, name: str, said: Said, asked: Sequence[str] = ()
) -> Explanation:
    """Explain one indication; see `explain`."""
    seen = observe(reading, indication)
    return explain_seen(name, seen, said, asked, bead=_bead(reading, indication))


def explain_seen(
    name: str, seen: Seen, said: Said, asked: Sequence[str] = (), bead: Advice | None = None
) -> Explanation:
    """Explain what was seen, however it came to be known."""
    table = table_named(seen.table)
    known = {row.id for row in table.observations}
    told = tuple(answer for answer in said.about(name) if answer.observation in known)
    case = Case(gate=seen.gate, answers=(*seen.answers, *told), priors=said.priors.get(seen.gate))
    weighed = weigh(table, case)
    return Explanation(
        indication=name,
        table=table,
        place=table.gate(seen.gate).label,
        weighed=weighed,
        tests=next_tests(table, case),
        questions=next_questions(table, case, asked),
        stop=stop_reason(table, weighed),
        advice=_advice(weighed),
        bead=bead,
        words=tuple(remark for remark in said.words if remark.indication in (name, EVERY)),
        last_rungs=last_rungs() if seen.table == "lines" else (),
    )


def table_named(name: str) -> Table:
    """The table of evidence of that name: lines or weld_marks."""
    return weld_mark_table() if name == "weld_marks" else line_table()


def name_of(indication: Indication, place: int) -> str:
    """The name of an indication, or a letter by its place where it has none."""
    return indication.name or _letters(place)


def _letters(place: int) -> str:
    first, last = divmod(place, 26)
    return (_letters(first - 1) if first else "") + chr(ord("a") + last)


def _check(said: Said, reading: Reading, names: Sequence[str]) -> None:
    """Refuse answers that would silently count for nothing."""
    if said.reading and not reading.picture.sha256.startswith(said.reading):
        raise RefusedError("the second look was given on another picture: its fingerprint does not fit this reading")
    for name in (*said.answers, *(remark.indication for remark in said.words)):
        if name not in (*names, EVERY):
            there = ", ".join(names) or "none"
            raise RefusedError(f'the answers speak of "{name}", but the indications of this reading are: {there}')
    for held in said.answers.values():
        for answer in held:
            check_answer(answer)
    gates = {gate.id for table in (line_table(), weld_mark_table()) for gate in table.gates}
    for place in said.priors:
        if place not in gates:
            raise RefusedError(f'"{place}" is no place to give priors for: use {", ".join(sorted(gates))}')


def check_answer(answer: Answer) -> None:
    """Refuse an answer to a question, or with a state, that no table has."""
    rows = [row for table in (line_table(), weld_mark_table()) for row in table.observations]
    fitting = [row for row in rows if row.id == answer.observation]
    if not fitting:
        ids = ", ".join(dict.fromkeys(row.id for row in rows if row.question))
        raise RefusedError(f'"{answer.observation}" is no observation: use {ids}')
    states = list(dict.fromkeys(state.id for row in fitting for state in row.states))
    if answer.state not in (*states, *UNKNOWN):
        raise RefusedError(f'"{answer.state}" is no answer to {answer.observation}: use {", ".join(states)} or unknown')


def _advice(weighed: Weighed) -> tuple[Advice, ...]:
    likely = {verdict.cause.id for verdict in weighed.verdicts if verdict.chance >= ADVISED_FROM}
    material = {answer.state for answer in weighed.case.answers if answer.observation == "material"} - set(UNKNOWN)
    return tuple(
        Advice(text=row["text"], conflict=row.get("conflict", False), source=row["source"], status=row["status"])
        for row in advice_rows()
        if likely & set(row["causes"])
        and (not material or not row.get("materials") or material & set(row["materials"]))
    )


def _bead(reading: Reading, indication: Indication) -> Advice | None:
    """What width over depth of the bead tells, where it is known well enough to fall into one row."""
    deep = reading.dimensions.get("depth_to_width")
    if indication.where != "weld_metal" or not isinstance(deep, Measured) or deep.value <= 0:
        return None
    ratio = Measured(value=1 / deep.value, u=deep.u / deep.value**2, unit="", dof=deep.dof)
    for row in bead_shapes():
        chance = inside(ratio, row.get("least", 0.0), row.get("most", float("inf")))
        if chance is not None and chance >= 0.5:
            figure = f"width over depth {ratio.value:.2f} ± {2 * ratio.u:.2f}"
            return Advice(text=f"{figure}: {row['words']}", conflict=False, source=row["source"], status=row["status"])
    return None
