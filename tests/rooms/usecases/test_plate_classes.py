import pytest

from etchbook.usecases import RefusedError
from etchbook.usecases.lamellar import Strained, class_for, lamellar_sum
from etchbook.usecases.plate_classes import allowed, equal_disc, strained_joint
from rooms.usecases.marked import mm, reading_with


def _sum(depth, detail, thickness, restraint, **more):
    return lamellar_sum(Strained(depth=depth, detail=detail, thickness=thickness, restraint=restraint, **more))


def test_the_two_worked_sums_of_the_research_note():
    """Standards note, 9, rows 41 and 42."""
    plain = _sum(9, "multi_run_fillet", 18, "medium")
    assert (plain.printed, plain.wanted) == ("3 + 0 + 4 + 3 + 0 = 10", "no Z class")
    heavy = _sum(25, "penetration", 35, "high", preheated=True)
    assert (heavy.printed, heavy.wanted) == ("9 + 5 + 8 + 5 + (−8) = 19", "Z15")


@pytest.mark.parametrize(
    ("total", "wanted"),
    [(10, "no Z class"), (11, "Z15"), (20, "Z15"), (21, "Z25"), (30, "Z25"), (31, "Z35"), (-5, "no Z class")],
)
def test_classes_by_sum(total, wanted):
    assert class_for(total) == wanted


def test_compression_halves_the_part_of_the_thickness():
    assert _sum(9, "multi_run_fillet", 18, "medium", compression=True).value == 8


def test_a_step_that_u_leaves_open_is_told_as_a_range():
    open_step = _sum(9.9, "penetration", 18, "medium", u_depth=0.2)
    assert (open_step.low, open_step.value, open_step.high) == (15, 15, 18)
    assert (open_step.wanted_low, open_step.wanted_high) == ("Z15", "Z15")


def test_what_a_class_would_say_of_an_area():
    """Standards note, 9, rows 39 and 40: 600 mm² is counted by S1 and refused by S2; A578 C stops at 490.9 mm²."""
    here = {row.name: row.here for row in allowed(600.0)}
    assert here["S0"] == "would allow 600 mm² and not count it"
    assert here["S1"] == "would allow 600 mm² by itself and count it"
    assert here["S2"] == "would not allow 600 mm²"
    assert {row.name: row.here for row in allowed(500.0)}["A578 C"] == "would not allow 500 mm²"
    assert {row.name: row.here for row in allowed(length=35.0)}["E2"] == "would allow it by itself at an edge"
    assert {row.name: row.here for row in allowed(length=35.0)}["E3"] == "would not allow it at an edge"


def test_no_row_ever_says_accepted():
    rows = allowed(10.0, 5.0)
    assert not [row for row in rows if "accept" in f"{row.allows} {row.here}".lower()]
    assert all(row.source and row.status in ("seen", "from memory") for row in rows)


def test_the_joint_at_hand_brings_throat_and_thickness_with_their_u():
    reading = reading_with(nominal_throat=mm(5.0, 0.1), thickness_1=mm(12.0, 0.05))
    joint = strained_joint(reading, "multi_run_fillet")
    assert (joint.depth, joint.u_depth, joint.thickness, joint.is_throat) == (5.0, 0.1, 12.0, True)
    total = lamellar_sum(joint)
    assert (total.low, total.value, total.high) == (7, 7, 10)  # 0 or 3, with 0 + 4 + 3 + 0


def test_a_throat_and_its_depth_stand_in_the_same_row():
    """EN 1993-1-10 table 3.2 prints a = 5, 7, 14, 21 mm beside depths of 7, 10, 20, 30 mm."""
    for throat, depth in ((5, 7), (7, 10), (14, 20), (21, 30), (28, 40)):
        by_throat = _sum(throat, "multi_run_fillet", 18, "low", is_throat=True)
        assert by_throat.value == _sum(depth, "multi_run_fillet", 18, "low").value


def test_a_penetration_weld_needs_its_depth_given():
    reading = reading_with(nominal_throat=mm(5.0, 0.1), thickness_1=mm(12.0, 0.05))
    with pytest.raises(RefusedError, match="give it with --depth"):
        strained_joint(reading, "penetration")
    assert strained_joint(reading, "penetration", depth=12.0).is_throat is False


@pytest.mark.parametrize("family", ["butt", "lap", "bead"])
def test_joints_that_do_not_pull_a_plate_are_refused(family):
    with pytest.raises(RefusedError, match="no plate is pulled"):
        strained_joint(reading_with(family=family), "penetration")


def test_bad_input_is_refused_by_name():
    with pytest.raises(RefusedError, match='"sideways" is no detail'):
        _sum(9, "sideways", 18, "low")
    with pytest.raises(RefusedError, match="area must be a number above 0"):
        allowed(-3.0)


def test_a_disc_as_wide_as_it_is_long():
    assert equal_disc(25.0) == pytest.approx(490.87, abs=0.01)
