"""Designs, the fitted surface and the next setting."""

import numpy as np
import pytest

from etchbook.trials.designs import Factor, contours, design, fit, next_setting
from etchbook.trials.scatter import StatisticsError

FACTORS = (
    Factor(name="volts", low=17, high=20, unit="V"),
    Factor(name="wire_feed", low=6, high=9, unit="m/min"),
    Factor(name="travel", low=4, high=7, unit="mm/s"),
)


def true(settings: dict[str, float]) -> float:
    return (
        1
        + 0.2 * (settings["volts"] - 18.5)
        - 0.1 * (settings["wire_feed"] - 7.5)
        + 0.05 * (settings["travel"] - 5.5) ** 2
    )


@pytest.mark.parametrize(
    ("kind", "beads"),
    [("two levels", 8 + 3), ("half", 4 + 3), ("surface", 8 + 6 + 1 + 3), ("surface in few beads", 13 + 3)],
)
def test_designs_have_their_numbers_and_stay_within_bounds(kind: str, beads: int) -> None:
    runs = design(FACTORS, kind)  # type: ignore[arg-type]
    assert len(runs) == beads
    for factor in FACTORS:
        values = [run[factor.name] for run in runs]
        assert min(values) == pytest.approx(factor.low) and max(values) == pytest.approx(factor.high)
        assert np.mean(values) == pytest.approx((factor.low + factor.high) / 2)


def test_the_order_follows_the_seed() -> None:
    assert design(FACTORS, "surface", seed=1) == design(FACTORS, "surface", seed=1)
    assert design(FACTORS, "surface", seed=1) != design(FACTORS, "surface", seed=2)


def test_a_surface_without_scatter_is_found_again() -> None:
    surface = fit(FACTORS, [(run, true(run)) for run in design(FACTORS, "surface")])
    for at in ({"volts": 17.3, "wire_feed": 8.8, "travel": 4.4}, {"volts": 19.9, "wire_feed": 6.1, "travel": 6.0}):
        assert surface.at(at).value == pytest.approx(true(at), abs=1e-9)


def test_u_covers_the_truth_about_as_often_as_it_should() -> None:
    draw = np.random.default_rng(4)
    runs, at, inside = design(FACTORS, "surface"), {"volts": 17.5, "wire_feed": 7.0, "travel": 6.5}, 0
    for _ in range(200):
        surface = fit(FACTORS, [(run, true(run) + 0.1 * draw.normal()) for run in runs])
        found = surface.at(at)
        inside += abs(found.value - true(at)) < 2.306 * found.u  # t for 8 degrees of freedom
    assert 180 <= inside <= 199


def test_few_beads_are_fitted_plainly_and_too_few_refused() -> None:
    runs = design(FACTORS, "half", centres=2)
    assert len(fit(FACTORS, [(run, true(run)) for run in runs]).terms) == 4
    with pytest.raises(StatisticsError, match="too few"):
        fit(FACTORS, [(run, true(run)) for run in runs[:3]])


def test_the_next_setting_meets_the_target() -> None:
    draw = np.random.default_rng(6)
    surface = fit(FACTORS, [(run, true(run) + 0.02 * draw.normal()) for run in design(FACTORS, "surface")])
    settings, chance = next_setting(surface, target=0.8, tolerance=0.1)
    assert true(settings) == pytest.approx(0.8, abs=0.06) and chance > 0.9
    assert all(factor.low <= settings[factor.name] <= factor.high for factor in FACTORS)


def test_nothing_is_said_beyond_what_was_tried() -> None:
    surface = fit(FACTORS, [(run, true(run)) for run in design(FACTORS, "surface")])
    with pytest.raises(StatisticsError, match="nothing was tried"):
        surface.at({"volts": 22.0, "wire_feed": 7.0, "travel": 5.0})


def test_contours_are_the_surface() -> None:
    surface = fit(FACTORS, [(run, true(run)) for run in design(FACTORS, "surface")])
    across, up, values, spread = contours(surface, "volts", "travel", {"wire_feed": 8.0}, steps=5)
    here = {"volts": float(across[1]), "travel": float(up[3]), "wire_feed": 8.0}
    assert values[3, 1] == pytest.approx(true(here)) and spread.shape == (5, 5)
    with pytest.raises(StatisticsError):
        contours(surface, "volts", "volts", {})


def test_refusals() -> None:
    with pytest.raises(StatisticsError, match="below its highest"):
        Factor(name="volts", low=20, high=20)
    with pytest.raises(StatisticsError, match="two to five"):
        design(FACTORS[:1], "surface")
    with pytest.raises(StatisticsError, match="three settings"):
        design(FACTORS[:2], "half")
