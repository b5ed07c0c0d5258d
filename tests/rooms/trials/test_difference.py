"""Two groups of beads: what is shown, what is not, and what one bead against one can say."""

import math

import numpy as np
import pytest
from scipy import stats

from etchbook.quantity import Measured
from etchbook.trials.difference import difference, exact_permutation, least_shown, permutation_floor
from etchbook.trials.paired import paired_t, sign_flip
from etchbook.trials.scatter import BeadResponse, Scatter, StatisticsError

OWN = Scatter(sd=0.16, dof=5.0, source="own book")


def beads(*values: float, sections: int = 1) -> list[BeadResponse]:
    reading = [Measured(value=value, u=0.03, unit="mm") for value in values]
    return [BeadResponse(code=f"B{at}", sections=((one,),) * sections) for at, one in enumerate(reading)]


def test_the_worked_example_shows_its_three_views() -> None:
    found = difference(beads(1.10, 1.35, 1.22), beads(1.48, 1.61, 1.39), scatter=OWN, margin=0.2)
    permutation, interval, prior = found.views
    assert permutation.p == pytest.approx(0.10) and "never give less than 0.100" in permutation.words
    assert interval.p == pytest.approx(0.04874, abs=5e-6)
    assert (prior.low, prior.high) == pytest.approx((0.006, 0.534), abs=6e-4)
    assert found.verdict == "a difference is shown" and "does not show it" in found.words
    assert all(view.assumes for view in found.views)


def test_views_equal_scipy() -> None:
    a, b = [5.1, 5.4, 5.0, 5.3], [5.6, 5.2, 5.9]
    found = difference(beads(*a), beads(*b), scatter=OWN, margin=0.2)
    interval = next(view for view in found.views if view.name == "t interval")
    reference = stats.ttest_ind(b, a)
    assert interval.p == pytest.approx(reference.pvalue)
    assert (interval.low, interval.high) == pytest.approx(tuple(reference.confidence_interval(0.95)))


@pytest.mark.parametrize("apart", [0.1, 0.35, 0.6, 2.0])
def test_one_against_one_is_never_called_significant(apart: float) -> None:
    found = difference(beads(1.0), beads(1.0 + apart), scatter=OWN, margin=0.2)
    assert "significant" not in found.words and "2.77" in found.words
    assert ("No difference shown" in found.words) == (apart < least_shown(0.16))
    assert [view.name for view in found.views] == ["with prior"]


def test_no_difference_shown_is_never_no_difference() -> None:
    found = difference(beads(1.0, 1.3, 1.1), beads(1.2, 1.1, 1.3), scatter=OWN, margin=0.05)
    assert found.verdict == "no difference shown" and "not the same as no difference" in found.words


def test_many_like_beads_are_practically_none_apart() -> None:
    draw = np.random.default_rng(3)
    a, b = (list(1.0 + 0.05 * draw.normal(size=20)) for _ in range(2))
    found = difference(beads(*a), beads(*b), scatter=Scatter(sd=0.05, dof=20, source="own book"), margin=0.2)
    assert found.verdict == "practically none" and found.inside > 0.999


def test_chances_make_one() -> None:
    found = difference(beads(1.0, 1.2), beads(1.3, 1.2, 1.6), scatter=OWN, margin=0.15)
    assert found.inside + found.above + found.below == pytest.approx(1.0)


def test_sections_and_readings_do_not_make_more_beads() -> None:
    once = difference(beads(1.0, 1.2, 1.1), beads(1.3, 1.2, 1.6), scatter=OWN, margin=0.15)
    often = difference(beads(1.0, 1.2, 1.1, sections=5), beads(1.3, 1.2, 1.6, sections=5), scatter=OWN, margin=0.15)
    assert once.views == often.views and often.numbers == (3, 3)


def test_swapping_the_groups_turns_the_sign_and_nothing_else() -> None:
    one = difference(beads(1.0, 1.2, 1.1), beads(1.3, 1.5), scatter=OWN, margin=0.15)
    other = difference(beads(1.3, 1.5), beads(1.0, 1.2, 1.1), scatter=OWN, margin=0.15)
    assert one.value == pytest.approx(-other.value) and one.above == pytest.approx(other.below)
    assert one.views[0].p == pytest.approx(other.views[0].p)


def test_false_alarms_are_as_rare_as_promised() -> None:
    draw = np.random.default_rng(11)
    alarms = 0
    for _ in range(300):
        values = 1 + 0.16 * draw.normal(size=8)
        found = difference(beads(*values[:4]), beads(*values[4:]), scatter=OWN, margin=0.01)
        alarms += found.verdict == "a difference is shown"
    assert alarms <= 0.05 * 300 + 3 * math.sqrt(0.05 * 0.95 * 300)


def test_floor_of_the_permutation_is_reached_by_clearly_parted_beads() -> None:
    assert exact_permutation([1, 2, 3, 4], [11, 12, 13, 14]) == pytest.approx(permutation_floor(4, 4))
    assert exact_permutation([1.0], [9.0]) == 1.0 == permutation_floor(1, 1)


def test_one_bead_among_many_is_counted_by_hand() -> None:
    assert exact_permutation([1.0, 2.0, 3.0, 4.0], [9.0]) == pytest.approx(2 / 5)
    assert exact_permutation([9.0], [1.0, 2.0, 3.0, 4.0]) == pytest.approx(2 / 5)
    assert exact_permutation([2.5], [1.0, 2.0, 3.0, 4.0]) == 1.0
    found = difference(beads(1.0), beads(1.3, 1.35, 1.4), scatter=OWN, margin=0.1)
    assert next(view.p for view in found.views if view.name == "permutation") == pytest.approx(0.5)


def test_paired_values_need_to_differ() -> None:
    with pytest.raises(StatisticsError):
        paired_t([0.1])
    assert sign_flip([0.2, 0.3, 0.1, 0.4, 0.2]) == pytest.approx(2 / 32)


def test_refusals() -> None:
    with pytest.raises(StatisticsError, match="one bead"):
        difference([], beads(1.0), scatter=OWN, margin=0.1)
    with pytest.raises(StatisticsError, match="margin"):
        difference(beads(1.0), beads(1.1), scatter=OWN, margin=0.0)
    with pytest.raises(StatisticsError, match="without a reading"):
        BeadResponse(code="B1", sections=((),))
    with pytest.raises(StatisticsError, match="scatter"):
        Scatter(sd=0.0, dof=5, source="x")


def test_beads_that_lie_close_by_chance_show_nothing_that_their_readings_cannot() -> None:
    """Two and two beads 0.1 apart scatter by 0.01 only, but each was read to ±0.3."""
    rough = [
        [BeadResponse(code="A", sections=((Measured(value=value, u=0.3, unit="mm"),),)) for value in values]
        for values in ((1.00, 1.01), (1.30, 1.31))
    ]
    close = Scatter(sd=0.01, dof=50.0, source="own book")
    found = difference(*rough, scatter=close, margin=0.2)
    assert all(view.excludes_none for view in found.views if view.name != "permutation")
    # The u of a mean of two is 0.3/√2, of the difference of two means 0.3: twice that is 0.60.
    assert found.verdict == "no difference shown" and "±0.60" in found.words
