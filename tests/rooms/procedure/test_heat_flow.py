"""Heat flow: against closed forms, balances, symmetry and a table reckoned by another program."""

import numpy as np
import pytest

from etchbook.procedure import ProcedureError
from etchbook.procedure.heat_flow import (
    Coupon,
    bead_series,
    change,
    fitted_constant,
    fused,
    plan_isotherms,
    section_isotherms,
    stick_out_change,
    temperatures,
)
from etchbook.procedure.heat_flow.lumped import bead_warming, cooled
from etchbook.procedure.heat_flow.rosenthal import thick_temperature


def plate(**changes: float) -> Coupon:
    usual = {
        "length": 200.0,
        "width": 100.0,
        "thickness": 6.0,
        "conductivity": 30.0,
        "capacity": 5.0,
        "melting": 1500.0,
        "haz_edge": 730.0,
        "start": 20.0,
        "loss": 30.0,
        "power": 2280.0,
        "travel": 5.0,
        "bead_start": 10.0,
        "bead_length": 180.0,
    }
    return Coupon(**usual | changes)


# start °C -> width, depth mm, t8/5 s; from the research note, reckoned by another program.
PUBLISHED = {
    0: (7.48, 2.97, 6.9),
    10: (7.50, 2.99, 7.3),
    20: (7.53, 3.01, 7.7),
    50: (7.60, 3.06, 8.9),
    100: (7.73, 3.17, 11.7),
    150: (7.86, 3.29, 15.8),
    200: (8.01, 3.43, 21.9),
}


@pytest.mark.parametrize("start", PUBLISHED)
def test_start_temperature_moves_width_depth_and_cooling_as_published(start: int) -> None:
    found = fused(plate(start=float(start)))
    width, depth, seconds = PUBLISHED[start]
    assert found.width == pytest.approx(width, abs=0.02)
    assert found.depth == pytest.approx(depth, abs=0.02)
    assert found.t85 == pytest.approx(seconds, abs=0.06)


@pytest.mark.parametrize(("thickness", "width", "depth", "seconds"), [(3, 9.35, 3.00, 21.5), (10, 7.48, 2.86, 2.4)])
def test_thickness_moves_them_as_published(thickness: float, width: float, depth: float, seconds: float) -> None:
    found = fused(plate(thickness=float(thickness)))
    assert (found.width, found.depth) == (pytest.approx(width, abs=0.02), pytest.approx(depth, abs=0.02))
    assert found.t85 == pytest.approx(seconds, abs=0.06)
    assert found.through == (thickness == 3)


def test_a_larger_plate_at_equal_start_changes_nothing_that_can_be_seen() -> None:
    small, large = fused(plate(length=75.0, width=50.0, bead_length=55.0)), fused(plate(length=600.0, width=300.0))
    assert small.width == pytest.approx(large.width, rel=0.005)
    assert small.depth == pytest.approx(large.depth, rel=0.005)


def test_the_fused_area_is_that_of_the_points_that_got_hot_enough() -> None:
    coupon = plate()
    across, depth = np.meshgrid(np.arange(0.05, 5, 0.1), np.arange(0.05, 4, 0.1), indexing="ij")
    times = np.concatenate([np.linspace(-1, 1, 80), np.geomspace(1.02, 30, 120)])
    peak = temperatures(coupon, times, 100.0, across.ravel(), depth.ravel()).max(axis=0)
    assert fused(coupon).area == pytest.approx(2 * 0.01 * np.count_nonzero(peak >= 1500), rel=0.02)


def test_long_after_the_bead_the_heat_is_all_there_and_even() -> None:
    coupon = plate(length=60.0, width=40.0, bead_length=40.0, loss=0.0)
    corners = temperatures(coupon, np.array([500.0]), 5.0, np.array([0.0, 19.0, -19.0]), np.array([0.0, 6.0, 3.0]))
    rise = bead_warming(2280 / 5 / 1000, 40.0, 5.0, 60.0, 40.0, 6.0)
    assert corners == pytest.approx(20 + rise, rel=2e-3)


def test_left_and_right_are_alike_and_no_heat_leaves_through_a_face() -> None:
    coupon = plate(loss=0.0)
    pair = temperatures(coupon, np.array([3.0]), 100.0, np.array([7.0, -7.0]), np.array([2.0, 2.0]))[0]
    assert pair[0] == pytest.approx(pair[1])
    near = temperatures(coupon, np.array([3.0]), 100.0, np.full(2, 7.0), np.array([6.0, 5.98]))[0]
    inner = temperatures(coupon, np.array([3.0]), 100.0, np.full(2, 7.0), np.array([3.0, 2.98]))[0]
    assert abs(near[0] - near[1]) < 0.05 * abs(inner[0] - inner[1])


def test_losses_only_cool() -> None:
    cold, warm = (
        temperatures(plate(loss=loss), np.array([40.0]), 100.0, np.zeros(1), np.zeros(1))[0, 0] for loss in (200.0, 0.0)
    )
    assert 20 < cold < warm


def test_hotter_plate_more_power_slower_travel_all_fuse_more() -> None:
    base = plate()
    assert change(base, "warmer", start=120.0).area > 0
    assert change(base, "stronger", power=1.05 * base.power).area > 0
    assert change(base, "faster", travel=1.1 * base.travel).area < 0


def test_stick_out_as_published() -> None:
    """5 mm more at 7.5 m/min of 0.9 mm wire: width −0.32, depth −0.27 mm, area −13 %."""
    base = plate(power=0.8 * 152 * 19)
    found = stick_out_change(base, feed=7.5, wire=0.9, stick_out=12.0, by=5.0)
    assert found.width == pytest.approx(-0.32, abs=0.03)
    assert found.depth == pytest.approx(-0.27, abs=0.03)
    assert found.area / fused(base).area == pytest.approx(-0.13, abs=0.01)


def test_the_fusion_line_of_the_drawing_is_the_one_of_the_figures() -> None:
    coupon = plate()
    (melts,) = section_isotherms(coupon, (1500.0,))
    line, found = melts.lines[0], fused(coupon)
    assert np.ptp(line[:, 0]) == pytest.approx(found.width, abs=0.1)
    assert line[:, 1].max() == pytest.approx(found.depth, abs=0.05)


def test_isotherms_of_the_plan_lie_where_the_temperature_is() -> None:
    coupon = plate()
    (one,) = plan_isotherms(coupon, (600.0,))
    line = max(one.lines, key=len)
    for x, y in line[:: max(len(line) // 7, 1)]:
        there = temperatures(coupon, np.array([-x / coupon.travel]), 100.0 + x, np.array([y]), np.zeros(1))[0, 0]
        assert there == pytest.approx(600.0, rel=0.03)


def test_a_source_is_refused_at_its_own_place_and_a_bead_off_the_plate() -> None:
    with pytest.raises(ProcedureError, match="own place"):
        thick_temperature(2000, 5, 30, 5, 20, 0, 0, 0)
    with pytest.raises(ProcedureError, match="does not fit"):
        plate(bead_length=300.0)


def test_cooling_between_beads_tends_to_the_room() -> None:
    assert cooled(300, 20, 1e6, 500) == pytest.approx(20)
    starts = bead_series(30, 243.2, 20, 20, 180, 508.475)
    # The series ends where what a bead adds is what a pause takes: ΔT q/(1-q), q = exp(-180/508.475).
    q = np.exp(-180 / 508.475)
    assert starts[-1] == pytest.approx(20 + 243.2 * q / (1 - q), rel=1e-3)
    assert fitted_constant(220, 120, 20, 100) == pytest.approx(100 / np.log(2))
    with pytest.raises(ProcedureError):
        fitted_constant(100, 120, 20, 60)
