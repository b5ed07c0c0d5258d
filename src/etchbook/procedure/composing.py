"""A steel's composition as a person types it."""

import re
from collections.abc import Mapping

from etchbook.procedure.records import ProcedureError

ELEMENTS = ("C", "Si", "Mn", "P", "S", "Cr", "Mo", "Ni", "Cu", "V", "Nb", "Ti", "Al", "N", "B", "W", "Co")
_PAIR = re.compile(r"([A-Za-z]+)\s*[=:]?\s*(\d*[.,]?\d+)\s*%?")


def composition(text: str) -> Mapping[str, float]:
    """Read ``C 0.18 Mn 1.4 Si=.35 rest=0``.

    Parameters
    ----------
    text : symbols of elements, each with its content [% by mass]; ``rest=0`` says that whatever is not listed is
        not in the steel, which nothing else says

    Returns
    -------
    mapping from symbol to [% by mass]
    """
    pairs = _PAIR.findall(text)
    left = re.sub(r"[\s,;]+", "", _PAIR.sub("", text))
    if not pairs or left:
        raise ProcedureError(f'"{text}" is no composition: write it like C=0.18 Mn=1.4 Si=0.35 rest=0')
    found: dict[str, float] = {}
    rest = False
    for word, number in pairs:
        value = float(number.replace(",", "."))
        if word.lower() == "rest":
            if value:
                raise ProcedureError("rest can only be 0: it says that no other element is in the steel")
            rest = True
            continue
        found[_symbol(word, value, found)] = value
    return found | {symbol: 0.0 for symbol in ELEMENTS if symbol not in found} if rest else found


def _symbol(word: str, value: float, found: Mapping[str, float]) -> str:
    symbol = word.capitalize()
    if symbol not in ELEMENTS:
        raise ProcedureError(f'"{word}" is not an element that is reckoned with: use {", ".join(ELEMENTS)}')
    if symbol in found:
        raise ProcedureError(f"{symbol} is given twice")
    if value > 60:
        raise ProcedureError(f"{value:g} % {symbol} is no steel: write a composition like C=0.18 Mn=1.4 Si=0.35 rest=0")
    return symbol
