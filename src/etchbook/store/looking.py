"""Questions to the tables, put together for every database alike."""

from collections.abc import Sequence
from typing import Any

import sqlalchemy as sa

from etchbook.store import tables as t
from etchbook.trials import family_of_codes
from etchbook.usecases.keeping.index import folded
from etchbook.usecases.keeping.ports import Query, Range

END = "\U0010ffff"
COMMON = 5000


def wanted_words(query: Query) -> list[str]:
    """The words of a query, folded as those of the book are."""
    return [word for text in query.words for word in folded(text)]


def how_common(word: str) -> sa.Select[Any]:
    """How often a word stands in the book, counted no further than COMMON."""
    return sa.select(sa.func.count()).select_from(_with_word(word).limit(COMMON).subquery())


def find_codes(query: Query, words: Sequence[str]) -> sa.Select[Any]:
    """Codes of the entries that answer a query, a page of them.

    Parameters
    ----------
    words : its words, the rarest first: that one is looked up, the others are only looked for where it stands
    """
    heads = t.heads
    wish = sa.select(heads.c.code).where(heads.c.binned == "", heads.c.code > query.after)
    for number, word in enumerate(words):
        has_it = _with_word(word)
        there = heads.c.code.in_(has_it) if number == 0 else has_it.where(t.words.c.code == heads.c.code).exists()
        wish = wish.where(there)
    for one in query.ranges:
        wish = wish.where(heads.c.bead.in_(_in_range(one)))
    if query.kind:
        wish = wish.where(heads.c.kind == query.kind)
    if query.under:
        wish = wish.where(within(heads.c.code, query.under))
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
    return sa.select(t.editions.c.change).where(within(t.editions.c.code, code))


def within(column: sa.Column[str], code: str) -> sa.ColumnElement[bool]:
    """A code or one below it: between the two there is no other, so one range of the index holds them all."""
    return sa.and_(column >= code, column < family_of_codes(code)[1])


def picture_codes(sha256: str) -> sa.Select[Any]:
    """Codes of the picture entries that hold these bytes or a copy made of them, not those in the bin."""
    same = sa.or_(t.pictures.c.sha256 == sha256, t.pictures.c.copied_from == sha256)
    wish = sa.select(t.pictures.c.code).join(t.heads, t.heads.c.code == t.pictures.c.code)
    return wish.where(same, t.heads.c.binned == "").order_by(t.pictures.c.code)
