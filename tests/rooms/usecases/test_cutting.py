"""A coupon from options or TOML, in millimetres and inches."""

import pytest

from etchbook.usecases import RefusedError
from etchbook.usecases.cutting import cut_wish, cut_wish_from, cuts, length_mm

SAID = {
    "coupon": "n1-3",
    "joint": "tee",
    "length": 300,
    "width": "6 in",
    "thickness_1": "1/4in",
    "prove": "iso-15614-1",
}
TOML = """
coupon = "N1-03"
joint = "tee"
length = 300
width = "6 in"
thickness_1 = 8
prove = "iso-9606-1"
start_stops = [150]
"""


def test_inches_become_millimetres_and_codes_are_written_as_the_book_does() -> None:
    wish = cut_wish(SAID)
    assert wish.width == pytest.approx(152.4) and wish.thickness_1 == pytest.approx(6.35)
    assert wish.coupon == "N1-03" and wish.family == "tee"


@pytest.mark.parametrize(
    ("typed", "mm"), [("25.4", 25.4), ("1in", 25.4), ("3/16 in", 4.7625), ('2"', 50.8), ("7 mm", 7.0)]
)
def test_lengths(typed: str, mm: float) -> None:
    assert length_mm(typed, "length") == pytest.approx(mm)


def test_a_file_holds_the_same_and_options_go_before_it() -> None:
    assert cut_wish_from(TOML).start_stops == (150.0,)
    assert cut_wish_from(TOML, over={"length": "400", "coupon": "plan.toml", "joint": "lap"}).length == 400
    assert len(cuts(cut_wish_from(TOML)).sections) == 2


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"length": None}, "needs length, and none was given"),
        ({"joint": ""}, "needs the joint"),
        ({"joint": "cross"}, '"cross" is not a joint'),
        ({"length": "long"}, "length must be a number"),
        ({"length": True}, "length must be a length"),
        ({"kerf": "1/0 in"}, "fraction over 0"),
        ({"sections": "2.5"}, "whole number"),
        ({"at": "80,here"}, "at must be a number"),
        ({"branch": "yes"}, "branch must be true or false"),
        ({"colour": "red"}, 'knows no "colour"'),
        ({"coupon": 3}, "coupon must be text"),
    ],
)
def test_slips_name_the_field_and_what_would_do(given: dict[str, object], told: str) -> None:
    with pytest.raises(RefusedError, match=told):
        cut_wish({**SAID, **given})


def test_a_file_that_is_no_toml_is_refused() -> None:
    with pytest.raises(RefusedError, match="not TOML"):
        cut_wish_from("length: 3")
