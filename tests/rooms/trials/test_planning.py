"""Plans that are fixed beforehand and decided by their own rule."""

from dataclasses import replace

import numpy as np
import pytest
from statsmodels.stats.power import TTestIndPower, TTestPower

from etchbook.quantity import Measured
from etchbook.trials.deciding import decide
from etchbook.trials.planning import Plan, Wish, before_after_line, plan
from etchbook.trials.scatter import Scatter, StatisticsError
from etchbook.trials.sizing import beads_per_arm, pairs_needed, power_paired, power_two_groups

OWN = Scatter(sd=0.16, dof=5.0, source="own book")
WISH = Wish(
    question="does a longer stick-out raise the bead?",
    response="convexity",
    worth=0.3,
    scatter=OWN,
    arms=("10 mm", "15 mm"),
    secret="kept",
)
ROLLING = replace(WISH, arms=("suspect", "reference"), kind="reference cylinder")


def results(made: Plan, shift: float, seed: int = 1, drift: float = 0.0) -> dict[str, Measured]:
    draw = np.random.default_rng(seed)
    told = {}
    for run in made.runs:
        if run.code:
            moved = (
                run.arm == made.wish.arms[1]
                if made.wish.kind == "two arms"
                else (run.arm == made.wish.arms[0] and run.phase == 2)
            )
            value = 1 + 0.05 * draw.normal() + shift * moved + drift * run.phase
            told[run.code] = Measured(value=value, u=0.03, unit="mm")
    return told


def test_power_equals_statsmodels() -> None:
    for number, ratio in ((3, 2.0), (6, 1.2), (15, 0.7), (40, 0.3)):
        reference = TTestIndPower().power(effect_size=ratio, nobs1=number, alpha=0.05)
        assert power_two_groups(number, ratio) == pytest.approx(reference, abs=1e-9)
        reference = TTestPower().power(effect_size=ratio, nobs=number, alpha=0.05)
        assert power_paired(number, ratio) == pytest.approx(reference, abs=1e-9)


def test_sizes_are_the_fewest_that_reach_the_power() -> None:
    for worth in (0.15, 0.3, 0.5):
        number = beads_per_arm(0.16, worth)
        assert power_two_groups(number, worth / 0.16) >= 0.8
        assert number == 2 or power_two_groups(number - 1, worth / 0.16) < 0.8
    with pytest.raises(StatisticsError, match="larger difference"):
        beads_per_arm(1.0, 0.01)
    with pytest.raises(StatisticsError):
        pairs_needed(0.0, 0.1)


def test_the_same_wish_gives_the_same_plan_and_another_seed_another_order() -> None:
    assert plan(WISH) == plan(WISH)
    orders = {tuple(run.arm for run in plan(replace(WISH, seed=seed)).runs) for seed in range(8)}
    assert len(orders) > 4


def test_every_block_holds_each_arm_once_after_the_warm_up() -> None:
    made = plan(replace(WISH, warm_up=2))
    assert [run.arm for run in made.runs[:2]] == ["", ""] and made.beads == 2 * made.per_arm
    for block in range(1, made.per_arm + 1):
        assert {run.arm for run in made.runs if run.block == block} == set(WISH.arms)


def test_codes_are_unlike_each_other_and_hang_on_the_secret_alone() -> None:
    made, other = plan(WISH), plan(replace(WISH, secret="another"))
    codes = [run.code for run in made.runs if run.code]
    assert len(set(codes)) == len(codes) and not set("01OISBZ258") & set("".join(codes))
    assert [run.code for run in other.runs if run.code] != codes
    assert [run.arm for run in other.runs] == [run.arm for run in made.runs]


def test_a_clear_effect_is_decided_and_none_is_practically_none() -> None:
    made = plan(WISH)
    key = made.key
    assert decide(made, key, results(made, 0.5)).answer == "effect"
    many = plan(replace(WISH, beads=20))
    assert decide(many, many.key, results(many, 0.0)).answer == "practically none"


def test_drift_between_phases_falls_out_of_the_reference_plan() -> None:
    made = plan(ROLLING)
    key = made.key
    assert decide(made, key, results(made, 0.0, drift=0.8)).answer != "effect"
    found = decide(made, key, results(made, 0.5, drift=0.8))
    assert found.answer == "effect" and found.difference.value == pytest.approx(0.5, abs=0.1)


def test_a_changed_plan_or_key_is_found_out() -> None:
    made = plan(WISH)
    key = made.key
    softer = replace(made, rule=replace(made.rule, shown_beyond=0.01))
    with pytest.raises(StatisticsError, match="locked"):
        decide(softer, key, results(made, 0.1))
    swapped = {code: held | {"arm": "10 mm"} for code, held in key["codes"].items()}  # type: ignore[attr-defined]
    with pytest.raises(StatisticsError, match="key"):
        decide(made, made.key | {"codes": swapped}, results(made, 0.1))


def test_an_unplanned_stop_counts_whole_blocks_and_says_so() -> None:
    made = plan(WISH)
    key, told = made.key, results(made, 0.5)
    last = [run.code for run in made.runs][-1]
    del told[last]
    with pytest.raises(StatisticsError, match="lack a bead"):
        decide(made, key, told)
    found = decide(made, key, told, stopped="gas ran out")
    assert found.blocks == (made.per_arm - 1, made.per_arm) and "gas ran out" in found.words


def test_a_bead_of_another_trial_is_refused() -> None:
    made = plan(WISH)
    with pytest.raises(StatisticsError, match="no bead of this trial"):
        decide(made, made.key, {"QQQ": Measured(value=1, u=0.1, unit="mm")})


def test_three_and_three_cannot_show_it() -> None:
    assert "0.49" in before_after_line(0.16) and "warm-up" in before_after_line(0.16)
    assert before_after_line(0.16) in plan(ROLLING).notes


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"question": " "}, "question"),
        ({"arms": ("a", "a")}, "arms"),
        ({"worth": -1.0}, "margin|above 0"),
        ({"margin": 0.4}, "margin"),
        ({"beads": 1}, "2 to 400"),
        ({"power": 1.0}, "power"),
        ({"sections": 0}, "sections"),
    ],
)
def test_wishes_that_make_no_sense_are_refused(change: dict[str, object], told: str) -> None:
    with pytest.raises(StatisticsError, match=told):
        plan(replace(WISH, **change))  # type: ignore[arg-type]
