"""Settings out of the book, heat-flow answers, and single formulas."""

import pytest

from etchbook.joint import Joint
from etchbook.procedure import Settings
from etchbook.quantity import Absent, Measured
from etchbook.trials.records import Bead, Setting, Trial
from etchbook.usecases import RefusedError, formulary
from etchbook.usecases.reckoning import coupon_of, heat, settings_of_bead
from etchbook.usecases.reckoning_words import carbon_dioxide, material_named, process_named

TRIAL = Trial(
    code="N1",
    mark="m",
    joint=Joint(family="tee", thickness_1=8.0, thickness_2=6.0, throat=4.0),
    material="S275JR",
    gas="Ar + 18 % CO2",
)
COUPON = Settings(
    process="135",
    material="carbon steel",
    joint="bead",
    volts=19.0,
    amps=150.0,
    travel=5.0,
    thickness_1=6.0,
    plate_length=100.0,
    plate_width=50.0,
    bead_length=80.0,
    start_temperature=20.0,
    ambient=20.0,
    loss=25.0,
)


def test_what_was_read_counts_before_what_was_set() -> None:
    bead = Bead(
        code="N1-01",
        settings=(
            Setting(name="volts", origin="read", value=17.9, u=0.1),
            Setting(name="volts", origin="set", value=18.5),
            Setting(name="travel", origin="seen", value=5.0),
            Setting(name="process", text="MAG"),
        ),
    )
    found = settings_of_bead(bead, TRIAL, {"C": 0.16})
    assert (found.volts, found.u) == (17.9, {"volts": 0.1})
    assert (found.process, found.material, found.joint, found.co2) == ("135", "carbon steel", "tee", 18.0)
    assert (found.thickness_1, found.thickness_2, found.throat, found.travel) == (8.0, 6.0, 4.0, 5.0)
    assert found.amps is None and found.composition == {"C": 0.16}


def test_a_bead_without_a_trial_has_only_its_own_settings() -> None:
    found = settings_of_bead(Bead(code="N1-01", settings=(Setting(name="amps", value=120.0),)))
    assert found == Settings(amps=120.0)


@pytest.mark.parametrize(
    ("gas", "share"),
    [
        ("Ar + 18 % CO2", 18.0),
        ("82Ar/18CO2", 18.0),
        ("CO2", 100.0),
        ("argon", 0.0),
        ("M21", None),
        ("", None),
        ("Ar 12 % CO2 2 % O2", None),
        ("Ar/CO2", None),
    ],
)
def test_a_gas_is_understood_only_where_its_name_is_plain(gas: str, share: float | None) -> None:
    assert carbon_dioxide(gas) == share


def test_words_for_processes_and_materials() -> None:
    assert [process_named(word) for word in ("MAG", "gmaw", "135", "135-D", "tig", "laser", "")] == [
        "135", "135", "135", "135", "141", "laser", "",
    ]  # fmt: skip
    names = ("S355J2", "mild steel", "1.4301", "316L", "aluminium 5083", "brass")
    assert [material_named(word) for word in names] == [
        "carbon steel", "carbon steel", "stainless steel", "stainless steel", "aluminium", "",
    ]  # fmt: skip


def test_the_heat_answer_warms_as_by_hand() -> None:
    """0.8 · 19 V · 150 A = 2280 W; 36.48 kJ into 150 J/K are 243 K."""
    answer = heat(COUPON, points=((4.0, 0.0),), beads=4, cycle=180.0)
    figures = {one.id: one.quantity for one in answer.figures}
    warming = figures["bead_warming"]
    assert isinstance(warming, Measured) and warming.value == pytest.approx(243.2, abs=0.1)
    assert not isinstance(answer.starts, Absent)
    assert [round(one) for one in answer.starts] == [20, 191, 311, 395]
    assert 500 < answer.histories[0].peak < 1500
    assert {"start temperature +100 K", "travel speed +10 %"} <= {one.words for one in answer.changes}


def test_what_heat_flow_needs_is_named() -> None:
    with pytest.raises(RefusedError, match="plate width and bead length are not stated"):
        coupon_of(Settings(**{name: getattr(COUPON, name) for name in ("process", "material", "joint", "volts", "amps",
                              "travel", "thickness_1", "plate_length", "start_temperature")}))  # fmt: skip
    with pytest.raises(RefusedError, match="does not lie in the plate"):
        heat(COUPON, points=((40.0, 0.0),))
    with pytest.raises(RefusedError, match="2 to 50"):
        heat(COUPON, beads=500, cycle=60.0)


def test_a_series_without_its_pause_is_absent_and_says_why() -> None:
    answer = heat(COUPON, beads=3)
    assert isinstance(answer.starts, Absent) and "time between beads" in answer.starts.reason


def test_one_formula_by_name() -> None:
    held = formulary.formula_named("fillet-leg")
    assert formulary.input_units(held) == {"area": "mm²"}
    found = formulary.reckoned(held, {"area": (18.0, 0.36)})
    assert isinstance(found.quantity, Measured)
    assert found.quantity.value == pytest.approx(6.0) and found.quantity.u == pytest.approx(0.06, rel=1e-3)
    for wrong, words in (({}, "also needs area"), ({"area": (1.0, 0.0), "leg": (1.0, 0.0)}, "does not take leg")):
        with pytest.raises(RefusedError, match=words):
            formulary.reckoned(held, wrong)
    with pytest.raises(RefusedError, match="did you mean fillet_leg"):
        formulary.formula_named("filet_leg")


def test_what_has_no_number_is_absent() -> None:
    found = formulary.reckoned(formulary.formula_named("fillet_leg"), {"area": (-4.0, 0.0)})
    assert isinstance(found.quantity, Absent) and "area -4" in found.quantity.reason
