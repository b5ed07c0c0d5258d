"""The scale from a rule: right to a thousandth, or none."""

from pathlib import Path

import numpy as np
import pytest
from scipy import ndimage
from skimage import data

from etchbook.files import load_photo
from etchbook.picture import NoScale, Picture, Scale, find_rule, make_picture
from rooms.picture.painted_rules import all_alike, half_millimetres, halved_inch, millimetres, painted_rule

REAL = Path(__file__).parents[2] / "pictures_real"
INCH_64 = 25.4 / 64
DARK = {"ink": 0.15, "metal": 0.7}
LIGHT = {"ink": 0.85, "metal": 0.3}


def error(found: Scale | NoScale, true: float) -> float:
    assert isinstance(found, Scale), found
    return found.px_per_mm / true - 1


@pytest.mark.parametrize(
    ("pitch", "angle", "look"),
    [
        (6, 0, DARK),
        (9, 31, LIGHT),
        (14, 75, DARK),
        (21, 118, LIGHT),
        (33, 203, DARK),
        (48, 170, LIGHT),
        (60, 350, DARK),
    ],
)
@pytest.mark.parametrize(("kind", "mm"), [(millimetres, 1.0), (half_millimetres, 0.5)])
def test_metric_rules_are_read_to_a_thousandth_without_being_told(kind, mm, pitch, angle, look):
    found = find_rule(painted_rule(kind, pitch, angle, seed=round(angle), **look))
    assert abs(error(found, pitch / mm)) < 1e-3
    assert abs(found.px_per_mm - pitch / mm) < 3 * found.u
    assert found.origin == "rule"


@pytest.mark.parametrize(("pitch", "angle"), [(7, 12), (16, 140), (40, 275)])
def test_inch_rules_are_read_when_the_pitch_is_said(pitch, angle):
    found = find_rule(painted_rule(halved_inch, pitch, angle), INCH_64)
    assert abs(error(found, pitch / INCH_64)) < 1e-3


def test_an_inch_rule_is_told_by_itself_only_when_a_whole_inch_is_seen():
    whole = find_rule(painted_rule(halved_inch, 12, 20))
    assert abs(error(whole, 12 / INCH_64)) < 1e-3
    part = find_rule(painted_rule(halved_inch, 34, 20, shift=-20.3))
    assert isinstance(part, NoScale)
    assert "rule=1/64in" in part.reason


def test_equal_graduations_need_the_pitch():
    picture = painted_rule(all_alike, 15, 40)
    none = find_rule(picture)
    assert isinstance(none, NoScale)
    assert "how far apart" in none.reason
    assert abs(error(find_rule(picture, 1.0), 15.0)) < 1e-3


@pytest.mark.parametrize(
    ("kind", "said"), [(half_millimetres, 1.0), (millimetres, 0.5), (millimetres, INCH_64), (halved_inch, 1.0)]
)
def test_a_pitch_that_the_rule_contradicts_is_not_taken(kind, said):
    found = find_rule(painted_rule(kind, 14, 25), said)
    assert isinstance(found, NoScale)
    assert "does not agree" in found.reason


def test_half_millimetres_too_fine_for_their_longer_neighbours_never_become_millimetres_by_fives():
    """Only every second graduation longer: half millimetres, fives or an inch, a factor of ten apart."""
    assert isinstance(find_rule(painted_rule(lambda k: 2 if k % 2 == 0 else 1, 16, 10)), NoScale)


def test_the_stated_uncertainty_covers_noise_and_blur():
    rng = np.random.default_rng(5)
    ratios = []
    for seed in range(10):
        pitch = float(rng.uniform(8, 30))
        picture = painted_rule(
            millimetres, pitch, float(rng.uniform(0, 360)), size=(900, 700), seed=seed, noise=0.03, blur=1.5
        )
        found = find_rule(picture)
        ratios.append(abs(error(found, pitch)) / found.relative)
    assert np.mean(np.array(ratios) < 2) >= 0.9


@pytest.mark.parametrize("tilt", [4e-6, -8e-6])
def test_a_slight_tilt_is_in_the_uncertainty(tilt):
    found = find_rule(painted_rule(millimetres, 20, 15, tilt=tilt))
    assert abs(error(found, 20.0)) < max(1e-3, 2 * found.relative)
    # Over the 1300 px of the rule the scale changes by tilt * 1300; half of it must be covered by about 2 u.
    assert 2 * found.relative > 0.4 * abs(tilt) * 1300


def test_a_finger_over_the_rule_does_not_shift_it():
    whole = painted_rule(millimetres, 20, 0)
    rgb = whole.rgb.copy()
    rgb[:, 600:690] = 30000
    assert abs(error(find_rule(Picture(rgb=rgb)), 20.0)) < 1e-3


def test_a_large_picture_is_read_as_well():
    rng = np.random.default_rng(0)
    small = painted_rule(half_millimetres, 12, 33, size=(1500, 1000)).rgb
    large = np.kron(small, np.ones((2, 2, 1), np.uint16))
    large = np.clip(large + rng.integers(-300, 300, (*large.shape[:2], 1)), 0, 65535).astype(np.uint16)
    assert abs(error(find_rule(Picture(rgb=large)), 48.0)) < 1e-3


@pytest.mark.parametrize("pitch_mm", [None, 1.0])
def test_the_printed_card_of_a_real_photograph(pitch_mm):
    """Read by eye: the ticks of 0 and 5 cm lie 142 px apart (about 1 px sure), so 2.84 ± 0.02 px/mm."""
    found = find_rule(load_photo(REAL / "plate_with_scale.jpg"), pitch_mm)
    assert abs(error(found, 142 / 50)) < 0.01
    assert 0.001 < found.relative < 0.02


@pytest.mark.parametrize("pitch_mm", [None, 0.5, 1.0, INCH_64])
@pytest.mark.parametrize("name", ["brick", "grass", "gravel", "coins", "text", "checkerboard", "camera"])
def test_a_picture_without_a_rule_has_no_scale(name, pitch_mm):
    assert isinstance(find_rule(make_picture(getattr(data, name)()), pitch_mm), NoScale)


@pytest.mark.parametrize("name", ["melt_track_1.tif", "crack_1.png"])
def test_real_sections_without_a_rule_have_no_scale(name):
    found = find_rule(load_photo(REAL / name))
    assert isinstance(found, NoScale)
    assert "no rule was found" in found.reason


@pytest.mark.parametrize("pitch_mm", [None, 1.0])
@pytest.mark.parametrize("grain", [0.0, 0.04])
def test_woven_cloth_repeats_but_is_no_rule(pitch_mm, grain):
    """Evenly repeating threads have no graduations of like length."""
    y, x = np.mgrid[:700, :900].astype(float)
    rng = np.random.default_rng(8)
    threads = np.sin(2 * np.pi * x / 6.4) * np.sin(2 * np.pi * y / 6.4 + 0.2 * np.sin(x / 40))
    cloth = 0.35 + 0.06 * threads + grain * rng.normal(size=x.shape)
    cloth += 0.8 * ndimage.gaussian_filter(rng.normal(size=x.shape), 6)
    found = find_rule(make_picture(np.rint(np.clip(cloth, 0, 1) * 65535).astype(np.uint16)), pitch_mm)
    assert isinstance(found, NoScale)


@pytest.mark.parametrize("pitch_mm", [0.0, -1.0, float("nan")])
def test_a_pitch_must_be_a_length(pitch_mm):
    with pytest.raises(ValueError, match="more than 0 mm"):
        find_rule(make_picture(np.zeros((100, 100), np.uint8)), pitch_mm)


@pytest.mark.parametrize("size", [(64, 64), (64, 3000), (2000, 70)])
def test_an_even_grey_of_any_size_has_no_scale(size):
    assert isinstance(find_rule(make_picture(np.full(size, 120, np.uint8))), NoScale)
