"""How to cut, grind, polish and etch a piece so that it shows what is to be seen."""

from etchbook.preparation.choices import choices
from etchbook.preparation.coupon import Cut, CutPlan, CuttingError, CutWish, PlannedPiece
from etchbook.preparation.cutrules import cut_tests
from etchbook.preparation.cutting import plan_cuts
from etchbook.preparation.grits import ansi_words, grit, nearest_fepa
from etchbook.preparation.planning import plan_preparation
from etchbook.preparation.recipes import etchants, scale_recipe
from etchbook.preparation.records import (
    Grit,
    Mounting,
    PreparationError,
    PreparationPlan,
    PrepareWish,
    Recipe,
    Step,
)

__all__ = [
    "Cut",
    "CutPlan",
    "CutWish",
    "CuttingError",
    "Grit",
    "Mounting",
    "PlannedPiece",
    "PreparationError",
    "PreparationPlan",
    "PrepareWish",
    "Recipe",
    "Step",
    "ansi_words",
    "choices",
    "cut_tests",
    "etchants",
    "grit",
    "nearest_fepa",
    "plan_cuts",
    "plan_preparation",
    "scale_recipe",
]
