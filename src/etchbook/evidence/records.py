"""What the weighing of causes is made of: a table of what is known, and what was seen of the case at hand."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar


class EvidenceError(ValueError):
    """Evidence that cannot be weighed; its text is one plain sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cause:
    """One named explanation.

    Parameters
    ----------
    id, label : machine name, name for people
    means : what it is, in a sentence
    remedy : what is done about it; causes with the same remedy need not be told apart ("" for its own)
    source, status : where the description stands, and how it is known
    """

    id: str
    label: str
    means: str = ""
    remedy: str = ""
    source: str = ""
    status: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class LikelihoodRatio:
    """How much one seen thing speaks for each cause.

    Parameters
    ----------
    ratios : by cause id, how many times likelier it is under that cause than where it tells nothing; 1 where missing
    row : number of the row in its source, "" where there is none
    source, status : where the figure stands, and how it is known
    """

    ratios: Mapping[str, float]
    row: str = ""
    source: str = ""
    status: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class State:
    """One answer to an observation, with what it speaks for.

    Parameters
    ----------
    base : its chance under a cause to which it is neutral; 1 where the ratios are chances themselves
    """

    id: str
    label: str
    weighs: LikelihoodRatio
    base: float = 0.1


@dataclass(frozen=True, kw_only=True, slots=True)
class Observation:
    """Something that can be seen, with its possible answers.

    Parameters
    ----------
    id, label : machine name, name for people
    group : observations of one group are correlated: the strongest counts in full, the others by the group's share
    states : the answers that tell something; any other answer is neutral
    question : how a person is asked; "" where the program alone fills it in
    how : how to look, in a sentence
    minutes : what answering takes, where no test has to be made for it [min]
    """

    id: str
    label: str
    group: str
    states: tuple[State, ...]
    question: str = ""
    how: str = ""
    minutes: float = 1.0

    def state(self, name: str) -> State | None:
        """The state of that name, or None."""
        return next((state for state in self.states if state.id == name), None)


@dataclass(frozen=True, kw_only=True, slots=True)
class Group:
    """Observations that speak of one and the same thing; `share` is what all but the strongest count.

    The discount works cause by cause on ratios that are 1 where nothing is told; observations whose ratios are
    chances themselves belong in groups of their own.
    """

    id: str
    label: str
    share: float = 0.5


@dataclass(frozen=True, kw_only=True, slots=True)
class Gate:
    """Which causes can be at all in a place (or context), with their chance before anything was seen."""

    id: str
    label: str
    priors: Mapping[str, float]
    source: str = ""
    status: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Context:
    """Something known beforehand that multiplies priors: how the steel was made, a faying surface at that spot.

    Parameters
    ----------
    observation, state : the answer that brings it in
    times : factor by cause id, 1 where missing
    gates : where it holds; everywhere where empty
    """

    observation: str
    state: str
    label: str
    times: Mapping[str, float]
    gates: tuple[str, ...] = ()
    source: str = ""
    status: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cap:
    """No better word than `word` for a cause until one of the observations was answered with one of its states."""

    cause: str
    word: str
    until: Mapping[str, tuple[str, ...]]
    reason: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Test:
    """Something that can be done to learn more.

    Parameters
    ----------
    answers : observations that it answers
    minutes : working time [min]
    cost : what else it costs, as minutes of work [min]
    destroys : whether the piece, or its present state, is gone afterwards
    tells : what it tells, in a sentence
    needs : what must be there for it, as observation id -> state; none for nothing
    """

    id: str
    label: str
    answers: tuple[str, ...]
    minutes: float
    cost: float = 0.0
    destroys: bool = False
    tells: str = ""
    how: str = ""
    needs: Mapping[str, str] = field(default_factory=dict)
    source: str = ""
    status: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """Everything that is known beforehand: causes, what can be seen, gates, contexts, caps, tests."""

    id: str
    title: str
    causes: tuple[Cause, ...]
    groups: tuple[Group, ...]
    observations: tuple[Observation, ...]
    gates: tuple[Gate, ...]
    contexts: tuple[Context, ...] = ()
    caps: tuple[Cap, ...] = ()
    tests: tuple[Test, ...] = ()
    notes: tuple[str, ...] = ()

    def cause(self, name: str) -> Cause:
        """The cause of that id."""
        return _named(self.causes, name, "cause")

    def observation(self, name: str) -> Observation:
        """The observation of that id."""
        return _named(self.observations, name, "observation")

    def gate(self, name: str) -> Gate:
        """The gate of that id."""
        return _named(self.gates, name, "place")


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """One thing that was seen: which state of which observation, and who says so.

    Parameters
    ----------
    by : who says so: "the picture", a person's name or code
    words : how it was put, or the figure behind it
    """

    observation: str
    state: str
    by: str = ""
    words: str = ""


Named = TypeVar("Named", Cause, Observation, Gate)


def _named(rows: tuple[Named, ...], name: str, what: str) -> Named:
    for row in rows:
        if row.id == name:
            return row
    raise EvidenceError(f'"{name}" is no {what} of this table: use one of {", ".join(row.id for row in rows)}')
