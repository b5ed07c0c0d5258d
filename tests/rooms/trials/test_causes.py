"""Amount against form, confounded settings, and the causes of a changed bead."""

import pytest

from etchbook.evidence import Answer, Case, next_tests
from etchbook.evidence.weighing import posterior, priors
from etchbook.quantity import Absent, Measured
from etchbook.trials.amount_shape import bead_height, fillet_convexity, flat_leg, form, split
from etchbook.trials.causes import bead_table, checks, from_log, from_readings
from etchbook.trials.confounding import suspects
from etchbook.trials.scatter import StatisticsError


def mm(value: float, u: float = 0.02) -> Measured:
    return Measured(value=value, u=u, unit="mm")


def test_the_same_form_enlarged_is_all_amount() -> None:
    found = split(mm(1.0), mm(1.2), mm(10.0, 0.1), mm(14.4, 0.1))
    assert found.shape.value == pytest.approx(0.0, abs=1e-12) and found.at_equal_area.value == pytest.approx(1.0)
    assert "amount, so look at wire feed" in found.words


def test_the_same_amount_in_another_form_is_all_shape() -> None:
    found = split(mm(0.6), mm(0.9), mm(18.0, 0.1), mm(18.0, 0.1), name="convexity")
    assert found.amount.value == 0.0 and found.shape.value == pytest.approx(0.3) and "form, so" in found.words
    assert found.total.value == pytest.approx(found.amount.value + found.shape.value)


def test_small_changes_are_called_small() -> None:
    assert "neither" in split(mm(0.6, 0.1), mm(0.65, 0.1), mm(18.0, 1.0), mm(18.3, 1.0)).words


def test_convexity_of_fillets_as_tabled() -> None:
    found = [fillet_convexity(18.0, leg) for leg in (6.0, 5.8, 5.5, 5.0)]
    assert found == pytest.approx([0.0, 0.216, 0.554, 1.167], abs=6e-4)  # research note 3b
    assert bead_height(15.0, 7.5) == pytest.approx(3.0) and flat_leg(18.0) == pytest.approx(6.0)
    assert form(mm(3.0), mm(7.5)).value == pytest.approx(0.4)
    with pytest.raises(StatisticsError):
        flat_leg(-1.0)


def test_what_moved_with_the_thing_under_test_is_named_first() -> None:
    a = [{"cylinder": "old", "start_temperature": 20.0}, {"cylinder": "old", "start_temperature": 25.0}]
    b = [{"cylinder": "new", "start_temperature": 80.0}, {"cylinder": "new", "start_temperature": 95.0}]
    found = suspects(a, b, under_test="cylinder")
    assert found[0].setting == "start_temperature" and found[0].kind == "moved with it"
    assert "cylinder" not in {one.setting for one in found}
    assert {one.kind for one in found[1:]} == {"not logged"}


def test_overlapping_settings_differ_in_part_and_small_ones_little() -> None:
    a = [{"volts": 18.0, "travel": 5.0}, {"volts": 20.0, "travel": 5.1}]
    b = [{"volts": 19.5, "travel": 5.05}, {"volts": 21.0, "travel": 5.1}]
    found = {one.setting: one.kind for one in suspects(a, b)}
    assert found["volts"] == "differs" and found["travel"] == "differs little"


def test_words_and_settings_of_the_own_shop_are_held_against_each_other() -> None:
    found = {
        one.setting: one for one in suspects([{"surface": "ground", "jig": "A"}], [{"surface": "scale", "jig": "B"}])
    }
    assert found["surface"].kind == "moved with it" and found["jig"].kind == "moved with it"
    one_side = suspects([{"gas": "M21"}], [{}])
    assert next(one for one in one_side if one.setting == "gas").kind == "logged on one side"


def test_the_table_can_be_used_and_its_priors_make_one() -> None:
    told = priors(bead_table(), Case(gate="any"))
    assert len(told) == 20 and sum(told.values()) == pytest.approx(1.0)
    assert told["start_temperature"] == pytest.approx(0.16) and told["unmixed"] == pytest.approx(0.003)
    for row in (*bead_table().causes, *bead_table().tests):
        assert row.status == "common practice"


def test_looks_that_cost_nothing_come_first_and_rolling_is_not_worth_it() -> None:
    ranked = [one.test.id for one in next_tests(bead_table(), Case(gate="any"))]
    assert ranked[0] == "thermometer" and "roll_cylinder" not in ranked
    order = [one.cause for one in checks(Case(gate="any"))]
    assert order[0] == "start_temperature" and order[-1] == "unmixed"


def test_amps_that_differ_point_to_the_stick_out() -> None:
    answers = from_log([{"amps": 152, "wire_feed": 7.5}], [{"amps": 138, "wire_feed": 7.5}])
    assert [answer.state for answer in answers] == ["yes"]
    told = posterior(bead_table(), Case(gate="any", answers=answers))
    assert next(iter(told)) == "stick_out" and 0.4 < told["stick_out"] < 0.6
    assert told["wrong_gas"] < 0.01


def test_a_log_without_figures_answers_nothing() -> None:
    assert from_log([{}], [{"amps": 150}]) == ()
    assert from_log([{"amps": 150, "wire_feed": 7.0}], [{"amps": 180, "wire_feed": 8.5}]) == ()


def test_arc_time_tells_the_speed_and_the_order_the_first_bead() -> None:
    usual = [{"arc_time": 20.0, "bead_length": 100.0, "start_temperature": 20.0, "order": 4}]
    odd = [{"arc_time": 24.0, "bead_length": 100.0, "start_temperature": 90.0, "order": 1}]
    told = {answer.observation: answer.state for answer in from_log(usual, odd)}
    assert told == {"speed_differs": "yes", "start_differs": "yes", "first_bead": "yes"}


def test_a_logged_stick_out_settles_what_the_amps_hinted_at() -> None:
    usual, odd = (
        {"amps": 188.0, "wire_feed": 8.5, "stick_out": 15.0},
        {"amps": 160.0, "wire_feed": 8.5, "stick_out": 22.0},
    )
    told = posterior(bead_table(), Case(gate="any", answers=from_log([usual], [odd])))
    assert next(iter(told)) == "stick_out" and told["stick_out"] > 0.65


def test_readings_tell_form_from_amount() -> None:
    usual = {"deposited_area": mm(15.0), "excess_weld_metal": mm(3.0), "weld_width": mm(7.5)}
    taller = {"deposited_area": mm(15.1), "excess_weld_metal": mm(3.4), "weld_width": mm(6.7)}
    larger = {"deposited_area": mm(18.0), "excess_weld_metal": mm(3.3), "weld_width": mm(8.2)}
    unread = {"deposited_area": Absent(reason="no scale")}
    names = {"height": "excess_weld_metal", "width": "weld_width"}
    assert from_readings(usual, taller, **names)[0].state == "yes"
    assert from_readings(usual, larger, **names)[0].state == "no"
    assert from_readings(usual, unread, **names) == ()


def test_one_better_bead_after_rolling_hardly_moves_anything() -> None:
    before = posterior(bead_table(), Case(gate="any"))["unmixed"]
    answers = (Answer(observation="rolled_better", state="yes"),)
    after = posterior(bead_table(), Case(gate="any", answers=answers))["unmixed"]
    assert before < after < 0.005
