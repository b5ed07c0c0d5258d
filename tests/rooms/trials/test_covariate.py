"""Differences at an equal covariate: by hand, against a library's own analysis of covariance, in a plan's rule."""

from dataclasses import replace

import numpy as np
import pandas
import pytest
from statsmodels.formula.api import ols

from etchbook.quantity import Measured
from etchbook.trials.covariate import at_equal
from etchbook.trials.deciding import decide
from etchbook.trials.planning import Wish, plan
from etchbook.trials.scatter import Scatter, StatisticsError

WISH = Wish(
    question="does a longer stick-out raise the bead?",
    response="convexity",
    worth=0.3,
    scatter=Scatter(sd=0.16, dof=5.0, source="own book"),
    arms=("10 mm", "15 mm"),
    secret="kept",
    covariate="start_temperature",
)


def test_two_parallel_lines_by_hand() -> None:
    # a: 1, 2, 3 over 0, 1, 2; b: 4, 5, 7 over 1, 2, 3. Within groups Sxy = 2 + 3, Sxx = 2 + 2: slope 1.25.
    found = at_equal([(0, 1), (1, 2), (2, 3)], [(1, 4), (2, 5), (3, 7)])
    assert found.slope == pytest.approx(1.25)
    assert found.value == pytest.approx(16 / 3 - 2 - 1.25 * (2 - 1)) and found.dof == 3


def test_the_formula_interface_says_the_same() -> None:
    draw = np.random.default_rng(2)
    warm, group = draw.normal(25, 8, 12), np.repeat([0, 1], 6)
    tall = 1 - 0.01 * warm + 0.2 * group + 0.05 * draw.normal(size=12)
    table = pandas.DataFrame({"tall": tall, "warm": warm, "bay": group})
    reference = ols("tall ~ C(bay) + warm", table).fit()
    pairs = [list(zip(warm[group == side], tall[group == side], strict=True)) for side in (0, 1)]
    found = at_equal(pairs[0], pairs[1])
    assert found.value == pytest.approx(reference.params["C(bay)[T.1]"], rel=1e-9)
    assert found.p == pytest.approx(reference.pvalues["C(bay)[T.1]"], rel=1e-6)
    assert found.low == pytest.approx(reference.conf_int().loc["C(bay)[T.1]", 0], rel=1e-9)


@pytest.mark.parametrize(
    ("a", "b", "told"),
    [
        ([(0, 1)], [(1, 2), (2, 3), (3, 5)], "two in each group"),
        ([(20, 1), (20, 2)], [(30, 3), (30, 5)], "the same within each group"),
        ([(0, 1), (1, 2)], [(0, 2), (1, 3)], "without any scatter"),
    ],
)
def test_what_cannot_be_told_apart_is_refused(
    a: list[tuple[float, float]], b: list[tuple[float, float]], told: str
) -> None:
    with pytest.raises(StatisticsError, match=told):
        at_equal(a, b)


def test_the_rule_names_it_and_the_decision_takes_its_part_out() -> None:
    made = plan(WISH)
    assert "at equal start temperature" in made.rule.words and made.lock != plan(replace(WISH, covariate="")).lock
    draw = np.random.default_rng(6)
    runs = [run for run in made.runs if run.code]
    warm = {run.code: 20.0 + 60 * (run.arm == "15 mm") + 15 * draw.normal() for run in runs}
    told = {
        run.code: Measured(value=1 - 0.01 * warm[run.code] + 0.02 * draw.normal(), u=0.02, unit="mm") for run in runs
    }
    found = decide(made, made.key, told, covariate=warm)
    plain = decide(plan(replace(WISH, covariate="")), plan(replace(WISH, covariate="")).key, told)
    assert plain.answer == "effect", "the warmer arm would be taken for flatter"
    assert found.answer != "effect" and "at equal start temperature" in found.words
    unused = decide(plan(replace(WISH, covariate="")), plan(replace(WISH, covariate="")).key, told, covariate=warm)
    assert unused.answer == "effect" and "was not used" in unused.notes[-1]
    with pytest.raises(StatisticsError, match="start temperature, and it is missing"):
        decide(made, made.key, told)


def test_an_odd_bead_is_named_and_counted() -> None:
    made = plan(replace(WISH, covariate=""))
    runs = [run for run in made.runs if run.code]
    told = {run.code: Measured(value=1 + 0.01 * (at % 5), u=0.02, unit="mm") for at, run in enumerate(runs)}
    odd = runs[3]
    told[odd.code] = Measured(value=1.6, u=0.02, unit="mm")
    found = decide(made, made.key, told)
    assert odd.code in found.notes[0] and "It was counted" in found.notes[0]
    side = made.wish.arms.index(odd.arm)
    held = [told[run.code].value for run in runs if run.arm == odd.arm]
    other = [told[run.code].value for run in runs if run.arm != odd.arm]
    apart = np.mean(held) - np.mean(other)
    assert found.difference.value == pytest.approx(apart if side else -apart)
