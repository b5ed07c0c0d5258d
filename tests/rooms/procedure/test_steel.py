"""Hardness, grain, wire, melting: refusals and ways back that the check rows do not hold."""

import math

import pytest

from etchbook.procedure import ProcedureError, fit_melting, hardness_limit
from etchbook.procedure.grain import grain_number_from_count, grain_number_iso
from etchbook.procedure.hardness import haz_hardness_duren, haz_hardness_yurioka, martensite_hardness
from etchbook.procedure.indenting import diagonal, hardness_as, vickers
from etchbook.procedure.melting import amps_from_feed, feed_from_amps, stick_out_from_amps
from etchbook.procedure.nozzle import mix_density, mix_viscosity, nozzle_speed
from etchbook.procedure.rules import thumb_feed

STEEL = {"C": 0.18, "Si": 0.35, "Mn": 1.4, "Cu": 0.15, "Cr": 0.2, "Ni": 0.1, "Mo": 0.05, "V": 0.0}


def test_feed_amps_and_stick_out_lead_back_to_each_other() -> None:
    amps = amps_from_feed(6.0, 1.0, 14.0)
    assert feed_from_amps(amps, 1.0, 14.0) == pytest.approx(6.0)
    assert stick_out_from_amps(amps, 6.0, 1.0) == pytest.approx(14.0)
    with pytest.raises(ProcedureError, match="any stick-out"):
        stick_out_from_amps(500.0, 3.0, 1.0)


def test_own_constants_are_found_again_from_a_log() -> None:
    alpha, beta = 0.31, 4.7e-5
    amps, out = [120.0, 150.0, 180.0, 200.0], [10.0, 15.0, 12.0, 18.0]
    feed = [(alpha * i + beta * length * i**2) * 0.06 for i, length in zip(amps, out, strict=True)]
    assert fit_melting(feed, amps, out) == (pytest.approx(alpha), pytest.approx(beta))
    with pytest.raises(ProcedureError, match="three or more"):
        fit_melting([5.0], [150.0], [12.0])
    with pytest.raises(ProcedureError, match="alike"):
        fit_melting([5.0] * 3, [150.0] * 3, [12.0] * 3)


def test_slow_cooling_is_softer_and_nothing_is_harder_than_martensite() -> None:
    times = (2.0, 5.0, 10.0, 20.0, 50.0)
    duren = [haz_hardness_duren(**STEEL, t85=t) for t in times]
    yurioka = [haz_hardness_yurioka(**STEEL, Nb=0.0, t85=t) for t in times]
    assert duren == sorted(duren, reverse=True) and yurioka == sorted(yurioka, reverse=True)
    assert max(duren) <= martensite_hardness(0.18)
    with pytest.raises(ProcedureError):
        haz_hardness_duren(**STEEL, t85=0.0)


def test_groups_left_to_an_agreement_have_no_limit() -> None:
    for group in ("6", "7", "10", "11", "steel"):
        with pytest.raises(ProcedureError, match="agree one beforehand"):
            hardness_limit(group, heat_treated=False)
    assert hardness_limit("6", heat_treated=True) == 350


def test_an_indent_gives_back_its_hardness() -> None:
    for hardness in (120.0, 350.0, 600.0):
        d = diagonal(hardness, 10)
        assert vickers(10 * 9.80665, d, d) == pytest.approx(hardness)
    with pytest.raises(ProcedureError):
        vickers(98.0, 0.0, 0.0)


def test_conversion_stays_inside_its_table() -> None:
    assert hardness_as(275, "HB") == pytest.approx((238 + 285) / 2)
    for hardness, scale in ((150, "HB"), (500, "Rm"), (220, "HRC"), (300, "HK")):
        with pytest.raises(ProcedureError):
            hardness_as(hardness, scale)


def test_grain_counts() -> None:
    assert grain_number_from_count(7.75 * 2**8 * 0.5, 0.5) == pytest.approx(8.0)
    assert grain_number_iso(8 * 2**5, 1.0) == pytest.approx(5.0)


def test_pure_gases_keep_their_own_viscosity_and_density() -> None:
    assert mix_viscosity(0) == pytest.approx(2.231e-5)
    assert mix_viscosity(100) == pytest.approx(1.467e-5)
    assert mix_density(25) == pytest.approx(1.703, abs=0.001)
    assert nozzle_speed(20, 16) == pytest.approx(1.66, abs=0.005)


def test_rules_of_thumb_are_for_their_own_wires() -> None:
    assert thumb_feed(100, 1.2) == pytest.approx(100 * 25.4 / 1000)
    with pytest.raises(ProcedureError, match=r"0\.6, 0\.8, 0\.9, 1\.2"):
        thumb_feed(100, 1.0)
    assert math.isfinite(thumb_feed(100, 0.889))
