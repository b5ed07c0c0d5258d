"""Uncertainty through formulas, ranges, and what is said where nothing can be reckoned."""

import math

import pytest

from etchbook.procedure.entered import FORMULAS
from etchbook.procedure.formulas import Traced, figure, gathered, inputs_of, reckon, said
from etchbook.quantity import Absent, Measured


def traced(value: float, **parts: float) -> Traced:
    return Traced(value=value, parts=parts)


def test_relative_uncertainties_of_a_product_add_in_squares() -> None:
    found = reckon("arc_energy", volts=traced(20, volts=0.4), amps=traced(150, amps=3), travel=traced(5, travel=0.2))
    assert isinstance(found, Traced)
    assert found.value == pytest.approx(0.6)
    assert found.u == pytest.approx(0.6 * math.sqrt(0.02**2 + 0.02**2 + 0.04**2), rel=2e-3)


def test_a_shared_input_is_not_counted_as_two() -> None:
    """Heat rate is heat input times travel: the travel cancels, and with it its uncertainty."""
    travel = traced(5, travel=0.5)
    energy = reckon("arc_energy", volts=18.0, amps=traced(150, amps=3), travel=travel)
    rate = reckon("heat_rate", heat_input=reckon("heat_input", arc_energy=energy, k=0.8), travel=travel)
    assert isinstance(energy, Traced) and energy.u / energy.value > 0.09
    assert isinstance(rate, Traced)
    assert rate.value == pytest.approx(0.8 * 18 * 150)
    assert rate.u / rate.value == pytest.approx(0.02, rel=0.02)


def test_the_scatter_of_a_formula_is_in_its_u() -> None:
    found = reckon("martensite_hardness", C=0.18)
    assert isinstance(found, Traced) and found.u == pytest.approx(30.0)


def test_what_is_missing_is_named_once_and_no_number_is_given() -> None:
    lacking = reckon("arc_energy", volts=said("volts", None), amps=said("amps", None), travel=5.0)
    assert lacking == Absent(reason="volts is not stated; amps is not stated")
    again = reckon("heat_input", arc_energy=lacking, k=said("volts", None))
    assert isinstance(again, Absent) and again.reason.count("volts") == 1
    assert gathered(again.reason) == "volts and amps are not stated"


def test_out_of_range_is_said_and_the_number_still_given() -> None:
    inside = reckon("preheat_b", cet=0.35, thickness=20, hydrogen=5, heat_input=1.0)
    outside = reckon("preheat_b", cet=0.35, thickness=6, hydrogen=5, heat_input=0.3)
    assert isinstance(inside, Traced) and not inside.notes
    assert isinstance(outside, Traced)
    assert [("thickness is 6 mm" in note, "heat input is 0.3" in note) for note in outside.notes] == [
        (True, False),
        (False, True),
    ]
    told = figure("preheat_b", outside)
    assert isinstance(told.quantity, Measured) and told.notes and told.status == "seen"


def test_a_slope_next_to_the_edge_of_a_formula_is_taken_from_one_side() -> None:
    """At 499 °C the plate half a step warmer has no t8/5."""
    found = reckon("t85_thick", heat_input=1.0, start=traced(499.0, start=2.0), factor_3=1.0)
    assert isinstance(found, Traced) and found.u > 0


def test_every_formula_says_where_it_stands() -> None:
    assert len(FORMULAS) > 60
    for one in FORMULAS.values():
        assert one.source and one.status in ("seen", "from memory", "reckoned", "common practice"), one.id
        text = one.function.__doc__ or ""
        assert "Parameters" in text and "Returns" in text, one.id
        for name in inputs_of(one):
            assert name in text, f"{one.id} does not describe {name}"
        for part in one.valid:
            assert part.name in inputs_of(one), f"{one.id} has a range for {part.name}, which it does not take"


def test_rules_of_thumb_say_that_they_are_common_practice() -> None:
    assert {one.status for one in FORMULAS.values() if one.id.startswith("thumb_")} == {"common practice"}
