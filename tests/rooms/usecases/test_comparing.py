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
from etchbook.usecases.expecting import Form, expected

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
    assert [one.setting for one in found] == ["plate_length", "plate_width", "together"]
    assert all(abs(one.width) < 0.04 and abs(one.depth) < 0.02 for one in found)


def test_height_follows_width_and_metal() -> None:
    slower = expected(COUPON, [{"travel": 5.0}], [{"travel": 4.5}], form=Form(deposited=15.1))[0]
    assert slower.height is not None and slower.height > 0.1 and slower.width > 0.1  # research note 4a: +0.22, +0.27
    assert expected(COUPON, [{"travel": 5.0}], [{"travel": 5.0}]) == ()


REFERENCE = {"wire_feed": 7.5, "wire_diameter": 0.9, "stick_out": 12.0, "volts": 19.0, "co2": 25.0}


@pytest.mark.parametrize(
    ("changes", "width", "height", "depth"),
    [  # research note 4a, reckoned apart from this package
        ({"stick_out": 17.0}, -0.32, 0.13, -0.27),
        ({"stick_out": 9.0}, 0.26, -0.10, 0.22),
        ({"volts": 20.0}, 0.19, -0.07, 0.16),
        ({"wire_feed": 7.875}, 0.13, 0.10, 0.10),
        ({"wire_diameter": 0.88}, -0.16, -0.07, -0.13),
        ({"co2": 21.0}, -0.03, 0.012, -0.03),
    ],
)
def test_sensitivities_are_those_of_the_note(
    changes: dict[str, float], width: float, height: float, depth: float
) -> None:
    coupon = COUPON.but(power=0.8 * 152 * 19)
    found = expected(coupon, [REFERENCE], [REFERENCE | changes], form=Form(deposited=15.11))[0]
    assert found.width == pytest.approx(width, abs=0.03) and found.depth == pytest.approx(depth, abs=0.03)
    assert found.height == pytest.approx(height, abs=0.03)


def test_what_gravity_parts_moves_no_bead() -> None:
    a = REFERENCE | {"cylinder": "11"}
    found = expected(COUPON, [a], [a | {"cylinder": "12"}])
    assert [one.setting for one in found] == ["cylinder"] and "0.004 % CO2" in found[0].words
    assert 0 < abs(found[0].width) < 2e-4  # research note 4a: 0.00003


def test_the_gas_is_known_by_its_name_too() -> None:
    named = {"volts": 19.0, "gas": "Ar + 25 % CO2"}, {"volts": 19.0, "gas": "Ar + 21 % CO2"}
    assert expected(COUPON, [named[0]], [named[1]])[0].words == "CO2 in the gas 25 to 21 % (like -0.16 V)"


def test_logged_amps_hold_the_stick_out_already() -> None:
    a, b = {"wire_feed": 7.5, "wire_diameter": 0.9, "stick_out": 12.0}, {"stick_out": 17.0}
    found = expected(COUPON, [a], [{**a, **b}])[0]
    assert found.counted and "152 to 138 A" in found.words  # research note 4a: −13.9 A
    both = expected(COUPON, [a | {"amps": 152.0}], [{**a, **b, "amps": 138.0}])
    assert [(one.setting, one.counted) for one in both] == [("amps", True), ("stick_out", False)]


def test_a_fillet_is_told_by_leg_and_convexity() -> None:
    form = Form(family="tee", deposited=18.0, leg=6.0)
    found = expected(COUPON, [{"amps": 150.0}], [{"amps": 130.0}], form=form)[0]
    old = 7.53  # research note 3b: fused width of this coupon
    narrower = expected(COUPON, [{"amps": 150.0}], [{"amps": 130.0}])[0].width
    leg = 6.0 * (old + narrower) / old
    assert found.width == pytest.approx(leg - 6.0, abs=0.01)
    # A = z²/2 + (2/3) √2 z c by hand; 18 mm² in a 6 mm leg is flat.
    assert found.height == pytest.approx((18 - leg**2 / 2) / (0.9428 * leg), abs=0.01)


def test_expected_effects_stand_beside_what_was_seen() -> None:
    from etchbook.usecases.effects import effect_table

    made = compare(
        [bead("A1", 0.4, amps=150.0, surface="ground")], [bead("B1", 0.9, amps=130.0, surface="scale")], coupon=COUPON
    )
    headings, rows = effect_table(made.beside)
    assert headings[1] == "mean leg, mm" and rows[-1][0] == "what was seen" and rows[-1][2] == "+0.50"
    assert any("surface: scale, rust or paint" in hint and "common practice" in hint for hint in made.beside.hints)


def test_whose_scatter_it_rests_on_is_said() -> None:
    own = Scatter(sd=0.05, dof=9, source="own book")
    groups = [bead("A1", 0.4)], [bead("B1", 0.7)]
    assert any("planning value for hand welding" in note for note in compare(*groups).notes)
    notes = compare(*groups, scatter={"convexity": own}).notes
    assert "Scatter from bead to bead out of own book: convexity 0.05 (9 degrees of freedom)." in notes


def test_an_odd_bead_is_named_and_counted() -> None:
    group = [bead(f"A{at}", value) for at, value in enumerate((0.40, 0.41, 0.39, 0.42, 0.40, 0.95))]
    made = compare(group, [bead("B1", 0.4)])
    assert any("Bead A5 stands apart" in note and "counted all the same" in note for note in made.notes)
    assert row(made, "convexity").a.value == pytest.approx(2.97 / 6)  # type: ignore[attr-defined]


def test_little_differences_are_told_as_such() -> None:
    made = compare([bead("A1", 0.4, start_temperature=20.0)], [bead("B1", 0.7, start_temperature=7.0)])
    kinds = {one.setting: one.kind for one in made.suspects}
    assert kinds["start_temperature"] == "differs little"


def test_the_split_tells_equal_metal_and_height_over_leg() -> None:
    made = compare([bead("A1", 0.4, area=16.0)], [bead("B1", 0.9, area=25.0)])
    words = made.splits["convexity"].words
    # By hand: lengths grow with the root of the area, 5/4; 0.9 / 1.25 = 0.72.
    assert "With the first's amount of metal the second would have 0.72" in words
    legs = [row(made, name).a.value for name in ("leg_1", "leg_2")]  # type: ignore[attr-defined]
    assert f"Height over width: {0.4 / (sum(legs) / 2):.3f}"[:-1] in words


def test_the_region_of_no_consequence_stands_beside_the_views() -> None:
    from etchbook.usecases.comparing_words import view_rows

    made = compare([bead("A1", 0.4)], [bead("B1", 0.6)], welding="mechanised", margins={"convexity": 0.2})
    name, says, _ = view_rows(row(made, "convexity"))[-1]  # type: ignore[arg-type]
    # Research note 6b: D follows Student t with 5 degrees of freedom about 0.2, so half of it lies above 0.2.
    assert name == "no consequence" and "0.500 above" in says and "within ±0.2 mm" in says
    assert any("Nothing is known of how the other" in note for note in made.notes)
