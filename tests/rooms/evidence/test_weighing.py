import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from etchbook.evidence import EvidenceError, weigh
from etchbook.evidence.weighing import pieces, posterior, priors
from rooms.evidence.small import case, small_table

TABLE = small_table()


def test_without_evidence_the_priors_stand():
    assert posterior(TABLE, case("here")) == {"c": 0.5, "a": 0.25, "b": 0.25}


def test_bayes_by_hand_for_one_observation():
    # 0.25 x 8 : 0.25 / 3 : 0.5 x 1 = 24 : 1 : 6
    after = posterior(TABLE, case("here", ("first", "seen")))
    assert [after[name] for name in "abc"] == pytest.approx([24 / 31, 1 / 31, 6 / 31])


def test_in_a_group_the_strongest_counts_in_full_and_the_others_by_half():
    both = case("here", ("first", "seen"), ("second", "seen"))
    counted = {piece.answer.observation: piece.share for piece in pieces(TABLE, both.answers, "a")}
    assert counted == {"first": 1.0, "second": 0.5}
    # a: 0.25 x 8 x sqrt 3; b: 0.25 / 3; c: 0.5 x 0.1 (the strongest for c is the second)
    raw = [2 * math.sqrt(3), 1 / 12, 0.05]
    after = posterior(TABLE, both)
    assert [after[name] for name in "abc"] == pytest.approx([part / sum(raw) for part in raw])


def test_groups_multiply():
    after = posterior(TABLE, case("here", ("first", "seen"), ("third", "yes")))
    raw = [0.25 * 64, 0.25 / 3, 0.5]
    assert after["a"] == pytest.approx(raw[0] / sum(raw))


def test_an_unknown_answer_is_neutral():
    assert posterior(TABLE, case("here", ("first", "cannot say"))) == posterior(TABLE, case("here"))


def test_the_gate_leaves_causes_out_and_says_which():
    weighed = weigh(TABLE, case("there", ("first", "seen")))
    assert [cause.id for cause in weighed.ruled_out] == ["a"]
    assert {verdict.cause.id for verdict in weighed.verdicts} == {"b", "c"}


def test_a_context_multiplies_priors_only_where_it_holds():
    # 0.5 x 3 : 0.5
    assert priors(TABLE, case("there", ("second", "seen"))) == pytest.approx({"b": 0.75, "c": 0.25})
    assert priors(TABLE, case("here", ("second", "seen")))["b"] == 0.25


def test_own_priors_replace_and_the_rest_keep_their_proportions():
    assert priors(TABLE, case("here", priors={"c": 0.2})) == pytest.approx({"a": 0.4, "b": 0.4, "c": 0.2})


@pytest.mark.parametrize(
    ("changed", "says"),
    [({"c": 1.5}, "between 0 and 1"), ({"d": 0.2}, "no cause"), ({"a": 0.7, "b": 0.7}, "1 at most")],
)
def test_priors_that_make_no_sense_are_refused(changed, says):
    with pytest.raises(EvidenceError, match=says):
        weigh(TABLE, case("here", priors=changed))


def test_an_observation_that_is_not_in_the_table_is_refused_by_name():
    with pytest.raises(EvidenceError, match='"fourth" is no observation'):
        weigh(TABLE, case("here", ("fourth", "seen")))


@given(st.permutations([("first", "seen"), ("second", "seen"), ("third", "no")]))
def test_the_order_of_looking_does_not_matter(answers):
    wanted = posterior(TABLE, case("here", ("first", "seen"), ("second", "seen"), ("third", "no")))
    assert posterior(TABLE, case("here", *answers)) == pytest.approx(wanted)


@given(st.lists(st.sampled_from(["first", "second"]), max_size=6))
def test_chances_sum_to_one_and_saying_it_often_never_counts_more_than_the_group_allows(names):
    after = posterior(TABLE, case("here", *((name, "seen") for name in names)))
    assert sum(after.values()) == pytest.approx(1)
    assert all(0 <= chance <= 1 for chance in after.values())
