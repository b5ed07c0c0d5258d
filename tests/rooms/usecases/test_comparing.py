"""Beads side by side: rows, splits, suspects, what is expected of a setting."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import example

from etchbook.procedure.heat_flow import Coupon
from etchbook.quantity import Absent, Measured
from etchbook.section import Reading
from etchbook.trials.scatter import Scatter
from etchbook.usecases import RefusedError
from etchbook.usecases.comparing import BeadReadings, compare
from etchbook.usecases.expecting import expected

COUPON = Coupon(
    length=100, width=60, thickness=6, conductivity=30, capacity=5.0, melting=1500, haz_edge=730, start=20, loss=30,
    power=2280, travel=5, bead_start=10, bead_length=80,
)  # fmt: skip


def read(convexity: float | None, area: float = 18.0) -> Reading:
    """The hand-made reading with another convexity and deposited area."""
    base = example.reading()
    value = Absent(reason="blurred") if convexity is None else Measured(value=convexity, u=0.03, unit="mm")
    changed = {"convexity": value, "deposited_area": Measured(value=area, u=0.2, unit="mm²")}
    return replace(base, dimensions={**base.dimensions, **changed})


def bead(code: str, *values: float | None, area: float = 18.0, **settings: float | str) -> BeadReadings:
    sections = tuple((read(value, area),) for value in values)
    return BeadReadings(code=code, sections=sections, settings=settings, order=None)


def row(made: object, name: str) -> object:
    return next(one for one in made.rows if one.dimension == name)  # type: ignore[attr-defined]


def test_sections_of_a_bead_are_taken_together() -> None:
    made = compare([bead("A1", 0.4, 0.6)], [bead("B1", 0.9, 1.1)], welding="mechanised")
    found = row(made, "convexity")
    assert found.a.value == pytest.approx(0.5) and found.b.value == pytest.approx(1.0)  # type: ignore[attr-defined]
    assert found.difference.numbers == (1, 1)  # type: ignore[attr-defined]
    assert "larger than two like beads" in found.difference.verdict  # type: ignore[attr-defined]


def test_a_section_that_was_not_read_leaves_the_bead_out_with_its_reason() -> None:
    made = compare([bead("A1", 0.4), bead("A2", None)], [bead("B1", 0.9)])
    found = row(made, "convexity")
    assert isinstance(found.a, Absent) and "A2" in found.a.reason  # type: ignore[attr-defined]
    assert isinstance(found.difference, Absent)  # type: ignore[attr-defined]


def test_own_scatter_replaces_the_planning_value() -> None:
    groups = [bead("A1", 0.4)], [bead("B1", 0.7)]
    own = Scatter(sd=0.05, dof=9, source="own book")
    planned, known = compare(*groups), compare(*groups, scatter={"convexity": own})
    assert row(planned, "convexity").difference.verdict == "no difference shown"  # type: ignore[attr-defined]
    assert row(known, "convexity").difference.verdict == "larger than two like beads"  # type: ignore[attr-defined]


def test_a_height_is_split_and_the_suspects_are_named() -> None:
    made = compare(
        [bead("A1", 0.6, start_temperature=20.0, cylinder="old")],
        [bead("B1", 0.9, start_temperature=90.0, cylinder="new")],
        under_test="cylinder",
    )
    assert made.splits["convexity"].shape.value == pytest.approx(0.3)
    assert made.suspects[0].setting == "start_temperature" and made.suspects[0].kind == "moved with it"
    assert {answer.observation: answer.state for answer in made.answers}["start_differs"] == "yes"


def test_beads_of_two_joints_are_refused() -> None:
    from etchbook.joint import Joint

    other = replace(read(0.4), joint=Joint(family="bead"))
    with pytest.raises(RefusedError, match="one joint"):
        compare([bead("A1", 0.4)], [BeadReadings(code="B1", sections=((other,),), settings={})])


def test_warmer_plates_make_wider_and_deeper_beads_by_the_published_amount() -> None:
    found = expected(COUPON, [{"start_temperature": 20.0}], [{"start_temperature": 100.0}])
    assert [one.setting for one in found] == ["start_temperature"]
    # Research note 3b: 7.53 to 7.73 mm wide, 3.01 to 3.17 mm deep.
    assert found[0].width == pytest.approx(0.20, abs=0.03) and found[0].depth == pytest.approx(0.16, abs=0.03)


def test_a_bigger_piece_at_equal_temperature_changes_next_to_nothing() -> None:
    found = expected(
        COUPON, [{"plate_length": 100.0, "plate_width": 60.0}], [{"plate_length": 300.0, "plate_width": 150.0}]
    )
    assert len(found) == 2 and all(abs(one.width) < 0.04 and abs(one.depth) < 0.02 for one in found)


def test_height_follows_width_and_metal() -> None:
    slower = expected(COUPON, [{"travel": 5.0}], [{"travel": 4.5}], deposited=15.1)[0]
    assert slower.height is not None and slower.height > 0.1 and slower.width > 0.1  # research note 4a: +0.22, +0.27
    assert expected(COUPON, [{"travel": 5.0}], [{"travel": 5.0}]) == ()


def test_stick_out_tells_through_the_amps_unless_they_are_logged() -> None:
    a, b = {"wire_feed": 7.5, "wire_diameter": 0.9, "stick_out": 12.0}, {"stick_out": 17.0}
    found = expected(COUPON, [a], [{**a, **b}])[0]
    assert found.depth == pytest.approx(-0.27, abs=0.08)  # research note 4a, −13.9 of 152 A
    both = expected(COUPON, [a | {"amps": 152.0}], [{**a, **b, "amps": 138.0}])
    assert [one.setting for one in both] == ["amps"]
