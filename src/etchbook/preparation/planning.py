"""From what a person wants to see to the steps that show it."""

from collections.abc import Sequence
from typing import Any

from etchbook.preparation.choices import choice, known
from etchbook.preparation.etching import (
    clean_step,
    doubt_steps,
    etch_steps,
    mix_step,
    photograph_step,
    unetched_step,
    waste_step,
)
from etchbook.preparation.grinding import checked_k, grinding_steps, papers, polishing_steps
from etchbook.preparation.mounting import mounting
from etchbook.preparation.recipes import recipe_boxes, scale_recipe
from etchbook.preparation.records import (
    Box,
    Known,
    Mounting,
    PreparationError,
    PreparationPlan,
    PrepareWish,
    Recipe,
    Step,
)
from etchbook.tables import cautions

FIRST = (
    "The safety data sheet of each substance and the rules of your shop and country come before anything said here.",
    "Figures are marked seen, from memory, common practice or own rule; check what is from memory before it counts.",
)
DISSIMILAR = "Two metals: the less corrosion-resistant one is etched first, then the other (ASTM E340, seen)."
_CODE = Known(fact="mark the back, keep edges", source="common practice", status="common practice")


def plan_preparation(wish: PrepareWish) -> PreparationPlan:
    """The steps from the cut piece to the photographed face.

    Parameters
    ----------
    wish : what is to be seen, the materials, how the piece was cut, and what else was asked for

    Returns
    -------
    PreparationPlan
        Steps, recipes and safety boxes; PreparationError, one sentence, where the wish cannot be met.
    """
    want, cut = choice("want", wish.want), choice("cut", wish.cut)
    materials = _materials(wish.materials)
    hold = mounting(wish, want["id"])
    recipes = _recipes(wish, want["id"], materials)
    body = _body(wish, want, cut, materials, hold, recipes)
    return PreparationPlan(
        want=want["id"],
        cut=cut["id"],
        materials=tuple(row["id"] for row in materials),
        title=f"To see {want['title']} in {' and '.join(row['title'] for row in materials)}, {cut['title']}",
        steps=body,
        mounting=hold,
        recipes=recipes,
        others=_others(want["id"], materials, recipes),
        removed_um=sum(step.remove_um or 0.0 for step in body),
        boxes=_boxes(body, materials, recipes),
        notes=_notes(materials, recipes),
    )


def _materials(names: Sequence[str]) -> tuple[dict[str, Any], ...]:
    """The materials, the least corrosion-resistant first."""
    rows = {row["id"]: row for row in (choice("material", name) for name in names)}
    if not 1 <= len(rows) <= 2:
        raise PreparationError(f"a section has one or two materials, not {len(rows)}")
    return tuple(sorted(rows.values(), key=lambda row: int(row["rank"])))


def _recipes(wish: PrepareWish, want: str, materials: Sequence[dict[str, Any]]) -> tuple[Recipe, ...]:
    """One recipe a material; a named etchant stands for all of them."""
    if wish.etchant:
        return (scale_recipe(wish.etchant, wish.volume_ml, want=want),)
    names = dict.fromkeys(row["etchants"][want] for row in materials)
    return tuple(scale_recipe(name, wish.volume_ml, want=want) for name in names)


def _body(
    wish: PrepareWish,
    want: dict[str, Any],
    cut: dict[str, Any],
    materials: Sequence[dict[str, Any]],
    hold: Mounting,
    recipes: Sequence[Recipe],
) -> tuple[Step, ...]:
    softest = max(materials, key=lambda row: float(row["k"]))
    factor = checked_k(wish.k, softest)
    last = papers(want, cut)[-1]
    polish = polishing_steps(want, softest, last, factor)
    finest = polish[-1].grit if polish else last.name
    tails = [""] if len(recipes) == 1 else [f"_{row.id}" for row in recipes]
    steps = [*_again(cut), _mark_step(), *_mount(hold), *grinding_steps(want, cut, softest, wish.k), *polish]
    steps.append(clean_step(softest))
    if want["id"] == "line":
        steps.append(unetched_step(want))
    for recipe, tail in zip(recipes, tails, strict=True):
        steps += [mix_step(recipe, tail), *etch_steps(recipe, want, finest, tail)]
    steps.append(photograph_step())
    if want["id"] == "line":
        steps += doubt_steps(recipes[-1], finest)
    return (*steps, *(waste_step(recipe, tail) for recipe, tail in zip(recipes, tails, strict=True)))


def _again(cut: dict[str, Any]) -> tuple[Step, ...]:
    if "again" not in cut:
        return ()
    step = Step(
        id="saw_again",
        kind="saw",
        title=f"Saw again, {cut['again_mm']} mm in",
        words=cut["again"],
        until="a sawn face without colour or burr stands where the section is to be",
        cautions=("cutting",),
        known=(known(cut),),
    )
    return (step,)


def _mark_step() -> Step:
    return Step(
        id="mark",
        kind="mark",
        title="Mark",
        words="Stamp or scribe the code of the piece on a side that is not ground. Take burrs off, but not at the "
        "weld: toe and undercut are measured at the very edge.",
        known=(_CODE,),
    )


def _mount(hold: Mounting) -> tuple[Step, ...]:
    if not hold.needed:
        return ()
    step = Step(
        id="mount",
        kind="mount",
        title=f"Mount in {hold.resin}",
        words=hold.words,
        minutes=hold.cure_minutes[1] if hold.cure_minutes else None,
        until="the resin is hard and cold",
        cautions=("mounting",),
        known=hold.known,
    )
    return (step,)


def _others(want: str, materials: Sequence[dict[str, Any]], recipes: Sequence[Recipe]) -> tuple[str, ...]:
    used = {recipe.id for recipe in recipes}
    told = [name for row in materials for name in (row["etchants"][want], *row["others"][want])]
    return tuple(name for name in dict.fromkeys(told) if name not in used)


def _boxes(steps: Sequence[Step], materials: Sequence[dict[str, Any]], recipes: Sequence[Recipe]) -> tuple[Box, ...]:
    """Every box that a step names, once, in the order in which steps come to it."""
    held = {box.id: box for recipe in recipes for box in recipe_boxes(recipe)}
    for usual in cautions():
        held.setdefault(usual.topic, Box(id=usual.topic, title=usual.title, text=usual.text, status=usual.status))
    for row in materials:
        if row["dust"]:
            name = f"dust_{row['id']}"
            held[name] = Box(id=name, title=f"Dust of {row['title']}", text=row["dust"], status="from memory")
    return tuple(held[name] for name in dict.fromkeys(name for step in steps for name in step.cautions))


def _notes(materials: Sequence[dict[str, Any]], recipes: Sequence[Recipe]) -> tuple[str, ...]:
    told = [*FIRST]
    if len(materials) > 1:
        told.append(DISSIMILAR)
    told += [row["note"] for row in materials if "note" in row]
    told += [warning for recipe in recipes for warning in recipe.warnings]
    return tuple(dict.fromkeys(told))
