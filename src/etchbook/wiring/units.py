"""Amounts as people write them, in any common unit, turned into ours. The one place that knows the unit library."""

import math
import re
from functools import cache
from typing import Any

from etchbook.usecases import RefusedError
from etchbook.usecases.keeping.settings import Amount

LEAST, MOST = 1e-9, 1e9
# Where the trade has one unit only, a bare number is no guess; anywhere else it would be.
BARE = frozenset({"V", "A", "°", "%", "s"})
EXAMPLES = {
    "m/min": "5.6m/min or 220in/min",
    "mm/s": "30cm/min, 5mm/s or 12in/min",
    "mm": "8mm or 5/16in",
    "L/min": "14l/min or 30cfh",
    "bar": "150bar or 2200psi",
    "°C": "20°C or 68°F",
    "s": "40s or 1.5min",
}
_SPOKEN = {
    "ipm": "inch/minute",
    "cfh": "foot**3/hour",
    "scfh": "foot**3/hour",
    "lpm": "liter/minute",
    "mpm": "meter/minute",
    "fpm": "foot/minute",
    '"': "inch",
    "'": "foot",
    "°": "degree",
    "deg": "degree",
    "%": "percent",
}
_HEAT = {"°c": 0, "c": 0, "degc": 0, "°f": 1, "f": 1, "degf": 1, "k": 2}
_NUMBER = r"[-+]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?"
_FORM = re.compile(rf"\s*(?:(\d+)\s+)?(?:(\d+)\s*/\s*(\d+)|({_NUMBER}))\s*(?:(?:±|\+-|\+/-)\s*({_NUMBER}))?\s*(.*)")


def amount(typed: str, unit: str, what: str) -> Amount:
    """An amount as it was typed, in the unit that is wanted.

    Parameters
    ----------
    typed : a number or a fraction, perhaps ± its standard uncertainty, and a unit: ``5.6m/min``, ``3/16in``, ``20±2°C``
    unit : the wanted unit: V, A, m/min, mm/s, mm, L/min, bar, °, °C, %, s or another that the unit library knows
    what : what it is, for the sentence that refuses it

    Returns
    -------
    Amount
        A bare number is taken only where the trade has a single unit; elsewhere it is refused.
    """
    found = _FORM.fullmatch(typed)
    if found is None:
        raise RefusedError(f'{what} must be a number with its unit{_like(unit)}, not "{typed.strip()}"')
    whole, over, under, plain, spread, tail = found.groups()
    if whole is not None and over is None:
        raise RefusedError(f'{what} must be one number with its unit{_like(unit)}, not "{typed.strip()}"')
    if under is not None and int(under) == 0:
        raise RefusedError(f"{what} cannot be divided by 0")
    number = _float(plain, what) if plain else int(whole or 0) + int(over) / int(under)
    u = _float(spread, what) if spread else None
    if u is not None and u < 0:
        raise RefusedError(f"the uncertainty of {what} must not be negative")
    made = _in_unit(number, u, tail.strip(), unit, what)
    sane(made.value, what, typed)
    if made.u:
        sane(made.u, f"the uncertainty of {what}", typed)
    return made


def sane(value: float, what: str, typed: str) -> None:
    """Refuse a figure so large or so small that nobody can have measured it: the arithmetic would only fail on it.

    Parameters
    ----------
    value, what : the figure in its unit, and what it is
    typed : as it was written
    """
    if not (value == 0 or LEAST <= abs(value) <= MOST):
        raise RefusedError(f'{what} cannot be "{typed.strip()[:40]}": no instrument shows such a figure')


def listed(typed: str, unit: str, what: str) -> Amount:
    """An amount of which a list says the unit, so that a bare number is no guess.

    Parameters
    ----------
    typed, unit, what : as for `amount`
    """
    bare = typed.replace("±", "").replace("+-", "").lower().replace("e", "")
    plain = not any(letter.isalpha() or letter in "%°" for letter in bare)
    return amount(typed, "" if plain else unit, what)


def _float(text: str, what: str) -> float:
    if re.fullmatch(r"[-+]?\d{1,3},\d{3}", text):
        raise RefusedError(f'{what}: "{text}" may mean two things; write it with a point or without the comma')
    value = float(text.replace(",", "."))
    if not math.isfinite(value):
        raise RefusedError(f"{what} must be a finite number, not {text}")
    return value


def _like(unit: str) -> str:
    return f", like {EXAMPLES[unit]}" if unit in EXAMPLES else ""


def _in_unit(number: float, u: float | None, tail: str, unit: str, what: str) -> Amount:
    if not tail:
        if unit not in BARE and unit:
            raise RefusedError(f"{what} needs its unit{_like(unit)}; a bare number would be a guess")
        return Amount(value=number, u=u)
    if unit == "°C":
        return _warmth(number, u, tail, what)
    factor = _factor(tail, unit, what)
    return Amount(value=number * factor, u=None if u is None else u * factor)


def _warmth(number: float, u: float | None, tail: str, what: str) -> Amount:
    kind = _HEAT.get(tail.lower().replace(" ", ""))
    if kind is None:
        raise RefusedError(f'{what} is a temperature{_like("°C")}, not "{tail}"')
    value = (number, (number - 32) / 1.8, number - 273.15)[kind]
    return Amount(value=value, u=u if u is None or kind != 1 else u / 1.8)


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry()


@cache
def _factor(tail: str, unit: str, what: str) -> float:
    """What a number in one unit is multiplied by to be in the other."""
    import pint

    registry = _registry()
    try:
        return float(registry.Quantity(1.0, _known(tail)).to(_known(unit)).magnitude)
    except pint.DimensionalityError:
        raise RefusedError(f'{what} cannot be in "{tail}"{_like(unit) or f": it is in {unit}"}') from None
    except Exception:  # the library has many ways to refuse what is no unit
        raise RefusedError(f'"{tail}" is no unit for {what}{_like(unit) or f": it is in {unit}"}') from None


def _known(unit: str) -> str:
    text = unit.strip().replace("²", "**2").replace("³", "**3").replace("L", "l")
    return _SPOKEN.get(text.lower(), text)
