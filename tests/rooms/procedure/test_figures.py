"""The sheet: what a bead's settings come to, and what they cannot."""

import pytest

from etchbook.procedure import ProcedureError, Settings, composition, procedure_figures
from etchbook.quantity import Absent, Measured

FULL = {
    "process": "135",
    "material": "carbon steel",
    "joint": "tee",
    "volts": 18.0,
    "amps": 150.0,
    "wire_feed": 7.5,
    "wire_diameter": 0.9,
    "travel": 5.0,
    "co2": 25.0,
    "thickness_1": 8.0,
    "thickness_2": 6.0,
    "start_temperature": 20.0,
}


def value(settings: Settings, name: str) -> float:
    quantity = procedure_figures(settings, conduction=False)[name].quantity
    assert isinstance(quantity, Measured), quantity
    return quantity.value


def why(settings: Settings, name: str) -> str:
    quantity = procedure_figures(settings, conduction=False)[name].quantity
    assert isinstance(quantity, Absent), quantity
    return quantity.reason


def test_nothing_said_gives_no_number_at_all() -> None:
    sheet = procedure_figures(Settings())
    assert not sheet.known and len(sheet.absent) > 30
    assert all(isinstance(one.quantity, Absent) and one.quantity.reason for one in sheet.absent)


def test_both_conventions_stand_side_by_side() -> None:
    settings = Settings(**FULL)  # type: ignore[arg-type]
    assert value(settings, "arc_energy") == pytest.approx(0.540)
    assert value(settings, "heat_input") == pytest.approx(0.432)


def test_without_a_process_there_is_no_heat_input_but_arc_energy() -> None:
    settings = Settings(**FULL | {"process": ""})  # type: ignore[arg-type]
    assert value(settings, "arc_energy") == pytest.approx(0.540)
    assert why(settings, "heat_input") == "process is not stated"


def test_instantaneous_energy_counts_before_the_means() -> None:
    settings = Settings(**FULL | {"power": 3000.0})  # type: ignore[arg-type]
    assert value(settings, "arc_energy") == pytest.approx(0.540)
    assert value(settings, "heat_input") == pytest.approx(0.8 * 0.6)
    summed = Settings(**FULL | {"energy": 70000.0, "bead_length": 100.0})  # type: ignore[arg-type]
    assert value(summed, "heat_input") == pytest.approx(0.8 * 0.7)


def test_travel_follows_from_length_and_time() -> None:
    settings = Settings(**FULL | {"travel": None, "bead_length": 120.0, "arc_time": 24.0})  # type: ignore[arg-type]
    assert value(settings, "travel_speed") == pytest.approx(5.0)


def test_amps_are_reckoned_only_for_solid_steel_wire_with_a_stick_out() -> None:
    bare = FULL | {"amps": None}
    assert "stick out is not stated" in why(Settings(**bare), "arc_energy")  # type: ignore[arg-type]
    reckoned = procedure_figures(Settings(**bare | {"stick_out": 12.0}), conduction=False)  # type: ignore[arg-type]
    amps = reckoned["amps_from_feed"].quantity
    assert isinstance(amps, Measured) and amps.value == pytest.approx(152, abs=0.5) and amps.u > 5
    assert any("not read" in note for note in reckoned["arc_energy"].notes)
    cored = Settings(**bare | {"stick_out": 12.0, "process": "136"})  # type: ignore[arg-type]
    assert "solid wire" in why(cored, "amps_from_feed")
    stainless = Settings(**bare | {"stick_out": 12.0, "material": "stainless steel"})  # type: ignore[arg-type]
    assert "carbon steel" in why(stainless, "amps_from_feed")


def test_a_cored_wire_has_no_deposited_area_from_its_outline() -> None:
    assert "not solid" in why(Settings(**FULL | {"process": "136"}), "deposited_area")  # type: ignore[arg-type]


def test_the_thinner_plate_cools_the_thicker_calls_for_preheat() -> None:
    settings = Settings(
        **FULL | {"thickness_1": 40.0, "thickness_2": 12.0, "hydrogen": 5.0},  # type: ignore[arg-type]
        composition=composition("C0.18 Mn1.4 Si0.35 rest=0"),
    )
    sheet = procedure_figures(settings, conduction=False)
    assert any("thinner plate, 12 mm" in note for note in sheet["cooling_time"].notes)
    assert any("thicker plate, 40 mm" in note for note in sheet["preheat_b"].notes)


def test_a_joint_without_a_tabled_factor_has_no_cooling_time() -> None:
    assert "lap" in why(Settings(**FULL | {"joint": "lap"}), "cooling_time")  # type: ignore[arg-type]


def test_half_a_composition_gives_no_carbon_equivalent() -> None:
    partly = Settings(**FULL, composition=composition("C 0.18 Mn 1.4"))  # type: ignore[arg-type]
    assert "Cr, Mo, V, Ni, Cu" in why(partly, "ce_iiw")
    whole = Settings(**FULL, composition=composition("C 0.18 Mn 1.4 rest=0"))  # type: ignore[arg-type]
    assert value(whole, "ce_iiw") == pytest.approx(0.18 + 1.4 / 6)


def test_overwelding_is_the_square_of_throats() -> None:
    sheet = procedure_figures(Settings(**FULL | {"throat": 3.0}), conduction=False)  # type: ignore[arg-type]
    area, over = sheet["deposited_area"].quantity, sheet["overweld"].quantity
    assert isinstance(area, Measured) and isinstance(over, Measured)
    assert over.value == pytest.approx(area.value / 9.0)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"volts": -1.0}, "volts"),
        ({"travel": 0.0}, "travel"),
        ({"amps": float("nan")}, "amps"),
        ({"co2": 120.0}, "co2"),
        ({"start_temperature": -400.0}, "colder"),
        ({"u": {"volts": -1.0}}, "uncertainty of volts"),
    ],
)
def test_impossible_settings_are_refused_in_one_sentence(wrong: dict[str, float], words: str) -> None:
    with pytest.raises(ProcedureError, match=words):
        Settings(**wrong)  # type: ignore[arg-type]


def test_a_composition_is_read_as_people_write_it() -> None:
    assert composition("C.18 Mn=1,4; Si 0.35%") == {"C": 0.18, "Mn": 1.4, "Si": 0.35}
    assert composition("c 0.1 rest=0")["V"] == 0.0
    for wrong in ("", "S275", "C", "Xx 0.1", "C 0.1 C 0.2", "C 99", "C 0.1 rest=1"):
        with pytest.raises(ProcedureError):
            composition(wrong)
