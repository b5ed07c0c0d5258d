"""Checked functions of the bench: grits, recipes, what is refused, and the cuts that a test asks for."""

from collections.abc import Callable
from typing import Any

from etchbook.preparation import CutPlan, CutWish, PreparationError, grit, plan_cuts, scale_recipe
from etchbook.usecases.words import family_named

Answer = float | str


def _amount(etchant: str, volume: float, substance: str) -> Answer:
    """Amount of one substance of an etchant; a bath that follows it is looked through as well."""
    recipe = scale_recipe(etchant, volume)
    parts = (*recipe.parts, *(recipe.after.parts if recipe.after else ()))
    found = [part.amount for part in parts if substance in part.substance]
    if len(found) != 1:
        raise LookupError(f"{etchant} has {len(found)} parts called {substance}")
    return found[0]


def _seconds(etchant: str, end: str) -> Answer:
    return scale_recipe(etchant, 50.0).seconds[0 if end == "least" else 1]


def _allowed(etchant: str) -> Answer:
    """Whether an etchant is told, and whether what is left of it may be stored."""
    try:
        return "may be kept" if scale_recipe(etchant, 50.0).may_keep else "use up"
    except PreparationError:
        return "refused"


def _plan(prove: str, family: str, length: float, **given: bool) -> Answer:
    """How many sections a plan makes of a coupon long enough for it."""
    return float(len(_cuts(prove, family, length, **given).sections))


def _discarded(prove: str, family: str, length: float) -> Answer:
    """Length of the first piece when it is discarded [mm]."""
    return _cuts(prove, family, length).pieces[0].length


def _cuts(prove: str, family: str, length: float, **given: Any) -> CutPlan:
    wish = CutWish(
        coupon="N1-03",
        length=length,
        width=150.0,
        family=family_named(family),
        prove=prove,
        thickness_1=8.0,
        start_stops=(round(length / 2),),
        **given,
    )
    return plan_cuts(wish)


CHECKED_PREPARATION: dict[str, Callable[..., Answer]] = {
    "cut_sections": _plan,
    "cuts_discarded": _discarded,
    "etchant_allowed": _allowed,
    "etchant_amount": _amount,
    "etchant_seconds": _seconds,
    "grit_ansi": lambda paper: grit(paper).ansi,
    "grit_um": lambda paper: grit(paper).um,
}
