"""Indications of a reading: where each lies, what it looks like, what most likely made it, and what to ask next."""

from collections.abc import Sequence
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, Response
from starlette.datastructures import FormData

from etchbook.evidence import Answer
from etchbook.quantity import Absent, spoken
from etchbook.section import Indication
from etchbook.trials import parent_code
from etchbook.trials.records import IndicationEntry
from etchbook.usecases import RefusedError
from etchbook.usecases.explained import explanation_lines, piece_words, result_words, shown_verdicts, test_words
from etchbook.usecases.explaining import Explanation, check_answer
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.readings import answer
from etchbook.web.bench import get_book, hand_of, in_place, page
from etchbook.web.pages.home import to
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import benchviews

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
Passed = Annotated[str, Query(max_length=1000)]
SHEET = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'; sandbox"
MOST_PIECES = 4
FIELDS = (("length", "long"), ("width", "wide"), ("angle_to_surface", "to the surface"), ("roundness", "round"))


def told_of(request: Request, code: str, passed: str = "") -> list[dict[str, Any]]:
    """Every indication of a reading as the page tells it.

    Parameters
    ----------
    passed : ids of questions that nobody here can answer, parted by commas
    """
    store = get_book(request)
    _, _, whole = benchviews.reading_in(store, code)
    skipped = tuple(one for one in passed.split(",") if one)
    items = benchviews.explained(store, code, skipped)
    return [_told(code, place, found, item, skipped)
            for place, (found, item) in enumerate(zip(whole.indications, items, strict=True), start=1)]  # fmt: skip


def _told(code: str, place: int, found: Indication, item: Explanation, skipped: Sequence[str]) -> dict[str, Any]:
    shown = shown_verdicts(item)
    question = None if item.stop else item.ask_next(skipped)
    return {
        "own": f"{code}-X{place}",
        "reading": code,
        "number": place,
        "name": item.indication,
        "verdict": item.weighed.sentence,
        "where": item.place,
        "figures": [(words, spoken(value)) for name, words in FIELDS
                    if not isinstance(value := getattr(found, name), Absent)],
        "line": found.kind != "blob",
        "causes": [_cause(item, one) for one in shown if one.evidence_for or one.evidence_against],
        "bare": [one.cause.label for one in shown if not (one.evidence_for or one.evidence_against)],
        "question": question,
        "passed": ",".join([*skipped, question.id]) if question else "",
        "stop": item.stop,
        "tests": [(test_words(one), list(result_words(item.table, one))) for one in item.tests[:3]],
        "lines": [line.strip() for line in explanation_lines(item)],
    }  # fmt: skip


def _cause(item: Explanation, one: Any) -> dict[str, Any]:
    return {
        "word": one.word,
        "label": one.cause.label,
        "pro": [piece_words(item.table, piece) for piece in one.evidence_for[:MOST_PIECES]],
        "contra": [piece_words(item.table, piece) for piece in one.evidence_against[:MOST_PIECES]],
    }


def _one(request: Request, code: str, passed: str = "") -> HTMLResponse:
    """An indication alone, to be put in place of what stood there."""
    reading, number = parent_code(code), int(code.rpartition("-X")[2])
    return page(request, "indication.html", item=told_of(request, reading, passed)[number - 1])


@router.get("/indication/{code}", response_model=None)
def look(request: Request, code: str, passed: Passed = "") -> Response:
    """An indication with its next question, passing by those that nobody can answer."""
    entry, _ = held(get_book(request), code, IndicationEntry)
    if in_place(request):
        return _one(request, entry.code, passed)
    return to(f"/reading/{parent_code(entry.code)}?passed={passed}#{entry.code}")


@router.post("/indication/{code}/answer", response_model=None)
def told(request: Request, code: str, form: Form) -> Response:
    """Keep an answer about an indication; the next question comes."""
    check, state = word(form, "check"), word(form, "state")
    check_answer(Answer(observation=check, state=state, by="you"))
    made = answer(get_book(request), hand_of(request), code, check, state)
    if in_place(request):
        return _one(request, made.code)
    return to(f"/reading/{parent_code(made.code)}#{made.code}")


def _indication_named(request: Request, code: str, number: int) -> None:
    _, _, whole = benchviews.reading_in(get_book(request), code)
    if not 0 < number <= len(whole.indications):
        raise RefusedError(f"{code} has {len(whole.indications)} indications, not {number}")


@router.get("/reading/{code}/crop/{number}.svg")
def crop(request: Request, code: str, number: int) -> Response:
    """An indication, cut out of the picture."""
    _indication_named(request, code, number)
    return _drawing(benchviews.crop(get_book(request), code, number))


@router.get("/reading/{code}/profile/{number}.svg")
def profile(request: Request, code: str, number: int) -> Response:
    """How grey the picture is across an indication."""
    _indication_named(request, code, number)
    return _drawing(benchviews.profile(get_book(request), code, number) or NO_PROFILE)


def _drawing(data: bytes) -> Response:
    # The drawing carries its own styles; it is shown as a picture, which may run and fetch nothing.
    return Response(data, media_type="image/svg+xml", headers={"content-security-policy": SHEET})


NO_PROFILE = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 40"><text x="8" y="25" font-size="14" '
    b'fill="#777">It is too short for a profile across it.</text></svg>'
)
