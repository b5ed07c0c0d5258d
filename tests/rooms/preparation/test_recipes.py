"""Recipes: amounts by hand, the order of mixing, and what is never told."""

import pytest

from etchbook.preparation import PreparationError, etchants, scale_recipe
from etchbook.preparation.recipes import check_nitric, recipe_boxes
from etchbook.preparation.records import Part, Recipe
from etchbook.tables.packaged import packaged

NAMES = [name for name, _, _ in etchants()]


def parts(recipe: Recipe) -> dict[str, float]:
    return {part.kind: part.amount for part in recipe.parts}


def test_nital_of_5_percent_for_80_ml_is_76_and_4() -> None:
    made = scale_recipe("nital 5 %", 80)
    assert parts(made) == {"alcohol": pytest.approx(76.0), "nitric": pytest.approx(4.0)}


def test_persulfate_for_50_ml_is_5_g_not_5_mg() -> None:
    made = scale_recipe("persulfate", 50)
    assert parts(made) == {"water": pytest.approx(50.0), "solid": pytest.approx(5.0)}


@pytest.mark.parametrize("name", NAMES)
def test_an_acid_or_alkali_is_never_the_first_into_the_vessel(name: str) -> None:
    made = scale_recipe(name, 50)
    for row in (made.parts, made.after.parts if made.after else ()):
        kinds = [part.kind for part in row]
        if kinds:
            assert kinds[0] in ("water", "alcohol", "ready")
        for part in row:
            if part.kind in ("acid", "nitric", "alkali"):
                assert "add slowly" in part.how or "strew slowly" in part.how


@pytest.mark.parametrize("name", NAMES)
def test_twice_the_volume_is_twice_of_everything(name: str) -> None:
    once, twice = scale_recipe(name, 40), scale_recipe(name, 80)
    assert [2 * part.amount for part in once.parts] == pytest.approx([part.amount for part in twice.parts])


@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_has_safety_waste_stop_and_source(name: str) -> None:
    made = scale_recipe(name, 50)
    boxes = {box.id: box for box in recipe_boxes(made)}
    assert set(made.boxes) == set(boxes) and "etching" in boxes
    assert "safety data sheet" in boxes["etching"].text
    assert made.waste and made.stop and made.keep and 0 < made.seconds[0] <= made.seconds[1]
    assert all(item.source and item.status in ("seen", "from memory", "common practice") for item in made.known)


def test_nothing_with_hydrofluoric_acid_can_be_had() -> None:
    for row in packaged("etchants")["etchant"]:
        told = str(row).lower()
        assert "hydrofluoric" not in told and "fluor" not in told and " hf" not in told
    for name in (
        "HF",
        "Keller's",
        "keller’s reagent",
        "Tucker",
        "Poulton's",
        "Kroll's",
        "2 % hydrofluoric acid",
        "Barker's",
    ):
        with pytest.raises(PreparationError, match=r"not told here.*(hydrofluoric|fluoride)"):
            scale_recipe(name, 50)


@pytest.mark.parametrize(
    "name", ["nital 10.1 %", "nital 15", "12 % nitric acid in ethanol", "nitric acid 25 % in alcohol"]
)
def test_nitric_acid_in_alcohol_above_10_percent_is_refused_with_the_reason(name: str) -> None:
    with pytest.raises(PreparationError, match="above 10 % such mixtures can explode"):
        scale_recipe(name, 50)


def test_10_percent_itself_is_told_and_25_percent_in_water_is_no_alcohol() -> None:
    assert scale_recipe("nital 10 %", 50).percent == 10
    assert scale_recipe("sodium_hydroxide", 50).after is not None
    with pytest.raises(PreparationError, match="explode"):
        check_nitric(
            [
                Part(substance="methanol", kind="alcohol", amount=80, unit="mL", how=""),
                Part(substance="nitric acid", kind="nitric", amount=20, unit="mL", how=""),
            ],
            "a mixture",
        )


@pytest.mark.parametrize(("percent", "kept"), [(2, True), (3, True), (3.1, False), (5, False), (10, False)])
def test_above_3_percent_nothing_is_stored_and_that_is_said(percent: float, kept: bool) -> None:
    made = scale_recipe(f"nital {percent:g} %", 50)
    assert made.may_keep is kept
    assert any("never stored" in warning for warning in made.warnings) is not kept
    assert made.keep.startswith("Do not keep it") is not kept


def test_nital_is_mixed_in_small_amounts_only() -> None:
    scale_recipe("nital 2 %", 100)
    for volume in (101, 1000, 0, -5, float("nan")):
        with pytest.raises(PreparationError, match="volume of nital must be 5 to 100 mL"):
            scale_recipe("nital 2 %", volume)


def test_picral_is_bought_never_mixed_from_dry_acid() -> None:
    made = scale_recipe("picral", 50)
    assert [part.kind for part in made.parts] == ["ready"]


def test_other_strengths_of_fixed_recipes_and_unknown_names_are_refused() -> None:
    with pytest.raises(PreparationError, match="one strength"):
        scale_recipe("persulfate 20 %", 50)
    assert scale_recipe("persulfate 10 %", 50) == scale_recipe("persulfate", 50)
    for name in ("vinegar", "", "nital -3 %", "nital 0"):
        with pytest.raises(PreparationError):
            scale_recipe(name, 50)


def test_amounts_too_small_to_measure_are_said() -> None:
    assert any("too small" in warning for warning in scale_recipe("nital 1 %", 10).warnings)
    assert not any("too small" in warning for warning in scale_recipe("nital 2 %", 50).warnings)
