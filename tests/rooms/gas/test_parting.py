"""What can come apart and what cannot."""

import pytest

from etchbook.gas import Filling, GasError, boundary, dew_pressure, draw_off, gravity_difference, parting
from etchbook.gas.boundary import at_temperature
from etchbook.gas.density import molar_density
from etchbook.gas.parting import first_split, split_at
from etchbook.quantity import Absent, Measured

FULL = Filling(co2=0.25, bar=200.0, t_c=15.0)


def test_the_boundary_rises_with_co2() -> None:
    found = [boundary(share / 100) for share in range(16, 88, 4)]
    values = [each.value for each in found if isinstance(each, Measured)]
    assert len(values) == len(found) and values == sorted(values)


@pytest.mark.parametrize("co2", [0.0, 0.05, 0.149, 0.95])
def test_the_boundary_is_absent_where_the_table_does_not_reach(co2: float) -> None:
    assert isinstance(boundary(co2), Absent)


def test_a_share_beyond_the_whole_is_refused() -> None:
    with pytest.raises(GasError, match="between 0 and 100"):
        boundary(1.2)


def test_vapour_never_holds_more_co2_than_the_liquid_it_stands_on() -> None:
    for t_c in (-50.0, -33.3, -7.0, 19.0):
        sheet = at_temperature(t_c)
        known = sheet.vapour == sheet.vapour
        assert (sheet.vapour[known] < sheet.liquid[known]).all()
        assert (sheet.liquid_density[known] > sheet.vapour_density[known]).all()


# Research note 1b, run with teqp on whole kelvins from above: (fill at 15 °C [bar], CO2, first two-phase temperature).
ISOCHORES = [(200, 0.25, -43), (150, 0.25, -39), (100, 0.25, -40), (200, 0.20, -51), (150, 0.18, -51), (150, 0.5, -9)]


@pytest.mark.parametrize(("bar", "co2", "expected"), ISOCHORES)
def test_a_closed_cylinder_parts_where_the_other_library_says(bar: float, co2: float, expected: float) -> None:
    found = first_split(Filling(co2=co2, bar=bar, t_c=15.0))
    assert isinstance(found, Measured) and found.value == pytest.approx(expected, abs=1.0)


def test_a_thin_filling_never_parts() -> None:
    assert isinstance(first_split(Filling(co2=0.18, bar=50.0, t_c=15.0)), Absent)


def test_a_split_keeps_all_of_the_co2() -> None:
    content = molar_density(0.25, 15.0, 150.0)
    assert isinstance(content, Measured)
    split = split_at(0.25, content.value, -45.0)
    assert split is not None and not isinstance(split, Absent)
    sheet = at_temperature(-45.0)
    # Moles in each phase from volumes and densities must give back both moles and CO2.
    import numpy as np

    dense = float(np.interp(split.bar, sheet.bar, sheet.liquid_density))
    thin = float(np.interp(split.bar, sheet.bar, sheet.vapour_density))
    liquid, vapour = split.liquid_volume * dense, (1 - split.liquid_volume) * thin
    assert liquid + vapour == pytest.approx(content.value, rel=2e-3)
    assert liquid * split.liquid_co2 + vapour * split.vapour_co2 == pytest.approx(0.25 * content.value, rel=5e-3)


# Research note 1c, run with teqp and the lever rule: outgoing CO2 in percent.
COURSES = [
    (0.25, 150, -40, (23.9, 23.8, 24.9, 25.7, 25.7, 25.7)),
    (0.25, 150, -45, (20.9, 20.8, 22.0, 25.7, 30.5, 30.5)),
    (0.25, 200, -50, (20.1, 18.4, 18.1, 20.4, 30.8, 47.4)),
    (0.50, 200, -20, (42.8, 38.6, 39.4, 46.8, 66.0, 75.5)),
]


@pytest.mark.parametrize(("co2", "bar", "held", "expected"), COURSES)
def test_gas_drawn_off_is_lean_first_and_rich_last(
    co2: float, bar: float, held: float, expected: tuple[float, ...]
) -> None:
    course = draw_off(Filling(co2=co2, bar=bar, t_c=15.0), held)
    found = [100 * course[int(400 * share)].co2 for share in (0, 0.2, 0.4, 0.6, 0.8, 0.9)]
    assert found == pytest.approx(expected, abs=0.15)


def test_all_gas_drawn_off_adds_up_to_what_was_filled() -> None:
    course = draw_off(Filling(co2=0.25, bar=200.0, t_c=15.0), -45.0)
    out = sum(moment.co2 for moment in course) / len(course)
    assert 0.95 * out < 0.25 < 0.95 * out + 0.05  # what is left holds between none and all CO2


def test_at_shop_temperature_nothing_drifts() -> None:
    assert {moment.co2 for moment in draw_off(FULL, 10.0, steps=50)} == {0.25}


@pytest.mark.parametrize(
    ("co2", "coldest", "answer"),
    [
        (0.25, -20.0, "single phase"),
        (0.25, -42.0, "can split"),
        (0.25, -37.0, "can split"),
        (0.25, -60.0, "not covered"),
        (0.08, -40.0, "single phase"),
        (0.08, -60.0, "not covered"),
        (0.0, -60.0, "single phase"),
    ],
)
def test_verdicts(co2: float, coldest: float, answer: str) -> None:
    assert parting(Filling(co2=co2, bar=200.0, t_c=15.0), coldest).answer == answer


def test_gravity_grows_with_height_and_the_real_gas_with_pressure() -> None:
    low, high = (gravity_difference(0.25, height_m=1.3, t_c=20.0, bar=bar) for bar in (50.0, 200.0))
    assert isinstance(low, Measured) and isinstance(high, Measured) and high.value > 3 * low.value
    assert high.value < 1e-4, "a shift of 1 % would need more than a hundred times as much"


def test_no_dew_above_the_boundary() -> None:
    assert isinstance(dew_pressure(0.25, -30.0), Absent)
