import pytest

from etchbook.evidence import stop_reason, weigh
from etchbook.evidence.wording import word_for
from rooms.evidence.small import case, small_table

TABLE = small_table()


@pytest.mark.parametrize(
    ("chance", "word"),
    [
        (1.0, "very likely"),
        (0.95, "very likely"),
        (0.94, "likely"),
        (0.7, "likely"),
        (0.69, "possible"),
        (0.1, "possible"),
        (0.09, "unlikely"),
        (0.0, "unlikely"),
    ],
)
def test_words_for_chances(chance, word):
    assert word_for(chance) == word


def test_a_word_is_held_back_until_the_look_that_frees_it():
    held = weigh(TABLE, case("here", ("first", "seen"), ("second", "seen")))
    assert held.first.cause.id == "a" and held.first.chance > 0.95
    assert (held.first.word, held.first.held_back) == ("possible", "look at the third")
    assert held.sentence == "possible: A; look at the third"
    free = weigh(TABLE, case("here", ("first", "seen"), ("second", "seen"), ("third", "yes")))
    assert (free.first.word, free.first.held_back) == ("very likely", "")


def test_cannot_tell_names_what_is_possible():
    assert weigh(TABLE, case("here")).sentence == "cannot tell; possible: C, A, B"


def test_halving_and_doubling_a_prior_is_told_where_it_changes_the_answer():
    # 24 : 1 : 6 of 31. Halving A gives 12/19 = 0.63, doubling C gives 24/37 = 0.65: no longer "likely".
    weighed = weigh(small_table(cap=[]), case("here", ("first", "seen")))
    told = {(swing.cause, swing.times): (swing.first, swing.word) for swing in weighed.swings}
    assert told == {("a", 0.5): ("a", "possible"), ("c", 2.0): ("a", "possible")}
    assert weighed.first.low == pytest.approx(12 / 19)
    assert weighed.first.high == pytest.approx(48 / 55)


def test_evidence_for_and_against_comes_strongest_first():
    weighed = weigh(TABLE, case("here", ("first", "seen"), ("second", "seen"), ("third", "no")))
    a = next(verdict for verdict in weighed.verdicts if verdict.cause.id == "a")
    assert [piece.answer.observation for piece in a.evidence_for] == ["first", "second"]
    assert [piece.answer.observation for piece in a.evidence_against] == ["third"]


def test_looking_stops_when_what_is_left_is_mended_the_same_way():
    table = small_table(cap=[], gate=[{"id": "here", "label": "here", "priors": {"a": 0.5, "b": 0.45, "c": 0.05}}])
    assert stop_reason(table, weigh(table, case("here"))).startswith("A or B: all are mended the same way")
    assert stop_reason(TABLE, weigh(TABLE, case("here"))) == ""
