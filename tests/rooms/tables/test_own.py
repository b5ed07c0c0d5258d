"""A person's own limits."""

import pytest

from etchbook.tables import TablesError, own_limits

GOOD = """
title = "Pole bracket, drawing 12"

[leg_1]
least = 6
most = 9.5

[convexity]
most = "1 + 0.1 * b"
cap = 3
clause = "note 4"

[undercut_2]
most = "0.05 * t"
short = true

[leg_2]
least = "0.9 * leg_1"
"""


def test_good_limits_are_taken_as_written() -> None:
    limits = own_limits(GOOD)
    assert limits.title == "Pole bracket, drawing 12"
    leg, convexity, undercut, other = limits.limits
    assert (leg.least, leg.most, leg.short) == ("6", "9.5", False)
    assert (convexity.most, convexity.cap, convexity.clause) == ("1 + 0.1 * b", "3", "note 4")
    assert undercut.short and undercut.dimensions == ("undercut_2",)
    assert other.least == "0.9 * leg_1"
    assert all(row.status == "given by the user" for row in limits.limits)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("leg_1 = ", "not TOML"),
        ("", "name no dimension"),
        ("[leg_3]\nleast = 3", '"leg_3" is no dimension'),
        ("leg_1 = 6", "written as a table"),
        ("[leg_1]\nminimum = 3", 'knows no "minimum"'),
        ("[leg_1]\ntitle = 'a'", "needs least or most"),
        ("[leg_1]\nleast = nan", "finite number"),
        ("[leg_1]\nleast = true", "a number or a formula"),
        ("[leg_1]\nleast = [1]", "a number or a formula"),
        ("[leg_1]\nleast = 'q + 1'", 'uses "q"'),
        ("[leg_1]\nleast = 'open(1)'", "something other than numbers"),
        ("[leg_1]\nleast = 9\nmost = 6", "lies above its most"),
        ("[leg_1]\nleast = 9\ncap = 6", "cap of leg_1"),
        ("[leg_1]\nleast = 9\nshort = true", "short of leg_1 goes with most"),
        ("[leg_1]\nmost = 9\nshort = 1", "true or false"),
        ("title = 3\n[leg_1]\nmost = 9", "title must be text"),
    ],
)
def test_bad_limits_are_refused_in_one_sentence(text: str, told: str) -> None:
    with pytest.raises(TablesError) as refusal:
        own_limits(text)
    assert told in str(refusal.value)
    assert "\n" not in str(refusal.value).strip()
