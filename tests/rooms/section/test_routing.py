"""The way along the strongest edge: on a painted disc, whose edge is known to the pixel."""

import pickle
from functools import cache

import numpy as np
import pytest
from scipy import ndimage

from etchbook.geometry import distances_to_polyline
from etchbook.section.routing import Ground

MIDDLE, RADIUS = np.array([500.0, 420.0]), 300.0


@cache
def ground() -> Ground:
    """A bright disc of radius 300 px on dark grain, so large that its edge is looked for over blocks first."""
    y, x = np.mgrid[0:840, 0:1000].astype(float)
    light = np.where(np.hypot(x - MIDDLE[0], y - MIDDLE[1]) < RADIUS, 0.7, 0.3)
    light = ndimage.gaussian_filter(light, 1.2) + np.random.default_rng(4).normal(0, 0.02, light.shape)
    return Ground(np.repeat(light[..., None], 3, axis=2).astype(np.float32), 1.0)


def on_edge(*degrees: float) -> np.ndarray:
    turn = np.radians(degrees)
    return MIDDLE + RADIUS * np.stack([np.cos(turn), np.sin(turn)], axis=1)


def off_edge(path: np.ndarray) -> np.ndarray:
    return np.abs(np.hypot(*(path - MIDDLE).T) - RADIUS)


@pytest.mark.parametrize("degrees", [(0, 90, 180), (0, 45, 90, 135, 180), (10, 80)])
def test_it_follows_a_clear_edge_to_the_pixel_and_goes_through_its_pins(degrees: tuple[float, ...]) -> None:
    pins = on_edge(*degrees)
    path = ground().route(pins)
    assert np.mean(off_edge(path)) < 0.5 and off_edge(path).max() < 2.5
    for pin in pins:
        assert np.hypot(*(path - pin).T).min() < 1.0
    np.testing.assert_allclose(path[[0, -1]], pins[[0, -1]], atol=1e-6)


def test_a_pin_beside_the_edge_is_gone_through_all_the_same() -> None:
    pin = MIDDLE + np.array([0.0, RADIUS + 25])
    path = ground().route(np.stack([*on_edge(0), pin, *on_edge(180)]))
    assert np.hypot(*(path - pin).T).min() < 1.0
    assert np.median(off_edge(path)) < 1.0, "the rest of it stays on the edge"


def test_it_does_not_run_along_a_boundary_that_is_known() -> None:
    ends = on_edge(0, 180)
    lower = on_edge(*np.linspace(0, 180, 181))
    path = ground().route(ends, shun=lower)
    assert path[:, 1].min() < MIDDLE[1] - 0.9 * RADIUS, "with the lower half known it goes round above"
    assert np.mean(off_edge(path)) < 1.5


def test_a_moved_pin_leaves_the_far_legs_as_they_were() -> None:
    still = ground().route(on_edge(0, 60, 120, 180))
    moved = ground().route(np.stack([*on_edge(0, 60), MIDDLE + np.array([-155.0, 275.0]), *on_edge(180)]))
    far = still[still[:, 0] > MIDDLE[0] + 200]
    assert distances_to_polyline(far, moved).max() < 0.3


def test_it_is_the_same_after_a_journey_to_another_process() -> None:
    pins = on_edge(20, 150)
    there = pickle.loads(pickle.dumps(ground()))
    np.testing.assert_array_equal(there.route(pins), ground().route(pins))


def test_places_are_those_of_the_full_picture() -> None:
    """A reduced picture whose pixels are blocks of 3: full = (small + 0.5) * 3 - 0.5."""
    reduced = Ground(ground().small, 3.0)
    pins = on_edge(0, 90, 180)
    path = (reduced.route((pins + 0.5) * 3 - 0.5) + 0.5) / 3 - 0.5
    assert np.mean(off_edge(path)) < 0.5
