"""Why a bead came out different, and which check comes next, as JSON."""

from typing import Annotated

from fastapi import Request
from pydantic import BaseModel, Field

from etchbook.evidence import Answer, NextTest, Verdict
from etchbook.trials.causes import bead_table
from etchbook.usecases.explained import piece_words
from etchbook.usecases.next_check import NextCheck, next_check
from etchbook.usecases.next_question import Meaning, Question, meanings_of, next_question
from etchbook.web.api.compareshapes import Code
from etchbook.web.api.quantities import finite
from etchbook.web.api.shapes import Given, shown
from etchbook.web.api.verbs import After, Limit, sliced, verbs
from etchbook.web.bench import get_book
from etchbook.web.pages.next_check import differing

router = verbs("trials")
Name = Annotated[str, Field(max_length=60)]
MEANING = {"state": "yes", "chance": 0.3, "words": "stick-out (0.60), then travel speed by hand (0.10)"}
QUESTION = {"id": "stick_out_differs", "words": "Was the stick-out different?", "how": "From the log.", "minutes": 1.0,
            "bits": 0.4, "meanings": [MEANING]}  # fmt: skip
CAUSE = {"id": "stick_out", "label": "stick-out", "word": "possible", "chance": 0.42, "prior": 0.14, "low": 0.26,
         "high": 0.59, "remedy": "set it with a jig", "evidence": ["amps differ (you); 3 times likelier"]}  # fmt: skip
TEST = {"id": "log", "label": "read the log", "minutes": 2.0, "bits": 0.4, "destroys": False, "tells": "what moved",
        "outcomes": [MEANING]}  # fmt: skip
SEEN = {"id": "amps_differ", "question": "Do the logged amps differ by more than 5 %?", "how": "Compare both beads.",
        "states": ["yes", "no"]}  # fmt: skip


class NextCheckAsked(Given):
    """Usual and odd beads by code, where there are any; answers by observation; what was passed by; own priors."""

    model_config = shown(usual=["N1-01", "N1-02"], odd=["N1-03"], answers={"amps_differ": "yes"}, passed=[],
                         priors={"stick_out": 0.3})  # fmt: skip
    usual: list[Code] = Field(default_factory=list, max_length=200)
    odd: list[Code] = Field(default_factory=list, max_length=200)
    answers: dict[Name, Name] = Field(default_factory=dict, max_length=100)
    passed: list[Name] = Field(default_factory=list, max_length=100)
    priors: dict[Name, Annotated[float, Field(allow_inf_nan=False)]] = Field(default_factory=dict, max_length=100)


class MeaningTold(BaseModel):
    """What one result would change."""

    state: str
    chance: float
    words: str


class QuestionAsked(BaseModel):
    """The question that tells most for its minutes; its `id` goes into `answers`, or into `passed`."""

    id: str
    words: str
    how: str
    minutes: float
    bits: float
    meanings: list[MeaningTold]


class CauseTold(BaseModel):
    """A cause with its chance before and after, and what counted."""

    id: str
    label: str
    word: str
    chance: float
    prior: float
    low: float
    high: float
    remedy: str
    evidence: list[str]


class CheckTold(BaseModel):
    """A check that tells something, and what each result would mean."""

    id: str
    label: str
    minutes: float
    bits: float
    destroys: bool
    tells: str
    outcomes: list[MeaningTold]


class IsolatingTold(BaseModel):
    """An isolating check; `rate` is chance × detection over minutes."""

    cause: str
    how: str
    minutes: float
    rate: float | None


class NextCheckTold(BaseModel):
    """The sentence first; the next question, null where none is worth its time; causes and checks; when to stop."""

    model_config = shown(sentence="possible: stick-out", differ=["Convexity: a difference is shown."],
                         known={"amps_differ": "yes"}, question=QUESTION, causes=[CAUSE], tests=[TEST], order=[],
                         stop="", not_worth_it=[], rules=["Priors are common practice, judged."])  # fmt: skip
    sentence: str
    differ: list[str]
    known: dict[str, str]
    question: QuestionAsked | None
    causes: list[CauseTold]
    tests: list[CheckTold]
    order: list[IsolatingTold]
    stop: str
    not_worth_it: list[str]
    rules: list[str]


class ObservationTold(BaseModel):
    """Something that can be looked for; `id` and a state go into `answers`."""

    model_config = shown(**SEEN)
    id: str
    question: str
    how: str
    states: list[str]


class ObservationsTold(BaseModel):
    """A page of observations; `next` goes into `after`, "" at the end."""

    model_config = shown(items=[SEEN], next="")
    items: list[ObservationTold]
    next: str


@router.post("/next-check")
def ask_next_check(request: Request, given: NextCheckAsked) -> NextCheckTold:
    """What most likely made a bead come out different, the next question about it, and which check comes next."""
    known, differ = differing(get_book(request), given.usual, given.odd)
    known += tuple(Answer(observation=name, state=state, by="you") for name, state in given.answers.items())
    found = next_check(known, given.priors)
    return _told(found, differ, next_question(known, given.priors, given.passed))


def _told(found: NextCheck, differ: list[str], question: Question | None) -> NextCheckTold:
    return NextCheckTold(
        sentence=found.weighed.sentence,
        differ=differ,
        known={one.observation: one.state for one in found.weighed.case.answers},
        question=None if question is None else _question(question),
        causes=[_cause(found, one) for one in found.weighed.verdicts],
        tests=[_test(one) for one in found.tests],
        order=[IsolatingTold(cause=one.cause, how=one.how, minutes=one.minutes, rate=finite(one.rate))
               for one in found.order],
        stop=found.stop,
        not_worth_it=list(found.idle),
        rules=list(found.table.notes),
    )  # fmt: skip


def _question(one: Question) -> QuestionAsked:
    return QuestionAsked(id=one.id, words=one.words, how=one.how, minutes=one.minutes, bits=one.gain,
                         meanings=[_meaning(each) for each in one.meanings])  # fmt: skip


def _meaning(one: Meaning) -> MeaningTold:
    return MeaningTold(state=one.state, chance=one.chance, words=one.words)


def _cause(found: NextCheck, one: Verdict) -> CauseTold:
    return CauseTold(id=one.cause.id, label=one.cause.label, word=one.word, chance=one.chance, prior=one.prior,
                     low=one.low, high=one.high, remedy=one.cause.remedy,
                     evidence=[piece_words(found.table, each) for each in one.evidence])  # fmt: skip


def _test(one: NextTest) -> CheckTold:
    return CheckTold(id=one.test.id, label=one.test.label, minutes=one.effort, bits=one.gain,
                     destroys=one.test.destroys, tells=one.test.tells,
                     outcomes=[_meaning(each) for each in meanings_of(one)])  # fmt: skip


@router.get("/next-check/observations")
def list_observations(limit: Limit = 50, after: After = "") -> ObservationsTold:
    """What can be looked for, with how, a page at a time."""
    shown_now, next_one = sliced(bead_table().observations, limit, after, lambda one: one.id)
    items = [ObservationTold(id=one.id, question=one.question or one.label, how=one.how,
                             states=list(dict.fromkeys(["yes", "no", *(state.id for state in one.states)])))
             for one in shown_now]  # fmt: skip
    return ObservationsTold(items=items, next=next_one)
