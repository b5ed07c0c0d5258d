"""What changed between two editions, in words."""

from dataclasses import replace

from etchbook.trials.records import Bead, Dimension, Piece, ReadingEdition, Setting
from etchbook.usecases.keeping.differing import differences

BEAD = Bead(code="N1-01", settings=(Setting(name="volts", value=18.5, typed="18.5V"),), welded="2026-03-02T09:10")


def test_settings_are_told_as_they_were_written() -> None:
    now = replace(BEAD, settings=(Setting(name="volts", value=19.0, typed="19V"),))
    assert differences(BEAD, now) == ("new: volts 19 V", "no longer: volts 18.5 V")


def test_words_are_told_with_what_stood_there_before() -> None:
    old = Piece(code="N1-01-A", parent="N1-01-0")
    put = replace(old, place="drawer 4")
    assert differences(old, put) == ("place: drawer 4",)
    assert differences(put, replace(put, place="", state="lost")) == (
        "place: nothing, before: drawer 4",
        "state: lost, before: kept",
    )


def test_a_reading_that_was_made_again_names_the_dimensions_that_moved_and_no_marks_of_files() -> None:
    leg = Dimension(name="leg_1", value=6.02, u=0.05, unit="mm")
    old = ReadingEdition(code="N1-01-A-1-P1-R1", document="aa", picture="bb", made="automatic", program="x 1",
                         family="tee", dimensions=(leg,))  # fmt: skip
    now = replace(old, document="cc", program="x 2", made="corrected", dimensions=(replace(leg, value=6.31),))
    told = differences(old, now)
    assert told == (
        "made: corrected, before: automatic",
        "new: leg on member 1 6.31 mm",
        "no longer: leg on member 1 6.02 mm",
    )


def test_the_same_says_nothing() -> None:
    assert differences(BEAD, BEAD) == ()
