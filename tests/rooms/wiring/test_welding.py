"""Amounts at the edge, and the other system of units."""

import pytest

import etchbook
from etchbook.quantity import Absent, Measured
from etchbook.wiring.both import other_system
from etchbook.wiring.welding import UNITS, settings_from


def test_common_units_come_to_the_same_settings() -> None:
    metric = settings_from({"wire_feed": "7.62m/min", "travel": "30.48cm/min", "wire_diameter": "0.889mm"})
    inches = settings_from({"wire_feed": "300in/min", "travel": "12ipm", "wire_diameter": ".035in"})
    for name in ("wire_feed", "travel", "wire_diameter"):
        assert getattr(metric, name) == pytest.approx(getattr(inches, name)), name
    assert metric.travel == pytest.approx(5.08)


def test_an_uncertainty_is_taken_along_in_our_unit() -> None:
    found = settings_from(
        {"travel": "30±1.2 cm/min", "start_temperature": "68±9 °F", "volts": 18.5, "u": {"volts": 0.3}}
    )
    assert found.u["travel"] == pytest.approx(0.2) and found.u["volts"] == 0.3
    assert found.start_temperature == pytest.approx(20.0) and found.u["start_temperature"] == pytest.approx(5.0)


def test_every_number_of_the_settings_has_its_unit() -> None:
    from etchbook.procedure.records import numbered

    assert set(UNITS) == set(numbered())


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"travel": "30"}, "travel needs its unit"),
        ({"wire_feed": "5kg"}, "wire feed"),
        ({"colour": 3.0}, "colour is no setting"),
        ({"volts": [18.0]}, "volts must be a number"),
        ({"material": "wood"}, "no material"),
        ({"joint": "mortise"}, "mortise"),
    ],
)
def test_what_is_no_setting_is_refused(said: dict[str, object], words: str) -> None:
    with pytest.raises(etchbook.RefusedError, match=words):
        settings_from(said)


def test_the_library_gives_both_conventions_and_reasons() -> None:
    sheet = etchbook.weld(volts=18, amps=150, travel="30 cm/min", process="135")
    energy, heat = sheet["arc_energy"].quantity, sheet["heat_input"].quantity
    assert isinstance(energy, Measured) and energy.value == pytest.approx(0.540)
    assert isinstance(heat, Measured) and heat.value == pytest.approx(0.432)
    assert isinstance(sheet["fillet_leg"].quantity, Absent)


@pytest.mark.parametrize(
    ("value", "unit", "other", "wanted"),
    [
        (25.4, "mm", "in", 1.0),
        (645.16, "mm²", "in²", 1.0),
        (25.4 / 60, "mm/s", "in/min", 1.0),
        (0.540, "kJ/mm", "kJ/in", 13.716),
        (20.0, "°C", "°F", 68.0),
        (14.158, "L/min", "cfh", 30.0),
        (0.45359237, "kg/h", "lb/h", 1.0),
    ],
)
def test_the_inch_system(value: float, unit: str, other: str, wanted: float) -> None:
    found = other_system(Measured(value=value, u=0.0, unit=unit))
    assert found is not None and found.unit == other and found.value == pytest.approx(wanted, rel=1e-4)


def test_a_spread_of_temperature_has_no_offset() -> None:
    found = other_system(Measured(value=100.0, u=5.0, unit="°C"))
    assert found is not None and found.u == pytest.approx(9.0)


def test_what_both_systems_share_or_what_is_absent_has_no_other() -> None:
    assert other_system(Measured(value=8.0, u=0.1, unit="s")) is None
    assert other_system(Absent(reason="not stated")) is None
