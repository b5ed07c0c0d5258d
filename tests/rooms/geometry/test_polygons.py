"""Closed outlines against a reference library and by hand."""

import numpy as np
import pytest
import shapely
from skimage.draw import polygon2mask

from etchbook.geometry import Line, area, clip_half_plane, contains, rasterise
from etchbook.geometry.lines import Points


def star(seed: int, corners: int = 17, size: float = 30.0) -> Points:
    generator = np.random.default_rng(seed)
    turn = np.sort(generator.uniform(0, 2 * np.pi, corners))
    reach = size * generator.uniform(0.3, 1.0, corners)
    return np.stack([40 + reach * np.cos(turn), 35 + reach * np.sin(turn)], axis=1)


def test_area_of_a_fillet_triangle() -> None:
    assert area(np.array([[0.0, 0.0], [8.0, 0.0], [0.0, 6.0]])) == 24.0


@pytest.mark.parametrize("seed", range(8))
def test_area_agrees_with_the_reference(seed: int) -> None:
    assert area(star(seed)) == pytest.approx(shapely.Polygon(star(seed)).area)
    assert area(star(seed)[::-1]) == pytest.approx(shapely.Polygon(star(seed)).area)


@pytest.mark.parametrize("seed", range(8))
def test_clipped_area_agrees_with_the_reference(seed: int) -> None:
    line = Line(x=38.0, y=33.0, heading=0.7 * seed)
    far = np.array([line.at(-500), line.at(500), line.at(500, 500), line.at(-500, 500)])
    expected = shapely.Polygon(star(seed)).intersection(shapely.Polygon(far)).area
    assert area(clip_half_plane(star(seed), line)) == pytest.approx(expected)


def test_nothing_is_left_of_a_polygon_on_the_other_side() -> None:
    assert clip_half_plane(star(1), Line(x=0, y=500, heading=0.0)).shape == (0, 2)


@pytest.mark.parametrize("seed", range(4))
def test_inside_agrees_with_the_reference(seed: int) -> None:
    points = np.random.default_rng(seed).uniform(0, 80, (400, 2))
    expected = shapely.contains_xy(shapely.Polygon(star(seed)), points)
    assert np.array_equal(contains(star(seed), points), expected)


@pytest.mark.parametrize("seed", range(4))
def test_pixels_agree_with_the_reference(seed: int) -> None:
    expected = polygon2mask((80, 90), star(seed)[:, ::-1])
    assert np.array_equal(rasterise(star(seed), (80, 90)), expected)


def test_a_polygon_that_leaves_the_picture_is_cut_at_its_edge() -> None:
    square = np.array([[-5.0, -5.0], [2.5, -5.0], [2.5, 2.5], [-5.0, 2.5]])
    mask = rasterise(square, (10, 10))
    assert mask.sum() == 9 and mask[:3, :3].all()


def test_fewer_than_three_points_cover_nothing() -> None:
    assert not rasterise(np.array([[1.0, 1.0], [5.0, 5.0]]), (8, 8)).any()
