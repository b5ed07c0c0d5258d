"""Pairs of painted pictures: the truth lies where the pictures show it."""

import numpy as np
import pytest
from scipy import ndimage

from etchbook.picture import grey
from etchbook.simulate.pairs import KINDS, line_in, paint_pair
from etchbook.simulate.views import moved, shows


def test_the_same_seed_paints_the_same_bytes() -> None:
    one, two = (paint_pair(9, width=240, height=180) for _ in range(2))
    assert all((a.rgb == b.rgb).all() for a, b in zip(one.pictures, two.pictures, strict=True))


def test_the_matrix_takes_a_line_of_the_first_to_the_second() -> None:
    painted = paint_pair(6, width=400, height=300, kind="view", times=2.0)
    assert painted.matrix is not None and painted.lines
    for line in painted.lines:
        assert moved(painted.matrix, line_in(painted, line, 0)) == pytest.approx(line_in(painted, line, 1), abs=1e-6)


def test_a_painted_line_is_dark_where_the_truth_says() -> None:
    painted = paint_pair(308, width=800, height=600, kind="view", times=1.0, family="tee")
    line = max(painted.lines, key=lambda one: one.contrast)
    light = ndimage.gaussian_filter(grey(painted.pictures[0].rgb), 0.7)
    points = line_in(painted, line, 0)
    inside = ((points > 12) & (points < [787, 587])).all(axis=1)
    points = points[inside]
    assert shows(line, painted.states[0]) and len(points) > 50
    slope = np.gradient(points, axis=0)
    across = np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.hypot(*slope.T)[:, None]

    def at(places: np.ndarray) -> float:
        return float(ndimage.map_coordinates(light, places.T[::-1], order=1).mean())

    beside = 0.5 * (at(points + 8 * across) + at(points - 8 * across))
    assert at(points) < 0.8 * beside


def test_what_changes_is_what_was_asked() -> None:
    for kind in KINDS:
        one, two = paint_pair(5, width=160, height=120, kind=kind).states
        assert (one.etched != two.etched) == (kind == "etch")
        assert (one.light != two.light) == (kind == "light")
        assert (one.scratched != two.scratched) == (kind in ("polish", "ground"))
    with pytest.raises(ValueError, match="no kind of pair"):
        paint_pair(5, kind="other")
