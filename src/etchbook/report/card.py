"""The bench card as a tagged PDF: every step with a box to tick, safety at the step that needs it."""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from importlib import resources
from typing import Any

from etchbook.preparation import PreparationPlan, Recipe, Step
from etchbook.preparation.etching import amount_words
from etchbook.preparation.records import Part
from etchbook.report.card_words import minutes_words, mounting_words, recipe_time
from etchbook.report.typeset import typeset_pdf


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
        "minutes": minutes_words(sum(step.minutes or 0.0 for step in plan.steps if step.kind != "mount")),
        "facts": _facts(plan),
        "notes": list(plan.notes),
        "steps": _steps(plan),
        "others": ", ".join(plan.others),
    }


def _facts(plan: PreparationPlan) -> list[dict[str, str]]:
    told = [
        ("mounting", mounting_words(plan.mounting)),
        ("taken off in all", f"at least {plan.removed_um / 1000:.2g} mm"),
    ]
    for recipe in plan.recipes:
        told.append(("etchant", f"{recipe.title}, {recipe_time(recipe)}; shows {recipe.shows}"))
        told.append(("may be kept", "yes, see the last step" if recipe.may_keep else f"no: {recipe.keep}"))
    return [{"label": label, "value": value} for label, value in told]


def _steps(plan: PreparationPlan) -> list[dict[str, Any]]:
    """The steps; a safety box is printed whole at the first step that needs it, and named at those after it."""
    boxes = {box.id: box for box in plan.boxes}
    told: set[str] = set()
    steps = []
    for number, step in enumerate(plan.steps, start=1):
        new = [name for name in step.cautions if name not in told]
        again = [boxes[name].title for name in step.cautions if name in told]
        told.update(new)
        recipes = _recipes_at(plan, step)
        steps.append(
            {
                "n": str(number),
                "title": step.title,
                "words": "Label the vessel: what, strength, date, name." if step.kind == "mix" else step.words,
                "until": step.until,
                "look": step.look,
                "time": _time(step),
                "room": "seconds taken: ____" if step.kind == "etch" else "",
                "boxes": [
                    {"title": boxes[name].title, "text": boxes[name].text, "status": boxes[name].status} for name in new
                ],
                "recipes": recipes,
                "known": _known(step, again),
                "first": "Read the safety box first." if new else "",
                "sticky": bool(new or recipes),
            }
        )
    return steps


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


def _known(step: Step, again: Sequence[str]) -> str:
    told = [f"Safety as above: {', '.join(again)}."] if again else []
    told += [f"{item.fact}: {item.source} ({item.status})." for item in step.known if item.fact]
    return " ".join(told)
