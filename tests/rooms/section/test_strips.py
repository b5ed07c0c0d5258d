"""Sampling a picture along a curve, and the best way through what was sampled."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from etchbook.section.strips import best_path, bilinear, smoothed_along, take_strip, whittaker


def plane(a: float, b: float, c: float) -> np.ndarray:
    y, x = np.mgrid[0:40, 0:60].astype(float)
    return np.repeat((a * x + b * y + c)[..., None], 3, axis=2)


@given(st.floats(0, 58.9), st.floats(0, 38.9), st.floats(-0.01, 0.01), st.floats(-0.01, 0.01))
def test_bilinear_is_exact_on_a_plane(x: float, y: float, a: float, b: float) -> None:
    found = bilinear(plane(a, b, 0.5), np.array([[x, y]]))
    np.testing.assert_allclose(found[0], a * x + b * y + 0.5, atol=1e-7)


def test_sixteen_bits_are_read_as_light_from_0_to_1() -> None:
    rgb = np.zeros((4, 4, 3), np.uint16)
    rgb[:, 2:] = 65535
    found = bilinear(rgb, np.array([[0.0, 1.0], [1.5, 1.0], [3.0, 3.0]]))
    np.testing.assert_allclose(found[:, 0], [0.0, 0.5, 1.0], atol=1e-5)


def test_beyond_its_border_the_picture_goes_on_unchanged() -> None:
    found = bilinear(plane(0.01, 0.0, 0.1), np.array([[-50.0, 5.0], [500.0, 5.0]]))
    np.testing.assert_allclose(found[:, 0], [0.1, 0.1 + 0.01 * 59], atol=1e-6)


@pytest.mark.parametrize("degrees", [0, 35, 90, 200])
def test_a_strip_reads_a_plane_as_its_slope_across_the_curve(degrees: float) -> None:
    way = np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])
    curve = np.array([30.0, 20.0]) + np.linspace(-8, 8, 33)[:, None] * way
    strip = take_strip(plane(0.004, 0.007, 0.3), curve, reach=6.0, spacing=0.5)
    assert strip.values.shape == (33, 25, 3)
    assert strip.step == pytest.approx(0.5)
    np.testing.assert_allclose(strip.across @ way, 0.0, atol=1e-9)
    places = strip.at(np.full(33, 2.5))
    expected = 0.004 * places[:, 0] + 0.007 * places[:, 1] + 0.3
    column = int(np.argmin(np.abs(strip.offsets - 2.5)))
    np.testing.assert_allclose(strip.values[:, column, 0], expected, atol=1e-7)


def valley(n: int = 120, m: int = 41) -> tuple[np.ndarray, np.ndarray]:
    """A cost of 1 everywhere but along a planted wave, with noise too small to hide it."""
    way = np.round(20 + 12 * np.sin(np.arange(n) / 18)).astype(int)
    cost = 1 + 0.3 * np.random.default_rng(5).uniform(size=(n, m))
    cost[np.arange(n), way] = 0.0
    return cost, way


def test_the_best_path_runs_down_a_planted_valley() -> None:
    cost, way = valley()
    np.testing.assert_array_equal(best_path(cost, bend=0.1), way)


def test_the_best_path_is_the_cheapest_of_all_paths() -> None:
    """Every path of a small strip is priced one by one."""
    rng = np.random.default_rng(8)
    bend, jump = 0.2, 1
    for _ in range(20):
        cost = rng.uniform(size=(5, 4))

        def price(path: tuple[int, ...], cost: np.ndarray = cost) -> float:
            steps = np.abs(np.diff(path))
            return float("inf") if steps.max() > jump else float(cost[range(5), path].sum() + bend * steps.sum())

        cheapest = min(price(tuple(path)) for path in np.ndindex(4, 4, 4, 4, 4))
        assert price(tuple(int(k) for k in best_path(cost, bend=bend, jump=jump))) == pytest.approx(cheapest)


def test_the_best_path_keeps_out_of_forbidden_ground() -> None:
    cost, _ = valley()
    cost[60, :] = np.inf
    cost[60, 7] = 5.0
    assert best_path(cost, bend=0.1)[60] == 7


@given(st.floats(-3, 3), st.floats(-50, 50), st.floats(1e-2, 1e6))
def test_smoothing_keeps_a_straight_line(slope: float, start: float, stiffness: float) -> None:
    line = start + slope * np.arange(60.0)
    smooth, _ = whittaker(line, np.ones(60), stiffness)
    np.testing.assert_allclose(smooth, line, atol=1e-4)


def test_smoothing_solves_its_normal_equations() -> None:
    """The textbook form, with full matrices: (W + s D'D) z = W y."""
    rng = np.random.default_rng(2)
    values, weight, stiffness = rng.normal(size=40), rng.uniform(0.2, 3, 40), 7.0
    second = np.diff(np.eye(40), 2, axis=0)
    expected = np.linalg.solve(np.diag(weight) + stiffness * second.T @ second, weight * values)
    np.testing.assert_allclose(whittaker(values, weight, stiffness)[0], expected, atol=1e-8)


@pytest.mark.parametrize("stiffness", [1.0, 100.0, 10000.0])
def test_the_spread_that_smoothing_claims_is_near_the_one_it_has(stiffness: float) -> None:
    """Beside the diagonal of the full inverse, away from the ends; the quick form may be off by a third."""
    second = np.diff(np.eye(200), 2, axis=0)
    exact = np.sqrt(np.diag(np.linalg.inv(np.eye(200) / 0.25 + stiffness * second.T @ second)))
    claimed = whittaker(np.zeros(200), np.full(200, 4.0), stiffness)[1]
    np.testing.assert_allclose(claimed[60:140] / exact[60:140], 1.0, atol=0.35)


def test_averaging_along_lowers_white_noise_as_a_gaussian_does() -> None:
    """A Gaussian of width w leaves white noise with 1 / (2 sqrt(pi) w) of its variance."""
    noise = np.random.default_rng(3).normal(size=(4000, 8, 1))
    left = smoothed_along(noise, 4.0)[100:-100].var()
    assert left == pytest.approx(1 / (2 * np.sqrt(np.pi) * 4.0), rel=0.1)
