"""The picture page: a reading on its photograph, with every point to be moved."""

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, Response

from etchbook.trials.records import PictureEntry
from etchbook.usecases.keeping.looking import held
from etchbook.usecases.keeping.telling import line_of
from etchbook.usecases.remeasuring import label_of, words_of
from etchbook.web.bench import get_bench, get_book, page
from etchbook.web.pages.opening import trail_of
from etchbook.wiring import benchviews, blinking, tiles
from etchbook.wiring.benchpicture import told_marks

router = APIRouter(include_in_schema=False)
Place = Annotated[int, Path(ge=0, le=4096)]


@router.get("/reading/{code}/picture")
def picture(request: Request, code: str) -> HTMLResponse:
    """The photograph with the outline as lines, and the dimensions beside it."""
    book = get_book(request)
    record, edition, whole = benchviews.reading_in(book, code)
    shown, _ = held(book, record.code.rpartition("-")[0], PictureEntry)
    beside = [{"code": one.code, "words": line_of(one)} for one in blinking.others(book, shown.code)]
    start = {
        **tiles.size_of(shown),
        "code": record.code,
        "edition": edition,
        "marks": told_marks(whole.marks),
        "others": beside,
    }
    told = [(name, label_of(name), words_of(value)) for name, value in whole.dimensions.items()]
    return page(request, "section.html", code=record.code, edition=edition, start=start, told=told, beside=beside,
                corrected=record.made == "corrected", trail_of=trail_of)  # fmt: skip


@router.get("/picture/{code}/tile/{level}/{column}/{row}.jpg")
def tile(request: Request, code: str, level: Place, column: Place, row: Place) -> Response:
    """One tile of a picture."""
    data = tiles.tile(get_book(request), get_bench(request).folder, code, (level, column, row))
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private, max-age=604800, immutable"})
