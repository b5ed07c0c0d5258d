"""What is said about a photograph, and that nothing is said about a good one."""

import io
import math

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from etchbook.picture import Picture, look_over, make_picture
from etchbook.picture.sharpness import edge_rise


def specimen(blur: float = 1.0, dark: float = 0.05, light: float = 0.6, noise: float = 0.01) -> np.ndarray:
    """Bright plates with straight edges at several angles on a dark ground."""
    y, x = np.mgrid[:900, :1200].astype(float)
    cover = np.zeros_like(x)
    for cx, cy, angle in ((300, 250, 10), (850, 300, 35), (350, 650, 80), (850, 680, 125)):
        turn = np.deg2rad(angle)
        u = (x - cx) * np.cos(turn) + (y - cy) * np.sin(turn)
        v = (y - cy) * np.cos(turn) - (x - cx) * np.sin(turn)
        cover = np.maximum(cover, np.clip(150.5 - np.abs(u), 0, 1) * np.clip(110.5 - np.abs(v), 0, 1))
    image = dark + (light - dark) * ndimage.gaussian_filter(cover, blur)
    return image + noise * np.random.default_rng(4).normal(size=image.shape)


def picture(image: np.ndarray) -> Picture:
    return make_picture(np.rint(np.clip(image, 0, 1) * 65535).astype(np.uint16))


def kinds(found) -> list[str]:
    return [blemish.kind for blemish in found]


def test_nothing_is_said_about_a_good_picture():
    assert look_over(picture(specimen()), px_per_mm=40, smallest_mm=0.5) == ()


@pytest.mark.parametrize("blur", [1.0, 1.6, 2.5, 4.0])
def test_the_rise_is_that_of_a_blurred_step(blur):
    """10 to 90 % of a normal distribution are 2 x 1.28155 sigma; the pixel itself adds 1/12 of variance."""
    truth = 2.5631 * math.sqrt(blur**2 + 1 / 12)
    assert edge_rise(picture(specimen(blur))) == pytest.approx(truth, rel=0.10)


def test_a_soft_picture_is_said_in_pixels_and_micrometres():
    (soft,) = look_over(picture(specimen(4.0)), px_per_mm=40)
    assert soft.kind == "soft"
    assert soft.value == pytest.approx(2.5631 * 4.0, rel=0.10)
    assert "µm" in soft.words and "focus" in soft.words


def test_what_is_soft_depends_on_what_is_wanted():
    image = picture(specimen(2.4))
    assert kinds(look_over(image, px_per_mm=200, smallest_mm=0.5)) == []
    assert "soft" in kinds(look_over(image, px_per_mm=20, smallest_mm=0.5))


def test_too_coarse():
    (coarse,) = look_over(picture(specimen()), px_per_mm=8, smallest_mm=0.8)
    assert (coarse.kind, coarse.unit) == ("coarse", "px")
    assert coarse.value == pytest.approx(6.4)
    assert "nearer" in coarse.words


def test_dark_and_glaring():
    assert kinds(look_over(picture(specimen(light=0.12, dark=0.01, noise=0.001)))) == ["dark"]
    burnt = specimen()
    burnt[200:320, 200:400] = 1.0
    (glare,) = look_over(picture(burnt))
    assert glare.kind == "glaring"
    assert glare.value == pytest.approx(100 * 120 * 200 / (900 * 1200), rel=0.02)


def test_glare_outside_the_specimen_does_not_matter():
    burnt = specimen()
    burnt[:60] = 1.0
    inside = np.zeros(burnt.shape, bool)
    inside[100:800, 100:1100] = True
    assert kinds(look_over(picture(burnt), inside=inside)) == []
    with pytest.raises(ValueError, match="size of the picture"):
        look_over(picture(burnt), inside=inside[:10])


def test_a_dark_mount_is_no_fault():
    image = specimen(light=0.55, dark=0.0, noise=0.004)
    assert "dark" not in kinds(look_over(picture(image)))


@pytest.mark.parametrize(("quality", "said"), [(92, False), (12, True)])
def test_strong_compression(quality, said):
    out = io.BytesIO()
    eight = np.rint(np.clip(specimen(noise=0.04), 0, 1) * 255).astype(np.uint8)
    Image.fromarray(eight).save(out, "JPEG", quality=quality)
    array = np.asarray(Image.open(out).convert("RGB"))
    assert ("compressed" in kinds(look_over(make_picture(array[3:, 5:].copy())))) == said
