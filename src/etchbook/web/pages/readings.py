"""A reading: its dimensions, held against limits, its indications, its report."""

from collections.abc import Sequence
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup
from starlette.datastructures import FormData

from etchbook.acceptance.records import Judgement, Verdict
from etchbook.quantity import Absent, spoken
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS
from etchbook.trials.records import JudgementEntry
from etchbook.usecases import RefusedError
from etchbook.usecases.explaining import CAUTION
from etchbook.usecases.judging import judge
from etchbook.usecases.keeping.ports import Entry
from etchbook.usecases.keeping.readings import keep_judgement
from etchbook.web.again import stays_on, tried
from etchbook.web.bench import get_bench, get_book, hand_of, page
from etchbook.web.pages.home import to
from etchbook.web.pages.indications import SHEET, told_of
from etchbook.web.pages.limits import choices_of
from etchbook.web.pages.opening import trail_of
from etchbook.web.safety import form_of
from etchbook.web.safety.forms import word
from etchbook.wiring import benchviews, ownlimits

router = APIRouter(include_in_schema=False)
Form = Annotated[FormData, Depends(form_of)]
Short = Annotated[str, Query(max_length=60)]
ORDER = (Verdict.NOT_MET, Verdict.TOO_CLOSE, Verdict.ONLY_IF_SHORT, Verdict.MET, Verdict.NOT_READABLE)


def judged_by(request: Request, whole: Reading, against: str) -> Judgement:
    """A reading held against packaged limits or the book's own."""
    return judge(whole, ownlimits.limits_named(get_bench(request).folder, against))


@router.get("/reading/{code}")
def reading(
    request: Request,
    code: str,
    against: Short = "",
    edition: Annotated[int, Query(ge=0)] = 0,
    passed: Annotated[str, Query(max_length=1000)] = "",
) -> HTMLResponse:
    """A reading with everything that belongs to it."""
    store = get_book(request)
    record, number, whole = benchviews.reading_in(store, code, edition)
    judged = tried(request, lambda: judged_by(request, whole, against)) if against else None
    kept, sets = store.below(record.code, "judgement"), choices_of(request)
    return page(
        request,
        "reading.html",
        code=record.code,
        record=record,
        edition=number,
        editions=store.editions(record.code),
        whole=whole,
        rows=[_row(name, value) for name, value in whole.dimensions.items()],
        sets=sets,
        against=against,
        findings=_findings(judged),
        judged=judged,
        explained=told_of(request, record.code, passed) if number == store.editions(record.code)[-1].edition else [],
        caution=CAUTION,
        trail_of=trail_of,
        kept=kept,
        report_against=against if judged else _last_against(kept, sets),
        drafts=get_bench(request).drafts.of(record.code),
    )


def _last_against(kept: Sequence[Entry], sets: Sequence[tuple[str, str]]) -> str:
    """What the reading was last held against in the book: its report shows that first, while there is such a set."""
    last = kept[-1].record if kept else None
    against = last.against if isinstance(last, JudgementEntry) else ""
    return against if against in dict(sets) else ""


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
@stays_on(reading)
def keep(request: Request, code: str, form: Form) -> RedirectResponse:
    """Keep a judgement in the book."""
    store, against = get_book(request), word(form, "against")
    record, edition, whole = benchviews.reading_in(store, code)
    if word(form, "edition") not in ("", str(edition)):
        raise RefusedError(f"{code} was read again meanwhile (edition {edition}): look at it before you keep this")
    judged = judged_by(request, whole, against)
    keep_judgement(store, hand_of(request), record.code, judged, against=against, edition=edition)
    return to(f"/reading/{record.code}?against={against}")


@router.get("/reading/{code}/overlay.png")
def overlay(request: Request, code: str) -> Response:
    """The picture with its outline and measured lines."""
    return Response(benchviews.overlay(get_book(request), code), media_type="image/png")


@router.get("/reading/{code}/report.{kind}")
def report(request: Request, code: str, kind: str, against: Short = "") -> Response:
    """The report as a PDF, or as a page to look at first."""
    if kind not in ("pdf", "html"):
        raise RefusedError("a report is pdf or html")
    store = get_book(request)
    _, _, whole = benchviews.reading_in(store, code)
    judged = judged_by(request, whole, against) if against else None
    data = benchviews.report_page(store, code, kind, judged)
    if kind == "pdf":
        return Response(data, media_type="application/pdf")
    # The report carries its styles within itself; it is shown in a frame that may run nothing.
    return Response(data, media_type="text/html; charset=utf-8", headers={"content-security-policy": SHEET})


@router.get("/reading/{code}/report")
def preview(request: Request, code: str, against: Short = "") -> HTMLResponse:
    """The report, to be looked at before it is printed."""
    record, _, _ = benchviews.reading_in(get_book(request), code)
    return page(request, "report.html", code=record.code, against=against,
                sets=[("", "no limits"), *choices_of(request)], trail_of=trail_of)  # fmt: skip
