"""Settings beside a section: agreement, and the setting that does not fit."""

import pytest

from etchbook.procedure import Settings, compare_with_section
from etchbook.quantity import Absent, Measured, Quantity

SETTINGS = Settings(
    process="135",
    material="carbon steel",
    joint="tee",
    volts=18.5,
    amps=150.0,
    wire_feed=7.5,
    wire_diameter=0.9,
    travel=5.0,
    co2=25.0,
    thickness_1=6.0,
    thickness_2=6.0,
    plate_length=150.0,
    plate_width=100.0,
    bead_length=130.0,
    start_temperature=20.0,
    u={"travel": 0.1, "wire_feed": 0.1},
)
# By hand: π/4 · 0.9² · 125 mm/s · 0.96 / 5 mm/s = 15.27 mm², leg √(2·15.27) = 5.53 mm.
FITTING: dict[str, Quantity] = {
    "deposited_area": Measured(value=15.27, u=0.3, unit="mm²"),
    "leg_1": Measured(value=5.5, u=0.1, unit="mm"),
    "leg_2": Measured(value=5.5, u=0.1, unit="mm"),
    "convexity": Measured(value=0.1, u=0.05, unit="mm"),
    "dilution": Measured(value=0.44, u=0.02, unit=""),
}


def test_a_section_that_fits_points_at_nothing() -> None:
    found = compare_with_section(SETTINGS, FITTING)
    told = {row.id: row.verdict for row in found.rows}
    assert told["deposited_area"] == told["leg"] == told["convexity"] == "agree"
    assert not found.pointers and "nothing that the settings would not" in found.summary
    area = found.rows[0].predicted
    assert isinstance(area, Measured) and area.value == pytest.approx(15.27, abs=0.01)


def test_a_smaller_area_points_at_feed_travel_and_fit_up() -> None:
    short = FITTING | {"deposited_area": Measured(value=12.2, u=0.2, unit="mm²")}
    found = compare_with_section(SETTINGS, short)
    reasons = {one.setting: one.reason for one in found.pointers}
    assert {"wire_feed", "travel", "fit-up"} <= set(reasons)
    assert "20 % less" in reasons["travel"] and "6.26 mm/s" in reasons["travel"]
    assert "5.99 m/min" in reasons["wire_feed"]
    assert "feed or travel" in found.summary


def test_the_right_area_in_a_tall_narrow_bead_points_at_volts_and_surface() -> None:
    tall = FITTING | {
        "leg_1": Measured(value=4.6, u=0.1, unit="mm"),
        "leg_2": Measured(value=4.6, u=0.1, unit="mm"),
        "convexity": Measured(value=1.1, u=0.05, unit="mm"),
    }
    found = compare_with_section(SETTINGS, tall)
    assert [one.setting for one in found.pointers] == ["volts", "surface"]
    assert "taller and narrower" in found.pointers[0].reason and "fewer volts" in found.pointers[0].reason
    assert "heat, volts and surface" in found.summary


def test_the_right_area_with_little_dilution_points_at_heat() -> None:
    cold = FITTING | {"dilution": Measured(value=0.08, u=0.02, unit="")}
    found = compare_with_section(SETTINGS, cold)
    settings = [one.setting for one in found.pointers]
    assert settings[:2] == ["amps", "start_temperature"]
    assert "longer stick-out" in found.pointers[0].reason and "colder" in found.pointers[1].reason


def test_unequal_legs_point_at_the_aim() -> None:
    aside = FITTING | {"leg_1": Measured(value=6.5, u=0.1, unit="mm"), "leg_2": Measured(value=4.6, u=0.1, unit="mm")}
    found = compare_with_section(SETTINGS, aside)
    assert any(one.setting == "aim" and "member 1" in one.reason for one in found.pointers)


def test_what_was_not_read_or_not_stated_is_neither_agreement_nor_fault() -> None:
    found = compare_with_section(Settings(joint="tee"), {"leg_1": Absent(reason="toe 1 was not found")})
    assert {row.verdict for row in found.rows} == {"cannot say"}
    assert not found.pointers
    for row in found.rows:
        assert isinstance(row.difference, Absent) and row.difference.reason


def test_exact_settings_are_said_to_be_taken_as_exact() -> None:
    bare = Settings(**{name: getattr(SETTINGS, name) for name in Settings.__slots__ if name != "u"})
    assert "travel and wire feed are taken as exact" in compare_with_section(bare, FITTING).summary
