"""A table of evidence out of plain data, every part looked at before it is believed."""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any, TypeVar

from etchbook.evidence.records import (
    Cap,
    Cause,
    Context,
    EvidenceError,
    Gate,
    Group,
    LikelihoodRatio,
    Observation,
    State,
    Table,
    Test,
)

YES, NO = "yes", "no"
USUAL_BASE = 0.1
SUREST = 0.95
"""No cause shows a state more often than this, so that a "no" never rules one out."""
Row = Mapping[str, Any]
Made = TypeVar("Made")


def table_from(held: Row) -> Table:
    """A table of evidence.

    Parameters
    ----------
    held : as in the packaged files: id, title, notes, codes (sign -> ratio), and lists of causes, groups,
        observations (each with states), gates, contexts, caps and tests. The ratios of a state are a string of
        signs in the order of the causes, or a mapping cause -> number (1 where missing). An observation with
        ``no = true`` and one state "yes" gets a state "no" reckoned from it

    Returns
    -------
    Table
        EvidenceError with one sentence where the data cannot be used.
    """
    causes = tuple(_made(Cause, row) for row in held["cause"])
    known = [cause.id for cause in causes]
    codes = {sign: float(ratio) for sign, ratio in held.get("codes", {}).items()}
    table = Table(
        id=held["id"],
        title=held["title"],
        causes=causes,
        groups=tuple(_made(Group, row) for row in held["group"]),
        observations=tuple(_observation(row, known, codes) for row in held["observation"]),
        gates=tuple(_made(Gate, row) for row in held["gate"]),
        contexts=tuple(_made(Context, row | {"gates": tuple(row.get("gates", ()))}) for row in held.get("context", ())),
        caps=tuple(_cap(row) for row in held.get("cap", ())),
        tests=tuple(_made(Test, row | {"answers": tuple(row["answers"])}) for row in held.get("test", ())),
        notes=tuple(held.get("notes", ())),
    )
    _look_over(table)
    return table


def _observation(row: Row, known: Sequence[str], codes: Mapping[str, float]) -> Observation:
    states = [_state(state, row, known, codes) for state in row["state"]]
    if row.get("no", False):
        states.append(_opposite(states, row))
    own = ("state", "base", "no", "no_label", "source", "status")
    rest = {key: value for key, value in row.items() if key not in own}
    return _made(Observation, rest | {"states": tuple(states)})


def _state(state: Row, row: Row, known: Sequence[str], codes: Mapping[str, float]) -> State:
    name = f"{row['id']}={state['id']}"
    weighs = LikelihoodRatio(
        ratios=_ratios(state["ratios"], known, codes, name),
        row=str(state.get("row", "")),
        source=state.get("source", row.get("source", "")),
        status=state.get("status", row.get("status", "")),
    )
    base = float(state.get("base", row.get("base", USUAL_BASE)))
    return State(id=state["id"], label=state.get("label", state["id"]), weighs=weighs, base=base)


def _opposite(states: Sequence[State], row: Row) -> State:
    """What a "no" speaks for, so that the chances of "yes" and "no" make one under every cause."""
    if len(states) != 1 or states[0].id != YES:
        raise EvidenceError(f'"{row["id"]}" has a reckoned "no" but not "yes" as its only state')
    yes, base = states[0].weighs, states[0].base
    ratios = {cause: (1 - min(base * ratio, SUREST)) / (1 - base) for cause, ratio in yes.ratios.items()}
    source = f"reckoned from the row for yes ({yes.source})" if yes.source else "reckoned from the row for yes"
    weighs = LikelihoodRatio(ratios=ratios, row=yes.row, source=source, status=yes.status)
    return State(id=NO, label=row.get("no_label", "no"), weighs=weighs, base=1 - base)


def _ratios(given: str | Row, known: Sequence[str], codes: Mapping[str, float], name: str) -> dict[str, float]:
    if isinstance(given, str):
        signs = given.split()
        if len(signs) != len(known) or any(sign not in codes for sign in signs):
            raise EvidenceError(f"{name} should have one of {' '.join(codes)} for each of {len(known)} causes")
        return {cause: codes[sign] for cause, sign in zip(known, signs, strict=True)}
    ratios = {cause: float(ratio) for cause, ratio in given.items()}
    for cause, ratio in ratios.items():
        if cause not in known or ratio <= 0:
            raise EvidenceError(f"{name} gives {cause} a ratio of {ratio:g}: causes of the table, ratios above 0")
    return ratios


def _cap(row: Row) -> Cap:
    until = {name: tuple(states) for name, states in row["until"].items()}
    return Cap(cause=row["cause"], word=row["word"], until=until, reason=row["reason"])


def _made(kind: type[Made], row: Row) -> Made:
    known = {part.name for part in fields(kind)}  # type: ignore[arg-type]
    unknown = [key for key in row if key not in known]
    if unknown:
        raise EvidenceError(f'{kind.__name__.lower()} "{row.get("id", "")}" knows no "{unknown[0]}"')
    return kind(**row)


def _look_over(table: Table) -> None:
    """Refuse a table whose parts do not fit each other."""
    groups = {group.id for group in table.groups}
    seen = {row.id: {state.id for state in row.states} for row in table.observations}
    causes = {cause.id for cause in table.causes}
    lost = [row.group for row in table.observations if row.group not in groups]
    lost += [name for test in table.tests for name in test.answers if name not in seen]
    lost += [row.observation for row in table.contexts if row.state not in seen.get(row.observation, ())]
    lost += [name for cap in table.caps for name in cap.until if not set(cap.until[name]) <= seen.get(name, set())]
    lost += [cause for gate in table.gates for cause in gate.priors if cause not in causes]
    lost += [cause for row in table.contexts for cause in row.times if cause not in causes]
    lost += [test.id for test in table.tests if test.minutes + test.cost <= 0]
    if lost:
        raise EvidenceError(f'the table "{table.id}" names "{lost[0]}", which it does not have or cannot use')
