"""What the formulas are reckoned from."""

import numpy as np
import pytest

from etchbook.acceptance import facts_of
from etchbook.acceptance.facts import chord_length, thinner
from etchbook.picture import Scale
from etchbook.quantity import Absent, Measured
from etchbook.section import Landmark
from rooms.acceptance.sections import reading_of


def mm(value: float, u: float = 0.0) -> Measured:
    return Measured(value=value, u=u, unit="mm")


def test_the_drawing_comes_before_the_picture() -> None:
    facts = facts_of(reading_of("tee", {"thickness_1": (8.1, 0.1), "thickness_2": (6.2, 0.1)}, thickness_1=8.0))
    assert facts.look_up("thickness_1") == mm(8.0)
    assert facts.look_up("thickness_2") == mm(6.2, 0.1)
    assert facts.look_up("thinner") == mm(6.2, 0.1)


def test_the_thinner_member_is_known_only_when_both_are() -> None:
    absent = Absent(reason="out of the picture")
    assert thinner(mm(8), mm(6), 2) == mm(6)
    assert thinner(mm(6), mm(8), 2) == mm(6)
    assert thinner(mm(8), absent, 2) is absent
    assert thinner(mm(8), absent, 1) == mm(8)


def test_a_dimension_of_a_member_takes_that_members_thickness() -> None:
    facts = facts_of(reading_of("tee", {}))
    assert facts.key("thickness", "undercut_2") == "thickness_2"
    assert facts.key("thickness", "convexity") == "thinner"
    assert facts.key("throat_asked", "undercut_2") == "throat_asked"


def test_the_face_width_runs_straight_from_toe_to_toe() -> None:
    # 240 by 320 px is 400 px, at 40 px/mm 10 mm
    assert facts_of(reading_of("tee", {})).look_up("face_width") == mm(10.0)


def test_the_face_widths_u_holds_both_toes_and_the_scale() -> None:
    # along x: 3 px and 4 px make 5 px, 0.125 mm at 40 px/mm; scale 1 % of 10 mm 0.1 mm; y does not matter
    first = Landmark(point=np.array([0.0, 0.0]), covariance=np.diag([9.0, 100.0]))
    second = Landmark(point=np.array([400.0, 0.0]), covariance=np.diag([16.0, 100.0]))
    width = chord_length(first, second, Scale(px_per_mm=40.0, u=0.4, origin="given"))
    assert (width.value, width.u) == pytest.approx((10.0, np.hypot(0.125, 0.1)))


def test_a_butt_weld_means_its_plate_by_throat() -> None:
    facts = facts_of(reading_of("butt", {}, thickness_1=10.0, thickness_2=8.0))
    assert facts.look_up("throat_meant") == mm(8.0)


def test_the_longer_leg() -> None:
    assert facts_of(reading_of("tee", {"leg_1": (5, 0.1), "leg_2": (7, 0.2)})).look_up("longest_leg") == mm(7, 0.2)
    assert isinstance(facts_of(reading_of("tee", {"leg_1": (5, 0.1)})).look_up("longest_leg"), Absent)


def test_the_leg_asked_for_follows_from_the_throat_at_a_right_angle() -> None:
    asked = facts_of(reading_of("tee", {}, throat=5.0)).look_up("leg_asked")
    assert isinstance(asked, Measured) and asked.value == pytest.approx(7.0711, abs=5e-5)


def test_what_nobody_knows_is_absent() -> None:
    assert isinstance(facts_of(reading_of("tee", {})).look_up("wind"), Absent)
