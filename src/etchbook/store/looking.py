"""Questions to the tables, put together for every database alike."""

from typing import Any

import sqlalchemy as sa

from etchbook.store import tables as t
from etchbook.trials import family_of_codes
from etchbook.usecases.keeping.index import folded
from etchbook.usecases.keeping.ports import Query, Range

END = "\U0010ffff"


def find_codes(query: Query) -> sa.Select[Any]:
    """Codes of the entries that answer a query, a page of them."""
    heads = t.heads
    wish = sa.select(heads.c.code).where(heads.c.binned == "", heads.c.code > query.after)
    for text in query.words:
        for word in folded(text):
            wish = wish.where(heads.c.code.in_(_with_word(word)))
    for one in query.ranges:
        wish = wish.where(heads.c.bead.in_(_in_range(one)))
    if query.kind:
        wish = wish.where(heads.c.kind == query.kind)
    if query.under:
        first, last = family_of_codes(query.under)
        wish = wish.where(sa.or_(heads.c.code == query.under, sa.and_(heads.c.code >= first, heads.c.code < last)))
    return wish.order_by(heads.c.code).limit(query.limit)


def _with_word(word: str) -> sa.Select[Any]:
    return sa.select(t.words.c.code).where(t.words.c.word >= word, t.words.c.word < word + END)


def _in_range(one: Range) -> sa.Select[Any]:
    """Beads whose setting or dimension lies in a range; what is in the bin does not count."""
    numbers = t.numbers
    wish = sa.select(numbers.c.bead).join(t.heads, t.heads.c.code == numbers.c.code)
    wish = wish.where(numbers.c.name == one.name, t.heads.c.binned == "")
    wish = wish if one.least is None else wish.where(numbers.c.value >= one.least)
    return wish if one.most is None else wish.where(numbers.c.value <= one.most)


def touched_by(code: str) -> sa.Select[Any]:
    """Numbers of the changes that wrote a code or something below it."""
    first, last = family_of_codes(code)
    rows = t.editions
    inside = sa.and_(rows.c.code >= first, rows.c.code < last)
    return sa.select(rows.c.change).where(sa.or_(rows.c.code == code, inside))


def picture_codes(sha256: str) -> sa.Select[Any]:
    """Codes of the picture entries that hold these bytes or a copy made of them, not those in the bin."""
    same = sa.or_(t.pictures.c.sha256 == sha256, t.pictures.c.copied_from == sha256)
    wish = sa.select(t.pictures.c.code).join(t.heads, t.heads.c.code == t.pictures.c.code)
    return wish.where(same, t.heads.c.binned == "").order_by(t.pictures.c.code)
