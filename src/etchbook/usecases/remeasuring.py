"""What moved marks change, in words for the person who moves them."""

from collections.abc import Mapping

from etchbook.quantity import Absent, Quantity, spoken
from etchbook.section.again import Again
from etchbook.terms import DIMENSIONS


def words_of(value: Quantity) -> str:
    """A value with its uncertainty, or why there is none."""
    return f"not read: {value.reason}" if isinstance(value, Absent) else spoken(value)


def label_of(name: str) -> str:
    """The words for a dimension, first letter large."""
    label = DIMENSIONS[name].label if name in DIMENSIONS else name.replace("_", " ")
    return label[:1].upper() + label[1:]


def rows(again: Again, before: Mapping[str, Quantity]) -> list[dict[str, object]]:
    """Every dimension as it is to be shown, the ones that changed marked.

    Parameters
    ----------
    again : what the marks make of the section
    before : dimensions of the edition that the person began with

    Returns
    -------
    list
        `id`, `label`, `means`, `words`, `was` ("" where it did not change) and `absent`; what was read comes first.
    """
    told = [_row(name, value, before.get(name)) for name, value in again.dimensions.items()]
    return sorted(told, key=lambda row: bool(row["absent"]))


def _row(name: str, value: Quantity, before: Quantity | None) -> dict[str, object]:
    now = words_of(value)
    was = "" if before is None else words_of(before)
    means = DIMENSIONS[name].definition if name in DIMENSIONS else ""
    absent = isinstance(value, Absent)
    changed = was if was != now else ""
    return {"id": name, "label": label_of(name), "means": means, "words": now, "was": changed, "absent": absent}


def differences(before: Mapping[str, Quantity], now: Mapping[str, Quantity]) -> list[str]:
    """What another edition changed, a line for each dimension."""
    told = []
    for name, value in now.items():
        old = words_of(before[name]) if name in before else "not there"
        if old != words_of(value):
            told.append(f"{label_of(name)} from {old} to {words_of(value)}")
    return told
