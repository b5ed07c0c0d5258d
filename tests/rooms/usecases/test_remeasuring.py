"""What moved marks change, in words: the changed ones say what they were, what was read comes first."""

from etchbook.picture import NoScale
from etchbook.quantity import Absent, Measured
from etchbook.section import Outline
from etchbook.section.again import Again
from etchbook.usecases.remeasuring import differences, label_of, rows, words_of

NOTHING = Outline(boundaries={}, landmarks={}, lines={})
LEG, THROAT = Measured(value=5.0, u=0.1, unit="mm"), Absent(reason="there is no root")


def again(**dimensions: Measured | Absent) -> Again:
    return Again(outline=NOTHING, dimensions=dimensions, scale=NoScale(reason="none was given"))


def test_only_what_changed_says_what_it_was() -> None:
    now = again(leg_1=LEG, leg_2=Measured(value=5.4, u=0.1, unit="mm"))
    first, second = rows(now, {"leg_1": LEG, "leg_2": LEG})
    assert first["id"] == "leg_1" and first["was"] == ""
    assert second["was"] == words_of(LEG) and "5.4" in str(second["words"])


def test_a_number_that_goes_or_comes_is_a_change_and_what_was_read_comes_first() -> None:
    told = rows(again(throat=THROAT, leg_1=LEG), {"throat": LEG, "leg_1": THROAT})
    assert [row["id"] for row in told] == ["leg_1", "throat"]
    assert [row["absent"] for row in told] == [False, True]
    assert told[0]["was"] == "not read: there is no root" and told[1]["was"] == words_of(LEG)


def test_a_change_below_the_last_printed_place_is_none() -> None:
    """5.0 ± 0.2 mm stays 5.0 ± 0.2 mm when it moves by a thousandth."""
    assert rows(again(leg_1=Measured(value=5.001, u=0.1, unit="mm")), {"leg_1": LEG})[0]["was"] == ""


def test_each_row_has_the_words_of_the_trade_and_what_they_mean() -> None:
    row = rows(again(leg_1=LEG), {})[0]
    assert row["label"] == label_of("leg_1") and str(row["label"])[0].isupper() and len(str(row["means"])) > 10
    assert label_of("no_such_word") == "No such word"


def test_differences_name_what_changed_and_leave_out_the_rest() -> None:
    told = differences({"leg_1": LEG, "leg_2": LEG}, {"leg_1": LEG, "leg_2": THROAT, "throat": LEG})
    assert len(told) == 2
    assert told[0].startswith(label_of("leg_2")) and "not read" in told[0]
    assert "from not there to" in told[1]
