import math

import pytest

from etchbook.evidence import after_negative, next_questions, next_tests, search_order
from etchbook.evidence.planning import chances, expected_gain, outcomes
from rooms.evidence.small import case, small_table

TABLE = small_table(cap=[])


def test_yes_and_no_make_one_under_every_cause():
    told = chances(TABLE, case("here"), TABLE.observation("third"))
    # yes is seen in 0.1 x 8 of the cases of a, in 0.1 of the others
    assert told["yes"] == pytest.approx({"a": 0.8, "b": 0.1, "c": 0.1})
    assert told["no"] == pytest.approx({"a": 0.2, "b": 0.9, "c": 0.9})


def test_the_gain_is_the_entropy_that_falls_on_average():
    def entropy(parts):
        return -sum(part * math.log2(part) for part in parts if part)

    yes, no = [0.25 * 0.8, 0.25 * 0.1, 0.5 * 0.1], [0.25 * 0.2, 0.25 * 0.9, 0.5 * 0.9]
    left = sum(sum(row) * entropy([part / sum(row) for part in row]) for row in (yes, no))
    found = outcomes(TABLE, case("here"), TABLE.observation("third"))
    assert expected_gain(found) == pytest.approx(entropy([0.25, 0.25, 0.5]) - left)


def test_ratios_that_are_chances_themselves_are_taken_as_they_are():
    seen = [{"id": "found", "base": 1.0, "ratios": {"a": 0.9, "b": 0.05, "c": 0.05}}]
    seen += [{"id": "not found", "base": 1.0, "ratios": {"a": 0.1, "b": 0.95, "c": 0.95}}]
    table = small_table(
        observation=[{"id": "check", "label": "k", "group": "g", "state": seen}], test=[], context=[], cap=[]
    )
    told = chances(table, case("here"), table.observation("check"))
    assert told["found"] == pytest.approx({"a": 0.9, "b": 0.05, "c": 0.05})


def test_tests_that_destroy_the_piece_come_last_though_they_are_quicker():
    assert [item.test.id for item in next_tests(TABLE, case("here"))] == ["look", "cut"]


def test_a_test_that_was_made_is_not_named_again():
    assert next_tests(TABLE, case("here", ("third", "no"))) == ()


def test_what_a_result_would_change_is_what_weighing_it_gives():
    from etchbook.evidence.weighing import posterior

    for outcome in next_tests(TABLE, case("here"))[0].outcomes:
        assert outcome.after == posterior(TABLE, case("here", ("third", outcome.state)))


def test_the_test_that_frees_a_word_comes_first_even_when_it_tells_little():
    more = [
        {"id": "quick", "label": "q", "answers": ["second"], "minutes": 0.1},
        {"id": "look", "label": "l", "answers": ["third"], "minutes": 500},
    ]
    seen = case("here", ("first", "seen"))
    assert next_tests(small_table(test=more), seen)[0].test.id == "look"
    assert next_tests(small_table(test=more, cap=[]), seen)[0].test.id == "quick"


def test_questions_leave_out_what_was_answered_or_asked():
    assert [seen.id for seen, _ in next_questions(TABLE, case("here"))] == ["first"]
    assert next_questions(TABLE, case("here"), asked=["first"]) == ()


def test_search_order_is_cheapest_on_average_of_all_orders():
    from itertools import permutations

    chance = {"p": 0.5, "q": 0.3, "r": 0.2}
    detects, minutes = {"p": 0.5, "q": 0.9, "r": 0.9}, {"p": 10.0, "q": 5.0, "r": 2.0}

    def cost(order):
        total, spent, caught = 0.0, 0.0, 0.0
        for name in order:
            spent += minutes[name]
            total += spent * chance[name] * detects[name]
            caught += chance[name] * detects[name]
        return total + spent * (1 - caught)

    best = min(permutations(chance), key=cost)
    assert search_order(chance, detects, minutes) == list(best)


def test_a_check_that_finds_nothing_lowers_its_cause_by_hand():
    # 0.5 x 0.2 = 0.1 against 0.3 and 0.2: of 0.6
    after = after_negative({"p": 0.5, "q": 0.3, "r": 0.2}, "p", 0.8)
    assert [after[name] for name in "pqr"] == pytest.approx([1 / 6, 1 / 2, 1 / 3])
