"""The scale from a scale bar: its two ends, at any colour and angle; none where nothing or too much looks like one."""

from pathlib import Path

import numpy as np
import pytest
from scipy import ndimage
from skimage import data

from etchbook.files import load_photo
from etchbook.picture import NoScale, Picture, Scale, find_bar, make_picture

REAL = Path(__file__).parents[2] / "pictures_real"


def ground(width: int = 1200, height: int = 800, seed: int = 1) -> np.ndarray:
    rng = np.random.default_rng(seed)
    cloud = 0.45 + 1.2 * ndimage.gaussian_filter(rng.normal(size=(height, width)), 4)
    return np.repeat(np.clip(cloud, 0.2, 0.75)[..., None], 3, axis=2)


def block(image, middle, length, width, angle, colour, margin=0.0, blur=0.0):
    """An anti-aliased rectangle laid into an image."""
    y, x = np.mgrid[: image.shape[0], : image.shape[1]].astype(float)
    turn = np.deg2rad(angle)
    along = np.abs((x - middle[0]) * np.cos(turn) + (y - middle[1]) * np.sin(turn))
    across = np.abs((y - middle[1]) * np.cos(turn) - (x - middle[0]) * np.sin(turn))
    cover = np.clip(length / 2 + margin + 0.5 - along, 0, 1) * np.clip(width / 2 + margin + 0.5 - across, 0, 1)
    cover = ndimage.gaussian_filter(cover, blur) if blur else cover
    return image * (1 - cover[..., None]) + np.array(colour) * cover[..., None]


def picture(image: np.ndarray, noise: float = 0.0) -> Picture:
    image = image + noise * np.random.default_rng(2).normal(size=image.shape)
    return make_picture(np.rint(np.clip(image, 0, 1) * 65535).astype(np.uint16))


@pytest.mark.parametrize("colour", [(1, 1, 1), (0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 0.9, 0)])
@pytest.mark.parametrize("angle", [0, 90])
def test_a_burnt_in_bar_of_any_colour(colour, angle):
    found = find_bar(picture(block(ground(), (300, 600), 240, 10, angle, colour)), 2.0)
    assert isinstance(found, Scale)
    assert found.px_per_mm == pytest.approx(120, abs=0.5)
    assert abs(found.px_per_mm - 120) < 2 * found.u
    assert found.origin == "scale bar"


@pytest.mark.parametrize("angle", [7, 33, 128, 211])
def test_a_printed_bar_lies_at_any_angle(angle):
    card = block(ground(), (600, 400), 420, 60, angle, (0.8, 0.8, 0.78))
    image = block(card, (600, 400), 300.0, 12, angle, (0.08, 0.08, 0.08), blur=1.0)
    found = find_bar(picture(image, 0.01), 10.0)
    assert isinstance(found, Scale)
    assert abs(found.px_per_mm - 30) < 2 * found.u
    assert abs(found.px_per_mm / 30 - 1) < 0.01


@pytest.mark.parametrize("colour", [(0.55, 0.62, 0.75), (0.5, 0.6, 0.35)])
def test_a_bar_that_lost_its_white_in_poor_light_is_still_found(colour):
    image = block(0.3 * ground(), (500, 600), 260, 11, 0, colour, blur=0.8)
    found = find_bar(picture(image, 0.01), 2.0)
    assert isinstance(found, Scale)
    assert abs(found.px_per_mm - 130) < 2 * found.u


def test_the_real_picture_with_its_burnt_in_bar():
    """Read by eye on the enlarged picture: the white block runs from column 54 to column 368, 315 px for 0.1 mm."""
    found = find_bar(load_photo(REAL / "melt_track_1.tif"), 0.1)
    assert isinstance(found, Scale)
    assert found.px_per_mm == pytest.approx(3150, abs=15)
    assert found.u < 15


def test_two_bars_of_different_length_are_one_too_many():
    image = block(block(ground(), (300, 600), 240, 10, 0, (1, 1, 1)), (800, 300), 400, 10, 0, (1, 1, 1))
    found = find_bar(picture(image), 1.0)
    assert isinstance(found, NoScale)
    assert "more than one" in found.reason


@pytest.mark.parametrize("name", ["brick", "grass", "gravel", "coins", "moon"])
def test_a_picture_without_a_bar_has_no_scale(name):
    assert isinstance(find_bar(make_picture(getattr(data, name)()), 1.0), NoScale)


def test_a_real_picture_without_a_bar_has_no_scale():
    assert isinstance(find_bar(load_photo(REAL / "crack_1.png"), 1.0), NoScale)


@pytest.mark.parametrize("length", [0.0, -1.0, float("nan")])
def test_its_length_must_be_a_length(length):
    with pytest.raises(ValueError, match="more than 0 mm"):
        find_bar(picture(ground(100, 80)), length)
