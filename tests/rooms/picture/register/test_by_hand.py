"""Pictures laid on each other by points that a person matched."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from etchbook.picture import Picture, make_picture
from etchbook.picture.register import NotRegistered, Registration, register_by_hand

SHIFT = np.array([30.0, 20.0])
PLACES = np.array([[40.0, 30.0], [350.0, 60.0], [320.0, 250.0], [60.0, 270.0], [200.0, 150.0]])


def plain(seed: int) -> Picture:
    """Nothing that two such pictures have in common."""
    return make_picture(np.random.default_rng(seed).integers(90, 110, (300, 400), dtype=np.uint8))


def pairs(*, mirror: bool = False, off: float = 0.0) -> np.ndarray:
    """Twice as close and turned by a quarter, worked by hand: x' = 700 - 2 y, y' = 2 x + 5 (mirrored: x' = 2 y)."""
    x, y = PLACES.T
    there = np.stack([2 * y if mirror else 700 - 2 * y, 2 * x + 5], axis=1)
    there[2] += off
    return np.stack([PLACES, there], axis=1)


@pytest.mark.parametrize("mirror", [False, True])
def test_points_that_fit_each_other_lay_pictures_that_have_nothing_else(mirror: bool) -> None:
    found = register_by_hand(plain(1), plain(2), pairs(mirror=mirror))
    assert isinstance(found, Registration) and found.by_hand and found.mirror == mirror
    assert found.size == pytest.approx(2) and found.coarser == 1
    x = 100 if mirror else 700 - 100
    assert found.to_second(np.array([[10.0, 50.0]])) == pytest.approx(np.array([[x, 25.0]]), abs=1e-6)
    # Nobody clicks better than a pixel, so no place is known better than part of one.
    assert 0.3 < found.u < 3


def test_a_point_that_does_not_fit_is_named() -> None:
    found = register_by_hand(plain(1), plain(2), pairs(off=80.0))
    assert isinstance(found, NotRegistered) and "point 3" in found.reason and "four or more" in found.remedy


def test_three_points_cannot_show_whether_they_fit() -> None:
    found = register_by_hand(plain(1), plain(2), pairs()[:3])
    assert isinstance(found, NotRegistered) and "3 points" in found.reason


def test_points_are_made_finer_by_pictures_that_bear_it() -> None:
    rng = np.random.default_rng(4)
    light = gaussian_filter(rng.standard_normal((360, 480)), 2.0)
    grey = np.clip(128 + 60 * light / light.std(), 0, 255).astype(np.uint8)
    first, second = make_picture(grey[20:320, 30:430]), make_picture(grey[:300, :400])
    rough = np.stack([PLACES, PLACES + SHIFT + rng.normal(0, 1.5, PLACES.shape)], axis=1)
    found = register_by_hand(first, second, rough)
    assert isinstance(found, Registration) and not found.by_hand
    assert found.to_second(PLACES) == pytest.approx(PLACES + SHIFT, abs=0.3)
