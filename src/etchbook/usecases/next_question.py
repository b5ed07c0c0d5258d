"""One question at a time about a changed bead: the most telling one, and what each answer would mean."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.evidence import Answer, Case, NextTest, Outcome, next_questions
from etchbook.evidence.planning import LEAST_GAIN, outcomes
from etchbook.trials.causes import bead_table

FIRST = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Meaning:
    """What one result of a look would change.

    Parameters
    ----------
    state : the result
    chance : of it, as things stand
    words : which causes would then come first
    """

    state: str
    chance: float
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """A question, how to find its answer, and what each answer would mean.

    Parameters
    ----------
    id : of the observation
    minutes : what answering takes
    gain : what it is expected to tell [bit]
    """

    id: str
    words: str
    how: str
    minutes: float
    gain: float
    meanings: tuple[Meaning, ...]


def next_question(
    answers: Sequence[Answer], priors: Mapping[str, float] | None = None, passed: Sequence[str] = ()
) -> Question | None:
    """The question that tells most for the minutes of answering it; None where none would tell enough.

    Parameters
    ----------
    answers, priors : as for `next_check`
    passed : ids of questions that were passed by
    """
    table = bead_table()
    latest = tuple({answer.observation: answer for answer in answers}.values())
    case = Case(gate="any", answers=latest, priors=priors or None)
    found = next(((seen, gain) for seen, gain in next_questions(table, case, passed) if gain >= LEAST_GAIN), None)
    if found is None:
        return None
    seen, gain = found
    return Question(
        id=seen.id,
        words=seen.question,
        how=seen.how,
        minutes=seen.minutes,
        gain=gain,
        meanings=tuple(meaning(one) for one in outcomes(table, case, seen)),
    )


def meaning(outcome: Outcome) -> Meaning:
    """An outcome in words: the causes that would come first after it."""
    first = list(outcome.after.items())[:FIRST]
    told = ", then ".join(f"{bead_table().cause(name).label} ({chance:.2f})" for name, chance in first)
    return Meaning(state=outcome.state, chance=outcome.chance, words=told)


def meanings_of(test: NextTest) -> tuple[Meaning, ...]:
    """What each result of a check would mean."""
    return tuple(meaning(one) for one in test.outcomes)
