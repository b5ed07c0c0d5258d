"""What to do next: the expected gain of a test in bits for its effort in minutes, and the order of a search."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from etchbook.evidence.records import Answer, EvidenceError, Observation, Table, Test
from etchbook.evidence.weighing import Case, log_weights, posterior
from etchbook.evidence.wording import capped, word_for

LEAST_GAIN = 0.02
"""Tests that would tell less than this [bit] are not worth naming first."""
LOST_PIECE = 3.0
"""How many times its effort a test counts that destroys the piece."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """One result that a look can have.

    Parameters
    ----------
    observation, state : what it would be
    chance : of this result, as things stand
    after : chance of each cause once it was seen, the likeliest first
    bits : what it would tell [bit]
    """

    observation: str
    state: str
    chance: float
    after: Mapping[str, float]
    bits: float


@dataclass(frozen=True, kw_only=True, slots=True)
class NextTest:
    """A test with what it promises.

    Parameters
    ----------
    gain : expected gain [bit], by its most telling observation
    effort : minutes of work, its cost counted in, three times that where the piece is lost [min]
    outcomes : what each result would change
    """

    test: Test
    gain: float
    effort: float
    outcomes: tuple[Outcome, ...]

    @property
    def rate(self) -> float:
        """Bits per minute of effort."""
        return self.gain / self.effort


def chances(table: Table, case: Case, observation: Observation) -> dict[str, dict[str, float]]:
    """Chance of each state under each cause, correlation with what was seen already counted in.

    A state is taken to be seen with its `base` chance where it tells nothing, and as many
    times likelier or rarer as its likelihood ratio says; what is left is a look that tells nothing.

    Returns
    -------
    dict
        state id -> cause id -> chance
    """
    before = log_weights(table, case)
    bases = {state.id: state.base for state in observation.states}
    raw = {state.id: _lift(table, case, observation.id, state.id, before) for state in observation.states}
    told: dict[str, dict[str, float]] = {state: {} for state in raw}
    for cause in before:
        each = {state: bases[state] * lifts[cause] for state, lifts in raw.items()}
        over = max(sum(each.values()), 1.0)
        for state, chance in each.items():
            told[state][cause] = chance / over
    return told


def outcomes(table: Table, case: Case, observation: Observation) -> tuple[Outcome, ...]:
    """Every result that a look can have, the likeliest first, with what it would change."""
    now = posterior(table, case)
    found = []
    for state, by_cause in chances(table, case, observation).items():
        chance = sum(now[cause] * by_cause[cause] for cause in now)
        joined = {cause: now[cause] * by_cause[cause] / chance for cause in now} if chance > 0 else now
        seen = replace(case, answers=(*case.answers, Answer(observation=observation.id, state=state)))
        found.append(
            Outcome(
                observation=observation.id,
                state=state,
                chance=chance,
                after=posterior(table, seen),
                bits=_divergence(joined, now),
            )
        )
    return tuple(sorted(found, key=lambda outcome: -outcome.chance))


def expected_gain(found: Sequence[Outcome]) -> float:
    """Expected gain of a look [bit]; a look that tells nothing adds none.

    Source: expected information of an experiment (mutual information of result and cause).
    """
    return sum(outcome.chance * outcome.bits for outcome in found)


def next_tests(table: Table, case: Case) -> tuple[NextTest, ...]:
    """The tests that still tell something, the best next one first.

    First those that would free a word that is held back, then the most bits per minute; those that destroy the
    piece come last.
    """
    answered = {answer.observation for answer in case.answers if _tells(table, answer)}
    open_tests = [test for test in table.tests if set(test.answers) - answered and _can(test, case.answers)]
    planned = [_planned(table, case, test, answered) for test in open_tests]
    freeing = _freeing(table, case)
    worth = [item for item in planned if item.gain >= LEAST_GAIN or freeing & set(item.test.answers)]
    return tuple(sorted(worth, key=lambda item: (item.test.destroys, not freeing & set(item.test.answers), -item.rate)))


def next_questions(table: Table, case: Case, asked: Sequence[str] = ()) -> tuple[tuple[Observation, float], ...]:
    """Questions not yet answered, the most bits per minute of answering first, each with its gain [bit].

    A person may know an answer already, so the effort of a test behind it is not counted here.

    Parameters
    ----------
    asked : ids of questions not to be asked again
    """
    done = {answer.observation for answer in case.answers} | set(asked)
    free = [seen for seen in table.observations if seen.question and seen.id not in done]
    rated = [(seen, expected_gain(outcomes(table, case, seen))) for seen in free]
    return tuple(sorted(rated, key=lambda pair: -pair[1] / pair[0].minutes))


def effort(test: Test) -> float:
    """Minutes of work of a test, its cost counted in, three times that where the piece is lost [min]."""
    plain = test.minutes + test.cost
    if plain <= 0:
        raise EvidenceError(f"the test {test.id} needs minutes or a cost above 0")
    return plain * (LOST_PIECE if test.destroys else 1.0)


def search_order(chance: Mapping[str, float], detects: Mapping[str, float], minutes: Mapping[str, float]) -> list[str]:
    """Order in which to look for one fault so that it is found in the fewest minutes: chance x detection / minutes.

    Parameters
    ----------
    chance : of each cause
    detects : chance that its check finds it when it is there
    minutes : what the check takes [min]

    Source: exchange argument for single-fault search; see research note 5a.
    """
    return sorted(detects, key=lambda name: -chance.get(name, 0.0) * detects[name] / minutes[name])


def after_negative(chance: Mapping[str, float], cause: str, detects: float) -> dict[str, float]:
    """Chance of each cause after a check for one of them found nothing.

    Parameters
    ----------
    detects : chance that the check would have found it
    """
    left = 1 - chance[cause] * detects
    return {name: held * ((1 - detects) if name == cause else 1.0) / left for name, held in chance.items()}


def _planned(table: Table, case: Case, test: Test, answered: set[str]) -> NextTest:
    # The most telling observation alone: those of one test are too much alike to be added up.
    looks = [outcomes(table, case, table.observation(name)) for name in test.answers if name not in answered]
    best = max(looks, key=expected_gain)
    return NextTest(test=test, gain=expected_gain(best), effort=effort(test), outcomes=best)


def _freeing(table: Table, case: Case) -> set[str]:
    """Observations that would free the word on the likeliest cause, where it is held back."""
    first, chance = next(iter(posterior(table, case).items()))
    if not capped(table, first, word_for(chance), case.answers)[1]:
        return set()
    return {name for cap in table.caps if cap.cause == first for name in cap.until}


def _can(test: Test, answers: Sequence[Answer]) -> bool:
    said = {answer.observation: answer.state for answer in answers}
    return all(said.get(name, state) == state for name, state in test.needs.items())


def _tells(table: Table, answer: Answer) -> bool:
    return table.observation(answer.observation).state(answer.state) is not None


def _lift(table: Table, case: Case, observation: str, state: str, before: Mapping[str, float]) -> dict[str, float]:
    """How many times likelier this answer makes each cause beside the others."""
    seen = replace(case, answers=(*case.answers, Answer(observation=observation, state=state)))
    after = log_weights(table, seen)
    return {cause: math.exp(after[cause] - before[cause]) for cause in before}


def _divergence(after: Mapping[str, float], before: Mapping[str, float]) -> float:
    return sum(chance * math.log2(chance / before[cause]) for cause, chance in after.items() if chance > 0)
