"""Where every piece is, by place: the other half of anything is found here."""

from collections import defaultdict
from collections.abc import Iterator
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from etchbook.trials.records import Coupon, Piece
from etchbook.usecases.keeping.ports import BookStore, Entry
from etchbook.web.bench import get_book, in_place, page

router = APIRouter(include_in_schema=False)
NOWHERE = "nobody said where"
BATCH = 500
STATES = {"lost": "lost", "sent away": "sent away", "scrapped": "thrown away"}


@router.get("/places")
def places(request: Request, q: Annotated[str, Query(max_length=100)] = "") -> HTMLResponse:
    """Every piece and uncut coupon by where it is kept; words narrow it down."""
    words = q.lower().split()
    found = [one for one in _pieces(get_book(request)) if all(word in _text(one) for word in words)]
    groups: defaultdict[str, list[Entry]] = defaultdict(list)
    for one in found:
        groups[_place(one)].append(one)
    rows = sorted(groups.items(), key=lambda row: (row[0] in STATES.values(), row[0] == NOWHERE, row[0].lower()))
    name = "places_found.html" if in_place(request) else "places.html"
    return page(request, name, rows=rows, words=q, count=len(found))


def _pieces(store: BookStore) -> Iterator[Entry]:
    """Pieces, and coupons that are not cut yet, that are there to be held in a hand."""
    for kind in ("piece", "coupon"):
        after = ""
        while batch := store.every(kind, limit=BATCH, after=after):
            after = batch[-1].code
            yield from (one for one in batch if isinstance(one.record, Piece | Coupon) and one.record.state != "cut up")


def _place(entry: Entry) -> str:
    assert isinstance(entry.record, Piece | Coupon)
    return STATES.get(entry.record.state) or entry.record.place or NOWHERE


def _text(entry: Entry) -> str:
    assert isinstance(entry.record, Piece | Coupon)
    return f"{entry.code} {entry.record.place} {entry.record.state} {entry.record.remarks}".lower()
