"""A way to prepare a face as plain data for JSON, and as lines of text."""

from dataclasses import asdict
from typing import Any

from etchbook.preparation import Mounting, PreparationPlan, Recipe, Step
from etchbook.preparation.etching import span_words
from etchbook.preparation.records import Known

FORMAT = "etchbook preparation 1"
WIDE = 96


def preparation_document(plan: PreparationPlan) -> dict[str, Any]:
    """A way to prepare a face as plain data for JSON: steps by id, so that each can be ticked off and kept."""
    return {"format": FORMAT, **_plain(asdict(plan))}


def preparation_text(plan: PreparationPlan) -> str:
    """A way to prepare a face as text, safety first, a tick box before every step."""
    lines = [plan.title, "=" * min(len(plan.title), WIDE), ""]
    lines += [f"! {note}" for note in plan.notes]
    lines += [
        "",
        f"Mounting: {mounting_words(plan.mounting)}",
        f"Taken off in all: at least {depth_words(plan.removed_um)}",
    ]
    told: set[str] = set()
    for number, step in enumerate(plan.steps, start=1):
        lines += ["", *_step_lines(plan, number, step, told)]
    if plan.others:
        lines += ["", f"Other etchants that would do: {', '.join(plan.others)}"]
    lines += ["", "Where this stands:"]
    lines += [f"  [{item.status}] {item.fact}: {item.source}" for item in facts_of(plan)]
    return "\n".join(lines) + "\n"


def facts_of(plan: PreparationPlan) -> tuple[Known, ...]:
    """Every fact of a plan once, with where it stands."""
    held = [item for step in plan.steps for item in step.known if item.fact]
    return tuple(dict.fromkeys(held))


def depth_words(um: float) -> str:
    """A depth in words: micrometres below a tenth of a millimetre, else millimetres."""
    return f"{um:.0f} µm" if um < 95 else f"{um / 1000:.2g} mm"


def _step_lines(plan: PreparationPlan, number: int, step: Step, told: set[str]) -> list[str]:
    """One step; the text of a safety box stands at the first step that needs it, later ones name it."""
    lines = [f"[ ] {number}. {step.title}{_about(step)}   ({step.id})"]
    boxes = {box.id: box for box in plan.boxes}
    for name in step.cautions:
        if name not in told:
            lines.append(f"    ! {boxes[name].title}: {boxes[name].text} ({boxes[name].status})")
    if again := [boxes[name].title for name in step.cautions if name in told]:
        lines.append(f"    ! As above: {', '.join(again)}")
    told.update(step.cautions)
    lines.append(f"    {step.words}")
    lines += [f"    {label}: {text}" for label, text in (("Until", step.until), ("Look", step.look)) if text]
    return lines


def _about(step: Step) -> str:
    return f", about {minutes_words(step.minutes)}" if step.minutes else ""


def minutes_words(minutes: float) -> str:
    """Minutes in words, hours from two hours on."""
    return f"{minutes / 60:g} h" if minutes >= 120 else f"{minutes:g} min"


def mounting_words(hold: Mounting) -> str:
    """Whether the piece goes into resin, with amount and cure."""
    if not hold.needed:
        return f"none ({hold.why})"
    told = f"in {hold.resin} ({hold.why})"
    if hold.resin_ml is not None and hold.mould_mm is not None:
        told += f"; mould {hold.mould_mm:g} mm, {hold.height_mm:g} mm high, about {hold.resin_ml:.0f} mL of resin"
    if hold.cure_minutes:
        low, high = hold.cure_minutes
        told += f"; cures in {minutes_words(low)} to {minutes_words(high)}"
    return told


def recipe_time(recipe: Recipe) -> str:
    """Time and temperature of an etchant."""
    warm = recipe.temperature or "room temperature"
    return f"{span_words(*recipe.seconds)}, {warm}"


def _plain(value: Any) -> Any:
    """Numbers without the dust of binary fractions."""
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    return round(value, 4) if isinstance(value, float) else value
