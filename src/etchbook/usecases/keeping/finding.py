"""What a person types to find something: words, and settings or dimensions with a range."""

import re
from collections.abc import Sequence
from math import log10

from etchbook.terms import DIMENSIONS
from etchbook.terms.settings import ALIASES, NUMBERS, SETTINGS
from etchbook.trials import KINDS, normal_code
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.index import folded
from etchbook.usecases.keeping.ports import BookStore, Entry, Query, Range
from etchbook.usecases.keeping.settings import Convert, setting_name

MOST = 1000
_UNIT = r"""[^\W\d_°%"'].*$|[°%"'].*$"""


def find(
    store: BookStore,
    typed: Sequence[str],
    convert: Convert,
    *,
    kind: str = "",
    under: str = "",
    limit: int = 100,
    after: str = "",
) -> tuple[Entry, ...]:
    """Entries that hold all the words and whose bead lies in all the ranges.

    A range is about best estimates: it is a way of finding, not a decision about a value with its uncertainty.

    Parameters
    ----------
    typed : words, or ``volts=18..20V``, ``leg_1=..6mm``, ``amps=150..``; a single value means that value as rounded
    kind : only entries of that kind; "" shows beads where only ranges were given
    under : only what is below that code
    after : only codes behind this one, for the next page
    """
    words = tuple(one for one in typed if "=" not in one)
    ranges = tuple(range_of(one, convert) for one in typed if "=" in one)
    if not ranges and not any(folded(one) for one in words):
        raise RefusedError("say what to look for: words, or a range such as volts=18..20V")
    if kind and kind not in KINDS:
        raise RefusedError(f'"{kind}" is nothing that a book holds: use {", ".join(KINDS)}')
    if not 0 < limit <= MOST:
        raise RefusedError(f"between 1 and {MOST} things can be listed, not {limit}")
    wanted = kind or ("" if words else _kind_for(ranges))
    place = normal_code(under) if under else ""
    return store.find(Query(words=words, ranges=ranges, kind=wanted, under=place, limit=limit, after=after))


def _kind_for(ranges: Sequence[Range]) -> str:
    return "reading" if any(one.name not in NUMBERS for one in ranges) else "bead"


def range_of(typed: str, convert: Convert) -> Range:
    """``name=least..most`` with a unit, either end left open; ``name=value`` is the value as it was rounded."""
    word, _, rest = typed.partition("=")
    name, unit = _named(word)
    least, dots, most = (part.strip() for part in rest.partition(".."))
    if not least and not most:
        raise RefusedError(f'"{typed}" is no range: write {word}=18..20, {word}=18.. or {word}=..20')
    if not dots:
        return _rounded(name, unit, least, convert)
    ending = re.search(_UNIT, most)
    if least and ending and not re.search(_UNIT, least):
        least += ending.group()  # 18..20V: the unit behind the second holds for both
    low = convert(least, unit, name).value if least else None
    high = convert(most, unit, name).value if most else None
    if low is not None and high is not None and low > high:
        raise RefusedError(f'"{typed}" is no range: it begins above its end')
    return Range(name=name, least=low, most=high)


def _rounded(name: str, unit: str, text: str, convert: Convert) -> Range:
    value = convert(text, unit, name).value
    digits = re.search(r"[.,](\d+)", text)
    typed = re.search(r"\d+(?:[.,]\d+)?", text)
    step = 10.0 ** -(len(digits[1]) if digits else 0)
    # The last place counts in the unit that was typed: 30 cm/min is 29.5 to 30.5 cm/min.
    shown = float(typed[0].replace(",", ".")) if typed else 0.0
    half = 0.5 * step * (abs(value / shown) if shown and unit != "°C" else 1.0)
    slack = 10.0 ** (log10(half) - 9) if half > 0 else 0.0
    return Range(name=name, least=value - half - slack, most=value + half + slack)


def _named(word: str) -> tuple[str, str]:
    name = re.sub(r"[\s-]+", "_", word.strip().lower())
    if name in DIMENSIONS and name not in SETTINGS and name not in ALIASES:
        return name, DIMENSIONS[name].unit
    name = setting_name(word)
    if name not in NUMBERS:
        raise RefusedError(f"{name} is told in words: look for the word itself")
    return name, SETTINGS[name].unit
