"""A reading: its dimensions, held against limits, its indications, its report."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from starlette.datastructures import FormData

from etchbook.acceptance.records import Judgement, Verdict
from etchbook.quantity import Absent, spoken
from etchbook.tables import limit_sets
from etchbook.terms import DIMENSIONS
from etchbook.trials import parent_code
from etchbook.usecases import RefusedError
from etchbook.usecases.explained import explanation_lines, piece_words, shown_verdicts, test_words
from etchbook.usecases.explaining import CAUTION, check_answer
from etchbook.usecases.judging import judge, limits_for
from etchbook.usecases.keeping.readings import answer, keep_judgement
from etchbook.web.bench import get_book, hand_of, page
from etchbook.web.pages.home import to
from etchbook.web.pages.opening import trail_of
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import benchviews
from etchbook.wiring.desk import FilesDesk

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
Short = Annotated[str, Query(max_length=60)]
ORDER = (Verdict.NOT_MET, Verdict.TOO_CLOSE, Verdict.ONLY_IF_SHORT, Verdict.MET, Verdict.NOT_READABLE)
SHEET = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; frame-ancestors 'self'; sandbox"


def named_limits(against: str) -> str:
    """The packaged set of limits of that name; a person's own file is never opened by a web address."""
    found = [name for name in limit_sets() if name.lower() == against.strip().lower()]
    if not found:
        raise RefusedError(f'"{against}" is no set of limits: use one of {", ".join(limit_sets())}')
    return found[0]


@router.get("/reading/{code}")
def reading(request: Request, code: str, against: Short = "", edition: Annotated[int, Query(ge=0)] = 0) -> HTMLResponse:
    """A reading with everything that belongs to it."""
    store = get_book(request)
    record, number, whole = benchviews.reading_in(store, code, edition)
    judged = judge(whole, limits_for(named_limits(against), FilesDesk())) if against else None
    return page(
        request,
        "reading.html",
        code=record.code,
        record=record,
        edition=number,
        editions=store.editions(record.code),
        whole=whole,
        rows=[_row(name, value) for name, value in whole.dimensions.items()],
        sets=limit_sets(),
        against=against,
        findings=_findings(judged),
        judged=judged,
        explained=benchviews.explained(store, record.code) if number == store.editions(record.code)[-1].edition else (),
        caution=CAUTION,
        shown_verdicts=shown_verdicts,
        piece_words=piece_words,
        test_words=test_words,
        lines=explanation_lines,
        trail_of=trail_of,
        kept=store.below(record.code, "judgement"),
    )


def _row(name: str, value: Any) -> dict[str, str]:
    term = DIMENSIONS.get(name)
    absent = isinstance(value, Absent)
    return {
        "label": term.label if term else name,
        "symbol": term.symbol if term else "",
        "means": term.definition if term else "",
        "value": "" if absent else spoken(value),
        "absent": value.reason if absent else "",
    }


def _findings(judged: Judgement | None) -> list[tuple[str, list[dict[str, Any]]]]:
    if judged is None:
        return []
    groups = [(verdict, [one for one in judged.findings if one.verdict == verdict]) for verdict in ORDER]
    return [(str(verdict), [_finding(one) for one in found]) for verdict, found in groups if found]


def _finding(one: Any) -> dict[str, Any]:
    term = DIMENSIONS.get(one.dimension)
    return {
        "verdict": str(one.verdict),
        "title": f"{one.limit.number} {one.limit.title}".strip(),
        "dimension": term.label if term else "",
        "value": one.value.reason if isinstance(one.value, Absent) else spoken(one.value),
        "axis": Markup(benchviews.axis(one)),  # drawn by us; its words are escaped where it is drawn
        "formula": one.formula,
        "words": one.words,
        "source": f"{one.limit.source} {one.limit.edition}, {one.limit.clause} ({one.limit.status})",
    }


@router.post("/reading/{code}/judge")
def keep(request: Request, code: str, form: Form) -> RedirectResponse:
    """Keep a judgement in the book."""
    store, against = get_book(request), named_limits(word(form, "against"))
    record, edition, whole = benchviews.reading_in(store, code)
    if word(form, "edition") not in ("", str(edition)):
        raise RefusedError(f"{code} was read again meanwhile (edition {edition}): look at it before you keep this")
    judged = judge(whole, limits_for(against, FilesDesk()))
    keep_judgement(store, hand_of(request), record.code, judged, against=against, edition=edition)
    return to(f"/reading/{record.code}?against={against}")


@router.post("/indication/{code}/answer")
def told(request: Request, code: str, form: Form) -> RedirectResponse:
    """Keep an answer about an indication."""
    from etchbook.evidence import Answer

    check, state = word(form, "check"), word(form, "state")
    check_answer(Answer(observation=check, state=state, by="you"))
    made = answer(get_book(request), hand_of(request), code, check, state)
    return to(f"/reading/{parent_code(made.code)}#{made.code}")


@router.get("/reading/{code}/overlay.png")
def overlay(request: Request, code: str) -> Response:
    """The picture with its outline and measured lines."""
    return Response(benchviews.overlay(get_book(request), code), media_type="image/png")


@router.get("/reading/{code}/crop/{number}.svg")
def crop(request: Request, code: str, number: int) -> Response:
    """An indication, cut out of the picture."""
    _, _, whole = benchviews.reading_in(get_book(request), code)
    if not 0 < number <= len(whole.indications):
        raise RefusedError(f"{code} has {len(whole.indications)} indications, not {number}")
    return Response(benchviews.crop(get_book(request), code, number), media_type="image/svg+xml",
                    headers={"content-security-policy": SHEET})  # fmt: skip


@router.get("/reading/{code}/report.{kind}")
def report(request: Request, code: str, kind: str, against: Short = "") -> Response:
    """The report as a PDF, or as a page to look at first."""
    if kind not in ("pdf", "html"):
        raise RefusedError("a report is pdf or html")
    store = get_book(request)
    _, _, whole = benchviews.reading_in(store, code)
    judged = judge(whole, limits_for(named_limits(against), FilesDesk())) if against else None
    data = benchviews.report_page(store, code, kind, judged)
    if kind == "pdf":
        return Response(data, media_type="application/pdf")
    # The report carries its styles within itself; it is shown in a frame that may run nothing.
    return Response(data, media_type="text/html; charset=utf-8", headers={"content-security-policy": SHEET})


@router.get("/reading/{code}/report")
def preview(request: Request, code: str, against: Short = "") -> HTMLResponse:
    """The report, to be looked at before it is printed."""
    record, _, _ = benchviews.reading_in(get_book(request), code)
    return page(request, "report.html", code=record.code, against=named_limits(against) if against else "",
                sets=limit_sets(), trail_of=trail_of)  # fmt: skip
