"""Block means, grey and sampling, against plain arithmetic and the usual libraries."""

import numpy as np
import pytest
from scipy import ndimage

from etchbook.picture import Picture, grey, make_picture, reduced, sample
from etchbook.picture.reduce import block_mean


def noise(height: int, width: int) -> Picture:
    return make_picture(np.random.default_rng(3).integers(0, 65536, (height, width, 3)).astype(np.uint16))


@pytest.mark.parametrize(("height", "width", "factor"), [(12, 15, 3), (13, 17, 4), (5, 6, 1), (7, 9, 8)])
def test_each_small_pixel_is_the_mean_of_its_block(height, width, factor):
    rgb = noise(height, width).rgb
    small = block_mean(rgb, factor)
    for row in range(small.shape[0]):
        for column in range(small.shape[1]):
            block = rgb[row * factor : (row + 1) * factor, column * factor : (column + 1) * factor]
            assert np.allclose(small[row, column], block.reshape(-1, 3).mean(axis=0) / 65535, atol=1e-6)


def test_places_are_carried_over_as_promised():
    """A bright disc keeps its centre: full = (small + 0.5) * factor - 0.5."""
    y, x = np.mgrid[:1200, :1600]
    disc = (np.hypot(x - 700.25, y - 410.75) < 90).astype(np.uint16) * 65535
    small, factor = reduced(make_picture(disc), 0.12)
    assert factor == 4
    centre = np.array(ndimage.center_of_mass(small[..., 0]))[::-1]
    assert np.allclose((centre + 0.5) * factor - 0.5, [700.25, 410.75], atol=0.05)


def test_a_small_picture_stays_as_it_is():
    picture = noise(40, 50)
    small, factor = reduced(picture)
    assert factor == 1
    assert np.allclose(small, picture.rgb / 65535, atol=1e-6)


def test_grey_of_white_is_one_and_of_the_primaries_their_weights():
    assert grey(np.full((1, 3), 65535, np.uint16)) == pytest.approx(1.0, abs=1e-6)
    assert grey(np.eye(3, dtype=np.float32)) == pytest.approx([0.2126, 0.7152, 0.0722])


def test_bilinear_sampling_agrees_with_scipy():
    picture = noise(30, 40)
    points = np.random.default_rng(1).uniform([0, 0], [39, 29], (200, 2))
    found = sample(picture, points)
    for channel in range(3):
        reference = ndimage.map_coordinates(picture.rgb[..., channel] / 65535, points[:, ::-1].T, order=1)
        assert np.allclose(found[:, channel], reference, atol=1e-6)


def test_cubic_sampling_is_exact_on_parabolas_and_at_pixels():
    y, x = np.mgrid[:30, :40]
    picture = make_picture((20 * x**2 + 7 * y**2 + 5 * x * y).astype(np.uint16))
    points = np.random.default_rng(1).uniform([2, 2], [36, 26], (100, 2))
    truth = 20 * points[:, 0] ** 2 + 7 * points[:, 1] ** 2 + 5 * points[:, 0] * points[:, 1]
    assert np.allclose(sample(picture, points, "cubic")[:, 0] * 65535, truth, atol=0.01)
    assert sample(picture, np.array([[39.0, 29.0]]), "cubic")[0, 0] * 65535 == pytest.approx(
        picture.rgb[29, 39, 0], abs=0.01
    )


def test_beyond_the_border_the_picture_goes_on():
    picture = noise(10, 10)
    assert np.allclose(sample(picture, np.array([[-5.0, 3.0]])), picture.rgb[3, 0] / 65535, atol=1e-6)
    with pytest.raises(ValueError, match="finite"):
        sample(picture, np.array([[np.nan, 0.0]]))
