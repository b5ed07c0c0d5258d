"""What a record is found by: its words, and its numbers with the bead they belong to."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from etchbook.terms.settings import NUMBERS
from etchbook.trials.records import Bead, ReadingEdition, Record

LONGEST = 40
# Numbers of this program, not words of a person: nobody looks for them.
_LEFT_OUT = frozenset(
    {"mark", "document", "sha256", "copied_from", "picture", "family", "dimensions", "unit", "typed", "suffix", "plan"}
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Number:
    """One value that a range can find: `origin` is set, read or seen, and measured for a dimension."""

    name: str
    origin: str
    value: float
    u: float | None


def words_of(record: Record) -> frozenset[str]:
    """The words a record is found by, folded as `folded` folds what is looked for."""
    found: set[str] = {record.code.lower()}
    for text in _texts(record):
        found.update(folded(text))
    return frozenset(found)


def folded(text: str) -> tuple[str, ...]:
    """A text's words in small letters without accents, each at most LONGEST long."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return tuple(word[:LONGEST] for word in re.findall(r"\w+(?:-\w+)*", bare))


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _texts(item)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in _LEFT_OUT:
                yield from _texts(getattr(value, field.name))


def numbers_of(record: Record) -> tuple[Number, ...]:
    """The values of a bead's settings or of a reading's dimensions."""
    if isinstance(record, Bead):
        return tuple(
            Number(name=one.name, origin=one.origin, value=one.value, u=one.u)
            for one in record.settings
            if one.name in NUMBERS and one.value is not None
        )
    if isinstance(record, ReadingEdition):
        return tuple(
            Number(name=one.name, origin="measured", value=one.value, u=one.u)
            for one in record.dimensions
            if one.value is not None
        )
    return ()
