"""Profiles of painted bars: the width that was painted comes back, as well as noise allows."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter1d

from etchbook.section.indications.profiles import bar, bound, fit_profile, half_width

X = np.arange(-14.0, 15.0)


def painted(width: float, blur: float, depth: float = 0.2, place: float = 0.3) -> np.ndarray:
    """A bar blurred by brute force on a grid 200 times finer, apart from the model under test."""
    fine = np.arange(-40.0, 40.0, 0.005)
    shape = (np.abs(fine - place) <= width / 2).astype(float)
    return 0.6 - depth * np.interp(X, fine, gaussian_filter1d(shape, blur / 0.005))


@pytest.mark.parametrize(("width", "blur"), [(1.5, 0.8), (3.0, 1.0), (6.0, 2.0), (10.0, 1.5)])
def test_the_painted_width_comes_back(width: float, blur: float) -> None:
    found = fit_profile(X, painted(width, blur), blur)
    assert found.width == pytest.approx(width, rel=0.01)
    assert found.place == pytest.approx(0.3, abs=0.01) and found.level == pytest.approx(0.6, abs=1e-3)
    assert found.depth == pytest.approx(0.2, rel=0.02)


def test_a_slope_of_the_light_does_not_move_the_width() -> None:
    tilted = painted(4.0, 1.0) + 0.004 * X
    assert fit_profile(X, tilted, 1.0).width == pytest.approx(4.0, rel=0.01)


@pytest.mark.parametrize(("width", "blur"), [(1.5, 0.8), (3.0, 1.0), (8.0, 1.5)])
def test_the_scatter_keeps_near_the_bound(width: float, blur: float) -> None:
    rng, clean = np.random.default_rng(3), painted(width, blur)
    fits = [fit_profile(X, clean + rng.normal(0, 0.002, len(X)), blur).width for _ in range(150)]
    rms = float(np.sqrt(np.mean((np.array(fits) - width) ** 2)))
    least = bound(X, width, blur, 0.3, 0.2, 0.002)
    # 150 draws know a standard deviation to 6 %: a fit below 0.8 of the bound would be no fit.
    assert 0.8 * least < rms < 1.5 * least


def test_a_free_blur_finds_soft_edges() -> None:
    found = fit_profile(X, painted(6.0, 2.2), 1.0, free_blur=True)
    assert found.blur == pytest.approx(2.2, rel=0.03) and found.width == pytest.approx(6.0, rel=0.03)


def test_half_width_of_a_soft_bar() -> None:
    assert half_width(5.0, 0.0) == 5.0
    # A bar far narrower than its own softness is a Gaussian: full width at half depth 2.3548 standard deviations.
    assert half_width(0.05, 2.0) == pytest.approx(2.3548 * 2.0, rel=2e-3)
    assert half_width(20.0, 0.5) == pytest.approx(20.0, rel=1e-3)
    assert bar(np.zeros(1), 20.0, 0.5)[0] == pytest.approx(1.0)
