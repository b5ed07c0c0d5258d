"""Weighing: priors of the place times what every observation speaks for, correlated ones counted once in full."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from etchbook.evidence.records import Answer, Context, EvidenceError, Gate, State, Table


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """What one answer counted for one cause.

    Parameters
    ----------
    ratio : its likelihood ratio by the table
    share : how much of it counted: 1, or the group's share where a stronger one of its group counted in full
    bits : log2 of what counted; positive speaks for the cause
    """

    answer: Answer
    state: State
    ratio: float
    share: float
    bits: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One thing to be explained: where it is, what was seen, and priors that a person changed.

    Parameters
    ----------
    gate : id of the place (or context) that says which causes can be at all
    answers : what was seen; an observation without an answer is neutral
    priors : prior by cause that replaces the table's; the rest are scaled so that all sum to one
    """

    gate: str
    answers: tuple[Answer, ...] = ()
    priors: Mapping[str, float] | None = None

    def __post_init__(self) -> None:
        for cause, prior in (self.priors or {}).items():
            if not 0 <= prior <= 1:
                raise EvidenceError(f"the prior of {cause} must lie between 0 and 1, not at {prior:g}")


def priors(table: Table, case: Case) -> dict[str, float]:
    """The chance of each cause before anything was seen, contexts counted in; sums to one.

    Causes that the gate leaves out are not in it.
    """
    base = _known_before(table, case)
    total = sum(base.values())
    return {cause: chance / total for cause, chance in base.items()}


def pieces(table: Table, answers: Sequence[Answer], cause: str) -> tuple[Piece, ...]:
    """What each answer counts for one cause: in each group the strongest in full, the others by the group's share."""
    shares = {group.id: group.share for group in table.groups}
    by_group: dict[str, list[tuple[Answer, State, float]]] = {}
    for answer in answers:
        observation = table.observation(answer.observation)
        state = observation.state(answer.state)
        if state is not None:
            ratio = state.weighs.ratios.get(cause, 1.0)
            by_group.setdefault(observation.group, []).append((answer, state, ratio))
    return tuple(piece for group, held in by_group.items() for piece in _counted(held, shares[group]))


def log_weights(table: Table, case: Case) -> dict[str, float]:
    """Logarithm of prior times evidence of every cause that the gate lets through (not normalised)."""
    return {
        cause: math.log(prior) + sum(piece.bits for piece in pieces(table, case.answers, cause)) * math.log(2)
        for cause, prior in _known_before(table, case).items()
        if prior > 0
    }


def posterior(table: Table, case: Case) -> dict[str, float]:
    """The chance of each cause after what was seen; the likeliest first, sums to one.

    Source: Bayes' rule, with the likelihood ratios of correlated observations discounted.
    """
    return normalised(log_weights(table, case))


def normalised(weights: Mapping[str, float]) -> dict[str, float]:
    """Chances out of logarithmic weights, the largest first."""
    top = max(weights.values())
    raw = {cause: math.exp(weight - top) for cause, weight in weights.items()}
    total = sum(raw.values())
    return {cause: raw[cause] / total for cause in sorted(raw, key=lambda name: -raw[name])}


def _known_before(table: Table, case: Case) -> dict[str, float]:
    """Priors with the factors of every context, not yet scaled to one."""
    base = _edited(table.gate(case.gate), case.priors or {})
    for context in _contexts(table, case):
        base = {cause: chance * context.times.get(cause, 1.0) for cause, chance in base.items()}
    return base


def _edited(gate: Gate, changed: Mapping[str, float]) -> dict[str, float]:
    """The gate's priors with a person's own put in; the others share what is left as they did before."""
    for cause in changed:
        if cause not in gate.priors:
            raise EvidenceError(f'"{cause}" is no cause {gate.label}: use {", ".join(gate.priors)}')
    taken = sum(changed.values())
    others = {cause: prior for cause, prior in gate.priors.items() if cause not in changed}
    if taken > 1 + 1e-9:
        raise EvidenceError(f"the priors given sum to {taken:g}; together they can be 1 at most")
    left = max(1 - taken, 0.0) / (sum(others.values()) or 1.0)
    base = {cause: changed.get(cause, prior * left) for cause, prior in gate.priors.items()}
    if sum(base.values()) <= 0:
        raise EvidenceError("every prior given is 0; at least one cause must be possible")
    return base


def _contexts(table: Table, case: Case) -> Iterable[Context]:
    # Two people who say the same make a context no stronger.
    said = {(answer.observation, answer.state) for answer in case.answers}
    for context in table.contexts:
        here = not context.gates or case.gate in context.gates
        if here and (context.observation, context.state) in said:
            yield context


def _counted(held: list[tuple[Answer, State, float]], share: float) -> Iterable[Piece]:
    strongest = max(range(len(held)), key=lambda place: abs(math.log(held[place][2])))
    for place, (answer, state, ratio) in enumerate(held):
        part = 1.0 if place == strongest else share
        yield Piece(answer=answer, state=state, ratio=ratio, share=part, bits=part * math.log2(ratio))
