"""Which settings differ, which nobody logged, and which moved together with the thing under test."""

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.terms.settings import SETTINGS

SettingValue = float | str | None
Settings = Mapping[str, SettingValue]

WATCHED: Mapping[str, float] = {
    "start_temperature": 25.0,
    "interpass_temperature": 25.0,
    "thickness_1": 0.3,
    "thickness_2": 0.3,
    "plate_length": 5.0,
    "plate_width": 5.0,
    "stick_out": 1.0,
    "travel": 0.25,
    "volts": 0.5,
    "amps": 7.0,
    "wire_feed": 0.15,
    "wire_diameter": 0.02,
    "gas_flow": 3.0,
    "gauge": 50.0,
    "gap": 0.3,
    "order": 1.0,
    "minutes_since_last": 10.0,
    "surface": 0.0,
    "gas": 0.0,
    "cylinder": 0.0,
    "operator": 0.0,
    "machine": 0.0,
    "wire": 0.0,
    "technique": 0.0,
}
"""Settings that are asked for in every comparison, each with the difference of means that is worth telling.

The figures are common practice (judged): about what moves a bead's width by 1 %; 25 K as research note 3b gives.
"""

SMALL: Mapping[str, float] = {
    "ambient": 10.0,
    "humidity": 25.0,
    "arc_time": 2.0,
    "bead_length": 5.0,
    "work_angle": 5.0,
    "travel_angle": 5.0,
}
"""Differences worth telling of further settings, which are not asked for where nobody logged them (judged)."""

KINDS = ("moved with it", "differs", "differs little", "not logged", "logged on one side")


@dataclass(frozen=True, kw_only=True, slots=True)
class Suspect:
    """One setting that stands beside the thing under test.

    Parameters
    ----------
    setting : its id
    kind : one of KINDS
    a, b : mean or words of each group; None where nobody logged it
    words : in a sentence
    """

    setting: str
    kind: str
    a: SettingValue
    b: SettingValue
    words: str


def suspects(
    a: Sequence[Settings], b: Sequence[Settings], *, under_test: str = "", watched: Mapping[str, float] = WATCHED
) -> tuple[Suspect, ...]:
    """Settings that may explain a difference between two groups of beads as well as the thing under test does.

    Parameters
    ----------
    a, b : settings of each bead, one mapping a bead; a number, words, or None where nobody logged it
    under_test : the setting that was meant to differ; it is left out
    watched : settings to ask for, with the difference of means worth telling

    Returns
    -------
    tuple of Suspect
        What moved with the thing under test first, then what differs in part or little, then what nobody logged.
    """
    names = [*watched, *sorted({name for bead in (*a, *b) for name in bead} - set(watched))]
    found = [_suspect(name, a, b, watched.get(name, SMALL.get(name, 0.0))) for name in names if name != under_test]
    return tuple(sorted((one for one in found if one is not None), key=lambda one: KINDS.index(one.kind)))


def _suspect(name: str, a: Sequence[Settings], b: Sequence[Settings], worth: float) -> Suspect | None:
    held = [[bead[name] for bead in group if bead.get(name) is not None] for group in (a, b)]
    if not all(held):
        return _unlogged(name, held)
    if any(isinstance(value, str) for group in held for value in group):
        return _words(name, [[str(value) for value in group] for group in held])
    return _numbers(name, [[float(value) for value in group if value is not None] for group in held], worth)


def _unlogged(name: str, held: Sequence[Sequence[SettingValue]]) -> Suspect:
    said = _spoken(name)
    if not any(held):
        return Suspect(setting=name, kind="not logged", a=None, b=None, words=f"{said} was not logged for any bead.")
    side = "a" if held[0] else "b"
    words = f"{said} was logged for group {side} alone."
    shown = [_shown(group) if group else None for group in held]
    return Suspect(setting=name, kind="logged on one side", a=shown[0], b=shown[1], words=words)


def _words(name: str, held: Sequence[Sequence[str]]) -> Suspect | None:
    first, second = (sorted(set(group)) for group in held)
    if first == second:
        return None
    apart = not set(first) & set(second)
    a, b = ", ".join(first), ", ".join(second)
    return _differing(name, a, b, apart, f"{a} against {b}")


def _numbers(name: str, held: Sequence[Sequence[float]], worth: float) -> Suspect | None:
    a, b = (statistics.fmean(group) for group in held)
    if abs(b - a) <= 1e-9 * max(abs(a), abs(b)):
        return None
    if abs(b - a) <= worth:
        words = f"{_spoken(name)} differs little: {a:.4g} against {b:.4g}; worth telling beyond {worth:g}."
        return Suspect(setting=name, kind="differs little", a=a, b=b, words=words)
    apart = max(held[0]) < min(held[1]) or max(held[1]) < min(held[0])
    return _differing(name, a, b, apart, f"{a:.4g} against {b:.4g}")


def _differing(name: str, a: SettingValue, b: SettingValue, apart: bool, told: str) -> Suspect:
    if apart:
        words = f"{_spoken(name)} moved with it: {told}, without overlap. Its effect cannot be told from the other's."
        return Suspect(setting=name, kind="moved with it", a=a, b=b, words=words)
    words = f"{_spoken(name)} differs in part: {told}."
    return Suspect(setting=name, kind="differs", a=a, b=b, words=words)


def _shown(values: Sequence[SettingValue]) -> SettingValue:
    if any(isinstance(value, str) for value in values):
        return ", ".join(sorted({str(value) for value in values}))
    return statistics.fmean(float(value) for value in values if value is not None)


def _spoken(name: str) -> str:
    said = setting_words(name)
    return said[0].upper() + said[1:]


def setting_words(name: str) -> str:
    """A setting's name as the trade says it."""
    return SETTINGS[name].label if name in SETTINGS else name.replace("_", " ")
