"""The bench card as a tagged PDF: every step with a box to tick, safety at the step that needs it."""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from importlib import resources
from itertools import groupby
from typing import Any

from etchbook.preparation import PreparationPlan, Recipe, Step
from etchbook.preparation.etching import amount_words
from etchbook.preparation.records import Part
from etchbook.report.card_words import depth_words, facts_of, minutes_words, mounting_words, recipe_time
from etchbook.report.typeset import typeset_pdf

TOGETHER = {"grind": "Grind, paper after paper", "polish": "Polish, cloth after cloth"}
"""Kinds of steps that stand as rows of one table, and its heading."""


def card_pdf(plan: PreparationPlan, *, today: date, piece: str = "") -> bytes:
    """The bench card on A4, as a tagged PDF (PDF/UA-1).

    Parameters
    ----------
    plan : the way to prepare a face
    today : printed as the day of the card; the same plan and day give the same bytes
    piece : code of the piece, where it is known

    Returns
    -------
    bytes
    """
    card = json.dumps(_contents(plan, today, piece), ensure_ascii=False).encode()
    template = (resources.files("etchbook.report") / "card.typ").read_text(encoding="utf-8")
    return typeset_pdf(template, {"card.json": card}, datetime.combine(today, time(12), tzinfo=UTC))


def _contents(plan: PreparationPlan, today: date, piece: str) -> dict[str, Any]:
    return {
        "title": plan.title,
        "piece": piece,
        "date": f"{today:%d.%m.%Y}",
        "year": today.year,
        "month": today.month,
        "day": today.day,
        "minutes": minutes_words(round(sum(step.minutes or 0.0 for step in plan.steps if step.kind != "mount"))),
        "facts": _facts(plan),
        "notes": list(plan.notes),
        "steps": _steps(plan),
        "others": ", ".join(plan.others),
        "known": _known(plan),
    }


def _known(plan: PreparationPlan) -> list[dict[str, str]]:
    """Facts and their sources, one entry for each way in which they are known."""
    held: dict[str, dict[str, list[str]]] = {}
    for item in facts_of(plan):
        held.setdefault(item.status, {}).setdefault(item.source, []).append(item.fact)
    return [
        {"status": status, "facts": " ".join(_sourced(source, facts, status) for source, facts in sources.items())}
        for status, sources in held.items()
    ]


def _sourced(source: str, facts: Sequence[str], status: str) -> str:
    told = "; ".join(facts)
    return f"{told}." if source == status else f"{source}: {told}."


def _facts(plan: PreparationPlan) -> list[dict[str, str]]:
    told = [
        ("mounting", mounting_words(plan.mounting)),
        ("taken off in all", f"at least {depth_words(plan.removed_um)}"),
    ]
    for recipe in plan.recipes:
        told.append(("etchant", f"{recipe.title}, {recipe_time(recipe)}; shows {recipe.shows}"))
        told.append(("what is left", recipe.keep))
    return [{"label": label, "value": value} for label, value in told]


def _steps(plan: PreparationPlan) -> list[dict[str, Any]]:
    """The steps, runs of grinding and polishing as rows of one entry; safety boxes whole where they first come."""
    boxes = {box.id: box for box in plan.boxes}
    numbers = {step.id: f"{n}" for n, step in enumerate(plan.steps, start=1)}
    told: set[str] = set()
    entries = []
    for run in _runs(plan.steps):
        names = list(dict.fromkeys(name for step in run for name in step.cautions))
        new = [boxes[name] for name in names if name not in told]
        again = [boxes[name].title for name in names if name in told]
        told.update(names)
        entries.append(
            {
                **(_single(run[0], numbers) if len(run) == 1 else _together(run, numbers)),
                "boxes": [{"title": box.title, "text": box.text, "status": box.status} for box in new],
                "again": f"Safety as above: {', '.join(again)}." if again else "",
                "recipes": _recipes_at(plan, run[0]),
            }
        )
    return entries


def _runs(steps: Sequence[Step]) -> list[list[Step]]:
    runs = [list(run) for _, run in groupby(steps, key=lambda step: step.kind)]
    return [part for run in runs for part in ([run] if run[0].kind in TOGETHER else [[step] for step in run])]


def _single(step: Step, numbers: dict[str, str]) -> dict[str, Any]:
    return {
        "n": numbers[step.id],
        "title": step.title,
        "words": "Label the vessel: what, strength, date, name." if step.kind == "mix" else step.words,
        "until": step.until,
        "look": step.look,
        "time": _time(step),
        "room": "seconds taken: ________" if step.kind == "etch" else "",
        "rows": [],
    }


def _together(run: Sequence[Step], numbers: dict[str, str]) -> dict[str, Any]:
    """A run of steps of one kind: what they share once, and a row for each."""
    last = run[-1]
    return {
        "n": f"{numbers[run[0].id]} to {numbers[last.id]}",
        "title": TOGETHER[last.kind],
        "words": last.words,
        "until": "",
        "look": last.look,
        "time": f"about {minutes_words(sum(step.minutes or 0.0 for step in run))}",
        "room": "",
        "rows": [_row(step, numbers) for step in run],
    }


def _row(step: Step, numbers: dict[str, str]) -> dict[str, str]:
    return {
        "n": f"{numbers[step.id]}.",
        "grit": step.grit,
        "ansi": step.ansi,
        "um": f"{step.um:g}" if step.um else "",
        "off": depth_words(step.remove_um) if step.remove_um else "",
        "minutes": f"{step.minutes:g}" if step.minutes else "",
        "until": step.until,
    }


def _recipes_at(plan: PreparationPlan, step: Step) -> list[dict[str, Any]]:
    if step.kind != "mix":
        return []
    told = []
    for recipe in plan.recipes:
        if recipe.id == step.etchant:
            told.append({"title": f"{recipe.title}, {recipe.volume_ml:g} mL", "parts": _parts(recipe.parts)})
            told += _second(recipe)
    return told


def _second(recipe: Recipe) -> list[dict[str, Any]]:
    return [{"title": recipe.after.title, "parts": _parts(recipe.after.parts)}] if recipe.after else []


def _parts(parts: Sequence[Part]) -> list[dict[str, str]]:
    return [
        {
            "n": f"{n}.",
            "amount": f"{amount_words(part.amount)} {part.unit}",
            "substance": part.substance,
            "how": f"({part.how})" if part.how else "",
        }
        for n, part in enumerate(parts, start=1)
    ]


def _time(step: Step) -> str:
    return f"about {minutes_words(step.minutes)}" if step.minutes else ""
