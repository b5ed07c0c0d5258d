"""Argon with oxygen and with helium: beside a library's own figures, and where they end."""

import pytest

from etchbook.gas import GasError
from etchbook.gas.live import available
from etchbook.gas.mixtures import (
    Mixture,
    compressibility,
    contents,
    diffusion,
    gauge_at,
    gravity_difference,
    molar_density,
    no_liquid_above,
    reynolds,
    sound_speed,
    throttled,
    viscosity,
)
from etchbook.quantity import Absent, Measured


def helium(share: float) -> Mixture:
    return Mixture(second="he", share=share)


def oxygen(share: float) -> Mixture:
    return Mixture(second="o2", share=share)


@pytest.mark.skipif(not available(), reason="the optional extra `gas` is not installed")
@pytest.mark.parametrize("mixture", [oxygen(0.01), oxygen(0.08), helium(0.25), helium(0.55), helium(0.95)])
def test_the_table_agrees_with_the_library(mixture: Mixture) -> None:
    for t_c in (-5.0, 12.0, 37.0):
        for bar in (3.0, 55.0, 145.0, 215.0):
            table, library = (compressibility(mixture, t_c, bar, method=way) for way in ("table", "library"))
            assert isinstance(table, Measured) and isinstance(library, Measured)
            assert table.value == pytest.approx(library.value, rel=5e-4)


@pytest.mark.parametrize(
    ("mixture", "speed"),
    [(oxygen(0.02), 318.726), (oxygen(0.05), 318.417), (helium(0.25), 362.314), (helium(0.5), 430.128),
     (helium(0.75), 559.532), (helium(1.0), 1007.89)],
)  # fmt: skip
def test_sound_lies_within_its_u_of_the_library(mixture: Mixture, speed: float) -> None:
    found = sound_speed(mixture)  # figures: CoolProp 8.0.0, GERG-2008, 20 °C, 1 atm
    assert abs(found.value - speed) < 2 * found.u


def test_no_shop_is_cold_enough_for_a_liquid() -> None:
    assert no_liquid_above(oxygen(0.02)).value == pytest.approx(-118.6, abs=0.1)  # critical point of oxygen, 154.6 K
    assert no_liquid_above(helium(0.5)).value == pytest.approx(-122.5, abs=0.1)  # of argon, 150.7 K


def test_gravity_parts_next_to_nothing() -> None:
    assert gravity_difference(helium(0.25), height_m=1.3, t_c=20.0) == pytest.approx(35e-6, rel=0.02)  # note 1a


def test_helium_diffuses_as_tabled() -> None:
    assert diffusion(helium(0.5), 3.05, 1.01325).value == pytest.approx(0.646, rel=0.03)  # 276.2 K, from memory


def test_viscosity_of_the_pure_gases_comes_back() -> None:
    assert viscosity(helium(1.0)) == pytest.approx(1.962e-5) and viscosity(helium(0.0)) == pytest.approx(2.231e-5)
    assert reynolds(helium(0.0), 15.0, 16.0) == pytest.approx(1702 * 0.87, rel=0.01)  # note 2: argon 13 % lower


def test_a_closed_cylinder_keeps_its_gas() -> None:
    mixture = helium(0.3)
    cold = gauge_at(mixture, 200.0, 15.0, -20.0)
    assert isinstance(cold, Measured) and 160 < cold.value < 176  # ideal gas: 176
    before, after = molar_density(mixture, 15.0, 201.01325), molar_density(mixture, -20.0, cold.value + 1.01325)
    assert isinstance(before, Measured) and isinstance(after, Measured)
    assert after.value == pytest.approx(before.value, rel=1e-4)


def test_contents_carry_gauge_and_thermometer() -> None:
    gauge, t_c = Measured(value=200.0, u=4.0, unit="bar"), Measured(value=15.0, u=2.0, unit="°C")
    volume, mass = contents(oxygen(0.0), 50.0, gauge, t_c)
    assert isinstance(volume, Measured) and isinstance(mass, Measured)
    assert volume.value == pytest.approx(10.54, abs=0.02) and mass.value == pytest.approx(17.8, abs=0.1)  # note 2
    assert volume.u > 0.02 * volume.value


def test_what_the_tables_do_not_hold_is_absent_or_refused() -> None:
    assert isinstance(compressibility(helium(0.5), 90.0, 100.0), Absent)
    assert isinstance(throttled(helium(0.5), 60.0, 100.0), Absent)
    for mixture in (lambda: oxygen(0.2), lambda: helium(-0.1), lambda: helium(float("nan"))):
        with pytest.raises(GasError, match="share of"):
            mixture()


def test_the_tables_answer_where_the_library_is_not_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    import etchbook.gas.live
    from etchbook.gas.density import compressibility as with_co2

    best = compressibility(helium(0.3), 12.0, 150.0), with_co2(0.18, 12.0, 150.0)
    monkeypatch.setattr(etchbook.gas.live, "available", lambda: False)
    monkeypatch.setattr(etchbook.gas.live, "live_z", None)
    table = compressibility(helium(0.3), 12.0, 150.0), with_co2(0.18, 12.0, 150.0)
    for one, other in zip(best, table, strict=True):
        assert isinstance(one, Measured) and isinstance(other, Measured)
        assert other.value == pytest.approx(one.value, rel=1e-3)


@pytest.mark.skipif(not available(), reason="the optional extra `gas` is not installed")
def test_the_library_is_asked_where_it_is_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    import etchbook.gas.live
    from etchbook.gas.density import compressibility as with_co2

    monkeypatch.setattr(etchbook.gas.live, "live_z", lambda *_: 0.5)
    for found in (compressibility(oxygen(0.02), 12.0, 150.0), with_co2(0.18, 12.0, 150.0)):
        assert isinstance(found, Measured) and found.value == 0.5
