"""Flow, nozzle, regulator, mixing and sound."""

import math

import pytest

from etchbook.gas import GasError, compared, layered_top, mixing_time, reynolds, sound_speed, tube_factor
from etchbook.gas.flow import TubeState, cubic_feet_per_hour, leak, litres_per_minute, nozzle_speed, pressure_factor
from etchbook.gas.mixing import days_until, diffusion, fuller, warmer_bottom
from etchbook.gas.regulator import frost_point, heat_drawn, sublimation, throttled
from etchbook.gas.sound import tube_tone
from etchbook.quantity import Absent, Measured

HERTZ = {"u": 0.0, "unit": "Hz"}
STILL = Measured(value=20.0, u=0.0, unit="°C")


@pytest.mark.parametrize(("cfh", "litres"), [(20, 9.44), (30, 14.16), (40, 18.88), (50, 23.60)])
def test_cubic_feet_an_hour(cfh: float, litres: float) -> None:
    assert litres_per_minute(cfh) == pytest.approx(litres, abs=0.005)
    assert cubic_feet_per_hour(litres_per_minute(cfh)) == pytest.approx(cfh)


@pytest.mark.parametrize(("bore", "row"), [(10, (1815, 2723, 3631)), (13, (1396, 2095, 2793)), (19, (955, 1433, 1911))])
def test_reynolds_numbers_of_the_free_bore(bore: float, row: tuple[float, ...]) -> None:
    assert [reynolds(0.25, flow, bore) for flow in (10, 15, 20)] == pytest.approx(row, rel=5e-4)


def test_speed_at_the_nozzle_by_hand() -> None:
    assert nozzle_speed(20.0, 16.0) == pytest.approx(20 / 60000 / (math.pi * 0.008**2))


def test_a_tube_in_its_own_state_reads_true() -> None:
    state = TubeState(density=1.7, bar=2.0, t_c=20.0)
    assert tube_factor(state, state) == 1.0


def test_pressure_compensated_tube_at_other_pressures() -> None:
    psi = 0.0689476
    made = 50 * psi + 1.01325
    found = [pressure_factor(made, gauge * psi + 1.01325) for gauge in (20, 30, 80)]
    assert found == pytest.approx([0.732, 0.831, 1.210], abs=6e-4)


def test_leak_by_hand() -> None:
    assert leak(0.2, 0.1, 10.0).value == pytest.approx(0.12, abs=0.002)


def test_throttling_leaves_a_warm_thin_gas_nearly_as_it_was() -> None:
    found = throttled(0.0, 40.0, 20.0)
    assert isinstance(found, Measured) and 30 < found.value < 40
    assert isinstance(throttled(0.6, 20.0, 100.0), Absent)


def test_sublimation_at_the_triple_point_and_the_frost_point_of_the_mixture() -> None:
    assert sublimation(216.59) == pytest.approx(5.1795, rel=1e-3)
    found = frost_point(0.25, 4.0)
    assert isinstance(found, Measured) and found.value == pytest.approx(-78.6, abs=0.1)
    assert isinstance(frost_point(0.0), Absent)


def test_heat_for_20_litres_a_minute() -> None:
    assert heat_drawn(0.25, 20.0) == pytest.approx(0.35, abs=0.005)


def test_diffusion_agrees_with_its_estimate_from_volumes() -> None:
    for t_c, expected in ((0.0, 0.129), (20.0, 0.148), (100.0, 0.235)):
        assert diffusion(t_c, 1.01325).value == pytest.approx(expected, rel=1e-9)
        assert fuller(t_c, 1.01325) == pytest.approx(expected, rel=0.04)


def test_lying_mixes_faster_by_the_square_of_the_height() -> None:
    upright, lying = mixing_time(1.3, 20.0, 200.0), mixing_time(0.22, 20.0, 200.0)
    assert upright.value / lying.value == pytest.approx((1.3 / 0.22) ** 2)


@pytest.mark.parametrize(("days", "expected"), [(7, 0.1), (14, 2.2), (30, 10.9), (60, 20.4), (120, 24.5)])
def test_layers_vanish_as_reckoned_elsewhere(days: float, expected: float) -> None:
    assert 100 * layered_top(0.25, days, 26.4) == pytest.approx(expected, abs=0.06)


def test_layers_end_at_the_overall_share() -> None:
    assert layered_top(0.18, 0.0, 26.4) == 0.0
    assert layered_top(0.18, 1000.0, 26.4) == pytest.approx(0.18)
    waited = days_until(0.25, 0.01, 26.4)
    assert layered_top(0.25, waited, 26.4) == pytest.approx(0.24, abs=0.001)


def test_a_richer_layer_is_held_down_by_about_a_kelvin() -> None:
    found = warmer_bottom(0.25, 20.0, 200.0)
    assert isinstance(found, Measured) and found.value == pytest.approx(1.2, abs=0.15)  # research note 1d


@pytest.mark.parametrize(("co2", "expected"), [(0.02, 317.01), (0.08, 311.61), (0.18, 303.80), (0.5, 285.33)])
def test_sound_speeds(co2: float, expected: float) -> None:
    assert sound_speed(co2).value == pytest.approx(expected, abs=0.02)


def test_two_tones_give_back_the_composition_that_made_them() -> None:
    tones = [Measured(value=tube_tone(co2, 0.25, 20.0, bore_mm=12.0), **HERTZ) for co2 in (0.25, 0.21)]
    assert compared(0.25, tones[0], tones[1], STILL).value == pytest.approx(0.21, abs=1e-6)


def test_scatter_of_the_tones_and_drift_of_the_room_widen_the_answer() -> None:
    tone = Measured(value=299.0, u=0.3, unit="Hz")
    still = compared(0.25, tone, tone, STILL)
    drifting = compared(0.25, tone, tone, Measured(value=20.0, u=1.0, unit="°C"))
    assert 0.004 < still.u < 0.012 and drifting.u > still.u


def test_a_tone_of_air_is_refused() -> None:
    known, air = Measured(value=299.0, **HERTZ), Measured(value=343.0, **HERTZ)
    with pytest.raises(GasError, match="air in the tube"):
        compared(0.25, known, air, STILL)
