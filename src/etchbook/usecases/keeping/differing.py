"""What changed between two editions of a thing, in words."""

from dataclasses import fields, is_dataclass
from typing import Any

from etchbook.terms import DIMENSIONS
from etchbook.trials.records import Answer, Dimension, Facing, Plate, Record, Setting, Step
from etchbook.usecases.keeping.telling import setting, step

SILENT = frozenset({"code", "document", "mark", "program"})
"""Fields that tell a person nothing."""


def differences(old: Record, new: Record) -> tuple[str, ...]:
    """What the newer edition says otherwise, one sentence part a difference; empty where both say the same."""
    if type(old) is not type(new):
        return ("it became another kind of thing",)
    told: list[str] = []
    for field in fields(new):
        before, now = getattr(old, field.name), getattr(new, field.name)
        if before != now and field.name not in SILENT:
            told += _told(field.name.replace("_", " "), before, now)
    return tuple(told)


def _told(name: str, before: Any, now: Any) -> list[str]:
    if isinstance(now, tuple) and isinstance(before, tuple):
        return [*(f"new: {_words(one)}" for one in now if one not in before),
                *(f"no longer: {_words(one)}" for one in before if one not in now)]  # fmt: skip
    if before in ("", None):
        return [f"{name}: {_words(now)}"]
    return [f"{name}: {_words(now)}, before: {_words(before)}"]


def _words(value: Any) -> str:
    for kind, teller in _TELLERS.items():
        if isinstance(value, kind):
            told: str = teller(value)
            return told
    if is_dataclass(value):
        held = [(one.name.replace("_", " "), getattr(value, one.name)) for one in fields(value)]
        return ", ".join(f"{name} {_words(one)}" for name, one in held if one not in ("", None, ()))
    if isinstance(value, float):
        return f"{value:g}"
    return "nothing" if value in ("", None, (), {}) else str(value)


def _plate(one: Plate) -> str:
    thick = f"{one.thickness:g} mm" if one.thickness else ""
    heat = f"heat {one.heat}" if one.heat else ""
    return ", ".join(part for part in (f"plate {one.member}", one.material, thick, heat, one.certificate) if part)


def _dimension(one: Dimension) -> str:
    label = DIMENSIONS[one.name].label if one.name in DIMENSIONS else one.name
    return f"{label} not read" if one.value is None else f"{label} {one.value:.3g} {one.unit}"


_TELLERS: dict[type, Any] = {
    Setting: setting,
    Step: step,
    Plate: _plate,
    Dimension: _dimension,
    Facing: lambda one: f"met {one.other} at its {one.end}",
    Answer: lambda one: f"{one.check.replace('_', ' ')}: {one.answer}",
}
