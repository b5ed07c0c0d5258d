"""The blur at a line, told from edges that were blurred by brute force."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter1d

from etchbook.picture.sharpness import OFFSETS, Edge
from etchbook.section.indications.kernels import Kernel, kernel_near, usual_blur
from etchbook.section.indications.profiles import RISE, fit_profile

LINE = np.stack([np.linspace(0, 200, 201), np.full(201, 50.0)], axis=1)
OTHERWISE = Kernel(blur=9.0, u=1.0)


def stepped(blur: float, halo: float = 0.0, reach: float = 1.0) -> np.ndarray:
    """An edge on a grid 100 times finer: blurred, then sharpened as a phone does it, with a wider blur taken away."""
    fine = np.arange(-60.0, 60.0, 0.01)
    soft = gaussian_filter1d((fine > 0).astype(float), blur / 0.01)
    sharpened = soft + halo * (soft - gaussian_filter1d(soft, reach / 0.01))
    return np.asarray(np.interp(OFFSETS, fine, sharpened))


def edge(blur: float, x: float, *, upright: bool = True, halo: float = 0.0, reach: float = 1.0) -> Edge:
    normal = np.array([0.0, 1.0]) if upright else np.array([1.0, 0.0])
    return Edge(
        at=np.array([x, 20.0]), normal=normal, rise=RISE * blur, profile=stepped(blur, halo, reach), low=0.1, high=0.7
    )


@pytest.mark.parametrize("blur", [0.7, 1.3, 2.6])
def test_the_blur_of_edges_comes_back(blur: float) -> None:
    found = kernel_near([edge(blur, 20.0 * k) for k in range(8)], LINE, OTHERWISE)
    # The grid of blurs is 7 % wide.
    assert found.blur == pytest.approx(blur, rel=0.05) and found.halo[0] == 0 and found.u < 0.1 * blur


def test_a_halo_is_told_from_a_sharper_edge() -> None:
    found = kernel_near([edge(1.3, 20.0 * k, halo=0.7, reach=1.8) for k in range(8)], LINE, OTHERWISE)
    assert found.blur == pytest.approx(1.3, rel=0.06) and found.halo[0] == pytest.approx(0.7, rel=0.25)


def test_a_bar_behind_a_halo_keeps_its_width() -> None:
    fine = np.arange(-60.0, 60.0, 0.01)
    bar = gaussian_filter1d((np.abs(fine) < 1.25).astype(float), 1.2 / 0.01)
    x = np.arange(-14.0, 15.0)
    light = 0.6 - 0.3 * np.interp(x, fine, bar + 0.7 * (bar - gaussian_filter1d(bar, 1.8 / 0.01)))
    kernel = kernel_near([edge(1.2, 20.0 * k, halo=0.7, reach=1.8) for k in range(8)], LINE, OTHERWISE)
    assert fit_profile(x, light, kernel.blur, halo=kernel.halo).width == pytest.approx(2.5, rel=0.05)
    found = fit_profile(x, light, 1.2, halo=(0.7, 1.8))
    assert found.width == pytest.approx(2.5, rel=0.02) and found.depth == pytest.approx(0.3, rel=0.02)
    assert abs(fit_profile(x, light, 1.2).width - 2.5) > 0.2


def test_edges_that_run_the_line_s_way_speak_for_a_shake_of_the_hand() -> None:
    edges = [edge(1.0, 20.0 * k) for k in range(8)] + [edge(2.5, 20.0 * k, upright=False) for k in range(8)]
    assert kernel_near(edges, LINE, OTHERWISE).blur == pytest.approx(1.0, rel=0.05)


def test_the_nearest_edges_speak_where_the_picture_is_sharp_on_one_side_only() -> None:
    edges = [edge(1.0, 10.0 * k) for k in range(16)] + [edge(2.5, 2000.0 + k) for k in range(16)]
    far = LINE + np.array([1950.0, 0.0])
    assert kernel_near(edges, LINE, OTHERWISE).blur == pytest.approx(1.0, rel=0.05)
    assert kernel_near(edges, far, OTHERWISE).blur == pytest.approx(2.5, rel=0.05)


def test_too_few_edges_tell_nothing() -> None:
    assert kernel_near([edge(1.0, 0.0)] * 3, LINE, OTHERWISE) == OTHERWISE
    assert usual_blur([edge(1.0, 0.0)] * 3) is None


def test_burnt_out_edges_tell_nothing() -> None:
    burnt = Edge(at=np.zeros(2), normal=np.array([0.0, 1.0]), rise=1.0, profile=stepped(0.5), low=0.1, high=1.0)
    assert kernel_near([burnt] * 9, LINE, OTHERWISE) == OTHERWISE and usual_blur([burnt] * 9) is None
