"""A comparison in lines of text, and as a plain document ready for JSON."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from typing import Any

from etchbook.procedure.heat_flow import CONDUCTION
from etchbook.quantity import Absent, spoken
from etchbook.terms import DIMENSIONS
from etchbook.trials.confounding import setting_words
from etchbook.trials.difference import Difference
from etchbook.usecases.comparing import Comparison, Row

Table = tuple[tuple[str, ...], list[tuple[str, ...]]]


def verdict_words(row: Row) -> str:
    """The dimension in question and what is said of its difference."""
    label = DIMENSIONS[row.dimension].label
    words = row.difference.reason if isinstance(row.difference, Absent) else row.difference.words
    return f"{label[0].upper()}{label[1:]}: {words}"


def view_rows(row: Row) -> list[tuple[str, str, str]]:
    """Each view with what it says and what it assumes, and the region of no practical consequence last."""
    found = row.difference
    if isinstance(found, Absent):
        return []
    rows = [(view.name, view.words, view.assumes) for view in found.views]
    if math.isnan(found.inside):
        return rows
    unit = f" {row.unit}" if row.unit else ""
    says = (
        f"chance {found.inside:.3f} that the true difference lies within ±{found.margin:g}{unit}, "
        f"{found.above:.3f} above, {found.below:.3f} below."
    )
    basis = "the beads alone" if row.scatter is None else f"the beads and the scatter from {row.scatter.source}"
    return [*rows, ("no consequence", says, f"Differences up to ±{found.margin:g}{unit} do not matter; {basis}.")]


def views_heading(row: Row) -> str:
    """What stands above the views: with one bead against one there is hardly more than one."""
    few = isinstance(row.difference, Absent) or len(row.difference.views) < 3
    return "What can be said, and what it assumes" if few else "Three views, each with what it assumes"


def view_lines(row: Row) -> Iterator[str]:
    """The same in lines of text."""
    yield from (f"{name}: {says} Assumes: {assumes}" for name, says, assumes in view_rows(row))


def dimension_table(made: Comparison) -> Table:
    """Every dimension: both means with their uncertainty, the difference with its interval, what is said of it."""
    rows: list[tuple[str, ...]] = [
        (DIMENSIONS[row.dimension].label, spoken(row.a), spoken(row.b), *_apart(row.difference)) for row in made.rows
    ]
    return ("dimension", *made.names, "difference (95 %)", "verdict"), rows


def _apart(found: Difference | Absent) -> tuple[str, str]:
    if isinstance(found, Absent):
        return "", found.reason
    span = found.interval
    told = "" if span is None else f" ({span[0]:+.2f} to {span[1]:+.2f})"
    return f"{found.value:+.2f}{told}", found.verdict


def moved_lines(made: Comparison) -> list[str]:
    """What differs, moved along or was not logged, each in a sentence."""
    told = [one.words for one in made.suspects if one.kind != "not logged"]
    lacking = ", ".join(setting_words(one.setting) for one in made.suspects if one.kind == "not logged")
    return [*told, *([f"Not logged for any bead: {lacking}."] if lacking else [])]


def effect_notes(made: Comparison) -> Iterator[str]:
    """What to know of the expected effects: why there are none, what they leave out, which way the others go."""
    if isinstance(made.expected, Absent):
        yield f"What the settings would do is not known: {made.expected.reason}."
    elif made.expected:
        yield f"{CONDUCTION[0].upper()}{CONDUCTION[1:]}."
    yield from (f"Not reckoned: {hint}." for hint in made.beside.hints)


def comparison_document(made: Comparison, question: str) -> dict[str, Any]:
    """The comparison for other programs; numbers that JSON cannot hold are null."""
    expected = made.expected
    return {
        "names": list(made.names),
        "question": question,
        "rows": [{"dimension": row.dimension, "a": _plain(row.a), "b": _plain(row.b),
                  "difference": _plain(row.difference), "scatter": _scatter(row)} for row in made.rows],
        "splits": {name: _plain(part) for name, part in made.splits.items()},
        "suspects": [_plain(one) for one in made.suspects],
        "expected": _plain(expected) if isinstance(expected, Absent) else [_plain(one) for one in expected],
        "seen": dict(zip(made.beside.labels, made.beside.seen, strict=True)),
        "hints": list(made.beside.hints),
        "notes": list(made.notes),
    }  # fmt: skip


def _scatter(row: Row) -> Mapping[str, Any] | None:
    return None if row.scatter is None else _plain(row.scatter)


def _plain(value: Any) -> Any:
    if isinstance(value, Absent):
        return {"absent": value.reason}
    return {key: _finite(part) for key, part in asdict(value).items()}


def _finite(value: Any) -> Any:
    if isinstance(value, float) and (value != value or value in (float("inf"), float("-inf"))):
        return None
    if isinstance(value, dict):
        return {key: _finite(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(part) for part in value]
    return value
