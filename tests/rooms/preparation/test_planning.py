"""From wish to steps: papers, depths, safety at each step, two metals, resin."""

import math

import pytest

from etchbook.preparation import PreparationError, PreparationPlan, PrepareWish, choices, plan_preparation

WANTS = [name for name, _ in choices("want")]
MATERIALS = [name for name, _ in choices("material")]
CUTS = [name for name, _ in choices("cut")]


def plan(want: str = "outline", material: str = "carbon_steel", cut: str = "saw", **given: object) -> PreparationPlan:
    return plan_preparation(PrepareWish(want=want, materials=(material,), cut=cut, **given))  # type: ignore[arg-type]


def ground(made: PreparationPlan) -> list[str]:
    return [step.grit for step in made.steps if step.kind == "grind"]


@pytest.mark.parametrize("want", WANTS)
@pytest.mark.parametrize("material", MATERIALS)
@pytest.mark.parametrize("cut", CUTS)
def test_every_wish_has_whole_steps(want: str, material: str, cut: str) -> None:
    made = plan(want, material, cut)
    ids = [step.id for step in made.steps]
    boxes = {box.id for box in made.boxes}
    assert len(set(ids)) == len(ids)
    assert boxes == {name for step in made.steps for name in step.cautions}
    assert all(step.title and step.words for step in made.steps)
    assert all(item.source and item.status for step in made.steps for item in step.known)
    sizes = [step.um for step in made.steps if step.kind == "grind" and step.um]
    assert sizes == sorted(sizes, reverse=True) and len(set(sizes)) == len(sizes)
    assert "safety data sheet" in made.notes[0] and "rules" in made.notes[0]
    assert ids.index("clean") < next(n for n, step in enumerate(made.steps) if step.kind == "etch")


def test_a_sawn_face_for_the_outline_starts_at_p80_and_ends_at_p400() -> None:
    assert ground(plan("outline", cut="saw")) == ["P80", "P120", "P240", "P400"]


def test_a_wet_disc_starts_finer_than_a_saw() -> None:
    assert ground(plan("outline", cut="disc")) == ["P180", "P240", "P400"]


@pytest.mark.parametrize("cut", ["flame", "plasma", "shear", "guillotine"])
def test_burnt_and_sheared_edges_are_sawn_away_first(cut: str) -> None:
    first = plan(cut=cut).steps[0]
    assert first.kind == "saw" and "at least 5 mm" in first.words and first.cautions == ("cutting",)


def test_each_paper_takes_off_k_times_the_grit_before() -> None:
    off = [step.remove_um for step in plan("outline", cut="saw").steps if step.kind == "grind"]
    assert off == [500, 201, 125, 58.5]  # the saw's half millimetre, then once P80, P120, P240
    doubled = [step.remove_um for step in plan("outline", "stainless", "saw").steps if step.kind == "grind"]
    assert doubled == [500, 402, 250, 117]
    own = [step.remove_um for step in plan("outline", cut="saw", k=3.0).steps if step.kind == "grind"]
    assert own == [500, 603, 375, 175.5]


def test_the_whole_depth_is_the_sum_of_the_steps() -> None:
    made = plan("haz")
    assert made.removed_um == pytest.approx(500 + 201 + 125 + 58.5 + 35 + 25.8)


def test_turn_rinse_and_look_stand_at_each_paper() -> None:
    papers = [step for step in plan("haz").steps if step.kind == "grind"]
    assert all("90°" in step.words for step in papers[1:])
    assert all("Rinse" in step.words and "light from the side" in step.look for step in papers)
    assert all("as long again" in step.until for step in papers[1:])


def test_a_doubtful_line_is_seen_unetched_first_and_again_after_polishing() -> None:
    made = plan("line")
    ids = [step.id for step in made.steps]
    assert [step.grit for step in made.steps if step.id.startswith("polish_")] == [
        "6 µm diamond",
        "3 µm diamond",
        "1 µm diamond",
    ]
    assert ids.index("look_unetched") < ids.index("mix") < ids.index("etch") < ids.index("repolish")
    assert made.recipes[0].id == "nital" and made.recipes[0].percent == 2
    assert "look_unetched" not in [step.id for step in plan("outline").steps]


def test_grains_of_tough_and_soft_metals_get_a_final_oxide_polish() -> None:
    def last(material: str, want: str) -> str:
        return [step.grit for step in plan(want, material).steps if step.kind in ("grind", "polish")][-1]

    assert last("stainless", "grains") == last("aluminium", "grains") == "0.05 µm oxide"
    assert last("carbon_steel", "grains") == "1 µm diamond" and last("stainless", "outline") == "P400"


def test_safety_boxes_stand_at_the_step_that_needs_them() -> None:
    made = plan("haz", mount=True)
    at = {step.id: step.cautions for step in made.steps}
    assert "nital" in at["mix"] and "etching" in at["mix"] and "nital" in at["etch"] and "nital" in at["waste"]
    assert at["grind_p80"] == ("grinding",) and at["mount"] == ("mounting",)
    assert "dust_aluminium" in {name for step in plan("haz", "aluminium").steps for name in step.cautions}


def test_aluminium_gets_no_alcohol_and_no_hydrofluoric_acid() -> None:
    made = plan("grains", "aluminium")
    assert made.recipes[0].id == "sodium_hydroxide" and made.recipes[0].after is not None
    clean = next(step for step in made.steps if step.id == "clean")
    assert "alcohol" not in clean.words
    assert any("hydrofluoric" in note and "not told" in note for note in made.notes)
    assert all("hydrofluoric" not in step.words.lower() for step in made.steps)


def test_of_two_metals_the_less_resistant_is_etched_first() -> None:
    for order in (("stainless", "carbon steel"), ("carbon steel", "stainless")):
        made = plan_preparation(PrepareWish(want="haz", materials=order, cut="saw"))
        assert made.materials == ("carbon_steel", "stainless")
        assert [step.etchant for step in made.steps if step.kind == "etch"] == ["nital", "oxalic"]
        assert any("less corrosion-resistant" in note for note in made.notes)


def test_three_metals_are_refused() -> None:
    with pytest.raises(PreparationError, match="one or two materials, not 3"):
        plan_preparation(PrepareWish(want="haz", materials=("steel", "nickel", "stainless"), cut="saw"))


def test_resin_for_a_face_of_30_by_20_and_12_thick() -> None:
    made = plan("line", size_mm=(30.0, 20.0, 12.0)).mounting
    # Diagonal 36.06 and twice 4 mm of resin: the 50 mm mould; 12 mm and 5 above it; a tenth to spare.
    by_hand = 1.1 * (math.pi / 4 * 50**2 * 17 - 30 * 20 * 12) / 1000
    assert made.needed and made.mould_mm == 50 and made.height_mm == 17
    assert made.resin_ml == pytest.approx(by_hand)
    assert made.cure_minutes == (60, 300)


def test_a_ground_face_is_not_mounted_a_small_or_polished_one_is() -> None:
    assert not plan("outline", size_mm=(60.0, 30.0, 15.0)).mounting.needed
    assert plan("outline", size_mm=(15.0, 10.0, 10.0)).mounting.needed
    assert plan("grains").mounting.needed
    assert not plan("grains", mount=False).mounting.needed
    assert not plan("line", size_mm=(120.0, 40.0, 15.0)).mounting.needed


def test_too_large_a_face_for_any_mould_is_refused_when_mounting_is_asked_for() -> None:
    with pytest.raises(PreparationError, match="goes into no mould up to 50 mm"):
        plan("line", size_mm=(120.0, 40.0, 15.0), mount=True)


def test_much_epoxy_is_poured_in_layers() -> None:
    assert "in layers" in plan("line", size_mm=(30.0, 20.0, 30.0)).mounting.words
    assert "in layers" not in plan("line", size_mm=(15.0, 10.0, 10.0)).mounting.words


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"want": "colour"}, "nothing to look for"),
        ({"material": "wood"}, "no material"),
        ({"cut": "teeth"}, "no way of cutting"),
        ({"resin": "honey", "mount": True}, "no resin"),
        ({"k": 0.0}, "k, the times"),
        ({"k": float("nan")}, "k, the times"),
        ({"etchant": "keller"}, "hydrofluoric"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_sentence(given: dict[str, object], told: str) -> None:
    with pytest.raises(PreparationError, match=told):
        plan(**given)  # type: ignore[arg-type]
