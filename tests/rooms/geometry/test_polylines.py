"""Open chains by hand and against a reference library."""

import numpy as np
import pytest
import shapely

from etchbook.geometry import arc_length, distances_to_polyline, hausdorff_mean, normals, ray_crossings, resample

CORNER = np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 4.0]])


def test_length_run() -> None:
    assert arc_length(CORNER) == pytest.approx([0.0, 3.0, 7.0])


def test_resampling_keeps_the_ends_and_the_step() -> None:
    points = resample(CORNER, 0.5)
    assert points[0] == pytest.approx(CORNER[0]) and points[-1] == pytest.approx(CORNER[-1])
    assert len(points) == 15
    assert np.diff(arc_length(points)) == pytest.approx(0.5)


def test_a_point_given_twice_does_no_harm() -> None:
    doubled = np.repeat(CORNER, 2, axis=0)
    assert resample(doubled, 0.5) == pytest.approx(resample(CORNER, 0.5))


def test_normals_point_from_x_towards_y() -> None:
    assert normals(np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]])) == pytest.approx(np.array([[0.0, 1.0]] * 3))


def test_distances_agree_with_the_reference() -> None:
    generator = np.random.default_rng(4)
    chain, points = generator.uniform(0, 10, (12, 2)), generator.uniform(0, 10, (60, 2))
    expected = shapely.distance(shapely.points(points), shapely.LineString(chain))
    assert distances_to_polyline(points, chain) == pytest.approx(expected)


def test_two_parallel_chains_lie_their_distance_apart() -> None:
    chain = np.stack([np.linspace(0, 10, 50), np.zeros(50)], axis=1)
    assert hausdorff_mean(chain, chain + np.array([0.0, 0.25])) == pytest.approx(0.25)


def test_the_larger_direction_counts() -> None:
    short = np.array([[0.0, 0.0], [1.0, 0.0]])
    long = np.array([[0.0, 0.0], [1.0, 0.0], [5.0, 0.0]])
    assert hausdorff_mean(short, long) == pytest.approx(4.0 / 3)


def test_a_ray_crosses_a_square_twice() -> None:
    ring = np.array([[2.0, -1.0], [4.0, -1.0], [4.0, 1.0], [2.0, 1.0], [2.0, -1.0]])
    assert ray_crossings(np.zeros(2), np.array([1.0, 0.0]), ring) == pytest.approx([2.0, 4.0])
    assert ray_crossings(np.zeros(2), np.array([-1.0, 0.0]), ring).size == 0
