"""Readings as JSON: told, judged, corrected, asked about, printed."""

from typing import Annotated, Any

from fastapi import Path, Query, Request, Response

from etchbook.evidence import Answer
from etchbook.usecases import RefusedError
from etchbook.usecases.explained import test_words
from etchbook.usecases.explaining import Explanation, check_answer
from etchbook.usecases.keeping.looking import lookup
from etchbook.usecases.keeping.readings import answer, keep_judgement
from etchbook.web.api.shapes import AnswerGiven, CorrectionGiven, DecisionGiven, JudgementGiven
from etchbook.web.api.told import (
    BesideTold,
    DraftTold,
    IndicationsTold,
    IndicationTold,
    JudgementTold,
    Kept,
    Met,
    QuestionTold,
    ReadingTold,
    Thing,
)
from etchbook.web.api.verbs import MOST, After, IndicationCode, Limit, ReadingCode, sliced, thing_of, verbs
from etchbook.web.bench import get_bench, get_book, hand_of
from etchbook.web.pages.readings import judged_by
from etchbook.wiring import benchpicture, benchviews
from etchbook.wiring.meeting import decide, meeting_of
from etchbook.wiring.ownlimits import known_as

router = verbs("readings")
Against = Annotated[
    str, Query(max_length=60, description="A name out of /api/limits, also own:...", examples=["iso-5817:B"])
]
DraftName = Annotated[str, Path(max_length=60, examples=["Zk2hW1x3vQm0"])]
MET: dict[int | str, dict[str, Any]] = {409: {"model": Met, "description": "somebody saved another edition meanwhile"}}
PDF: dict[int | str, dict[str, Any]] = {200: {"content": {"application/pdf": {"example": "%PDF-1.7 ..."}}}}


@router.get("/readings/{code}", response_model_exclude_unset=True)
def get_reading(
    request: Request, code: ReadingCode, edition: Annotated[int, Query(ge=0, le=MOST, examples=[0])] = 0
) -> ReadingTold:
    """A reading whole: outline, dimensions with u, indications, doubts."""
    return ReadingTold.model_validate(benchviews.plain_reading(get_book(request), code, edition))


@router.get("/readings/{code}/judgement")
def judge_reading(request: Request, code: ReadingCode, against: Against) -> JudgementTold:
    """A reading held against limits; nothing is kept by it."""
    _, _, whole = benchviews.reading_in(get_book(request), code)
    judged = judged_by(request, whole, against)
    return JudgementTold.model_validate(benchviews.plain_judgement(whole, judged))


@router.post("/readings/{code}/judgements", status_code=201)
def keep_a_judgement(request: Request, code: ReadingCode, given: JudgementGiven) -> Thing:
    """Judge a reading and keep that in the book; another edition than the one looked at is refused."""
    store, against = get_book(request), known_as(given.against)
    record, newest, whole = benchviews.reading_in(store, code)
    if newest != given.edition:
        raise RefusedError(
            f"{record.code} was read again meanwhile (edition {newest}): look at it before you keep this"
        )
    judged = judged_by(request, whole, against)
    made = keep_judgement(store, hand_of(request), record.code, judged, against=against, edition=newest)
    return thing_of(lookup(store, made.code))


@router.post("/readings/{code}/corrections", status_code=201, responses=MET)
def correct_reading(request: Request, code: ReadingCode, given: CorrectionGiven) -> Kept:
    """Read the picture with these marks and keep that as the next edition; the editions before stay."""
    store = get_book(request)
    record, _, _ = benchviews.reading_in(store, code)
    made = benchpicture.save(store, hand_of(request), record.code, given.marks, given.scale, given.edition)
    return Kept(code=record.code, edition=made)


@router.get("/drafts/{name}")
def get_draft(request: Request, name: DraftName) -> DraftTold:
    """A draft that met another edition, both side by side."""
    met = meeting_of(get_book(request), get_bench(request).drafts.get(name))
    rows = [
        BesideTold(id=one.id, label=one.label, before=one.before, theirs=one.theirs, yours=one.yours, both=one.both)
        for one in met.rows
    ]
    return DraftTold(draft=name, code=met.draft.code, seen=met.draft.seen, newest=met.newest,
                     both_moved=list(met.both_moved), rows=rows)  # fmt: skip


@router.post("/drafts/{name}/decision")
def decide_draft(request: Request, name: DraftName, given: DecisionGiven) -> Kept:
    """Keep yours, both laid together, or theirs."""
    drafts = get_bench(request).drafts
    draft = drafts.get(name)
    edition = decide(get_book(request), hand_of(request), drafts, draft, given.choice, given.edition)
    return Kept(code=draft.code, edition=edition)


@router.get("/readings/{code}/indications")
def list_indications(request: Request, code: ReadingCode, limit: Limit = 50, after: After = "") -> IndicationsTold:
    """Indications of a reading in words, each with its next question and test, a page at a time."""
    store = get_book(request)
    record, _, _ = benchviews.reading_in(store, code)
    every = [
        _indication(f"{record.code}-X{number}", one)
        for number, one in enumerate(benchviews.explained(store, record.code), start=1)
    ]
    shown, next_one = sliced(every, limit, after, lambda one: one.code)
    return IndicationsTold(items=list(shown), next=next_one)


def _indication(code: str, one: Explanation) -> IndicationTold:
    asked = one.ask_next()
    question = asked and QuestionTold(
        check=asked.id, question=asked.question, states={state.id: state.label for state in asked.states}
    )
    test = "" if one.stop or not one.tests else test_words(one.tests[0])
    return IndicationTold(code=code, sentence=one.weighed.sentence, question=question or None, test=test)


@router.post("/indications/{code}/answers", status_code=201)
def answer_about(request: Request, code: IndicationCode, given: AnswerGiven) -> Thing:
    """Keep what somebody found out about an indication."""
    check_answer(Answer(observation=given.check, state=given.state, by="you"))
    made = answer(get_book(request), hand_of(request), code, given.check, given.state)
    return thing_of(lookup(get_book(request), made.code))


@router.get("/readings/{code}/report.pdf", response_class=Response, responses=PDF)
def print_reading(request: Request, code: ReadingCode, against: Against = "") -> Response:
    """The report of a reading as PDF."""
    store = get_book(request)
    _, _, whole = benchviews.reading_in(store, code)
    judged = judged_by(request, whole, against) if against else None
    return Response(benchviews.report_page(store, code, "pdf", judged), media_type="application/pdf")
