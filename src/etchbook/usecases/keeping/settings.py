"""Settings as a person types them: a name or what people also call it, a value with its unit."""

import difflib
import re
from collections.abc import Callable
from dataclasses import dataclass

from etchbook.terms.settings import ALIASES, NUMBERS, SETTINGS
from etchbook.trials.records import Origin, Setting
from etchbook.usecases.errors import RefusedError


@dataclass(frozen=True, kw_only=True, slots=True)
class Amount:
    """A value and, where it was said, its standard uncertainty, both in the unit that was asked for."""

    value: float
    u: float | None = None


Convert = Callable[[str, str, str], Amount]
"""(what was typed, unit of the term, what it is) to an amount in that unit; the street fills it."""

LEAST = {"start_temperature": -273.15, "interpass_temperature": -273.15, "ambient": -273.15}
SIGNED = frozenset({"work_angle", "travel_angle"})


def setting_name(word: str) -> str:
    """The id of a setting from what people call it, or a refusal that names what is near."""
    name = re.sub(r"[\s-]+", "_", word.strip().lstrip("-").lower())
    name = ALIASES.get(name, name)
    if name in SETTINGS:
        return name
    near = difflib.get_close_matches(name, [*SETTINGS, *ALIASES], n=3, cutoff=0.6)
    hint = f"did you mean {' or '.join(dict.fromkeys(ALIASES.get(one, one) for one in near))}" if near else ""
    raise RefusedError(f'"{word.strip()}" is no setting; {hint or "settings are " + ", ".join(SETTINGS)}')


def setting_of(word: str, typed: str, origin: Origin, convert: Convert) -> Setting:
    """One setting as it was typed.

    Parameters
    ----------
    word : its name, or what people also call it
    typed : its value: a number with its unit and perhaps ± its standard uncertainty, or words
    convert : turns numbers into the term's unit
    """
    name, text = setting_name(word), typed.strip()
    if not text:
        raise RefusedError(f"{name} was given with nothing behind it")
    if name not in NUMBERS:
        return Setting(name=name, origin=origin, text=text)
    amount = convert(text, SETTINGS[name].unit, name)
    least = LEAST.get(name, -360.0 if name in SIGNED else 0.0)
    if amount.value < least:
        raise RefusedError(f"{name} must be at least {least:g} {SETTINGS[name].unit}, not {text}")
    return Setting(name=name, origin=origin, value=amount.value, u=amount.u, typed=text)


def pair(text: str) -> tuple[str, str]:
    """``name=value`` as its two halves."""
    name, sign, value = text.partition("=")
    if not sign or not name.strip():
        raise RefusedError(f'"{text}" should be a name and a value, like volts=18.5V')
    return name, value
