"""One constructor, one kind of picture."""

import numpy as np
import pytest

from etchbook.picture import make_picture

NUMBERS = np.arange(6, dtype=np.uint8).reshape(2, 3)
# Exif 2.32, tag 0x0112: which side of the scene the rows and columns of the file show, worked out by hand.
TURNED = {
    1: [[0, 1, 2], [3, 4, 5]],
    2: [[2, 1, 0], [5, 4, 3]],
    3: [[5, 4, 3], [2, 1, 0]],
    4: [[3, 4, 5], [0, 1, 2]],
    5: [[0, 3], [1, 4], [2, 5]],
    6: [[3, 0], [4, 1], [5, 2]],
    7: [[5, 2], [4, 1], [3, 0]],
    8: [[2, 5], [1, 4], [0, 3]],
}


@pytest.mark.parametrize("orientation", TURNED)
def test_every_turn(orientation):
    picture = make_picture(NUMBERS, orientation=orientation)
    assert (picture.rgb[..., 1] // 257).tolist() == TURNED[orientation]
    assert picture.rgb.flags.c_contiguous
    assert bool(picture.notes) == (orientation != 1)


def test_eight_and_sixteen_bits_share_black_and_white():
    assert make_picture(np.array([[0, 128, 255]], np.uint8)).rgb[0, :, 0].tolist() == [0, 32896, 65535]
    assert make_picture(np.array([[0, 128, 65535]], np.uint16)).rgb[0, :, 0].tolist() == [0, 128, 65535]


def test_half_transparent_black_is_mid_grey_on_white():
    array = np.zeros((4, 4, 4), np.uint16)
    array[..., 3] = 32768
    assert make_picture(array).rgb[0, 0].tolist() == [32767, 32767, 32767]


def test_the_source_is_not_shared():
    array = np.zeros((4, 4, 3), np.uint16)
    picture = make_picture(array)
    array[0, 0] = 9
    assert picture.rgb.max() == 0
    with pytest.raises(ValueError, match="read-only"):
        picture.rgb[0, 0] = 1


@pytest.mark.parametrize("array", [np.zeros((4, 4)), np.zeros((4, 4), np.int32)])
def test_other_numbers_are_not_guessed_at(array):
    with pytest.raises(TypeError, match="8 or 16 bit"):
        make_picture(array)


@pytest.mark.parametrize("shape", [(4,), (4, 4, 5), (0, 4), (2, 2, 2, 2)])
def test_other_shapes_are_refused(shape):
    with pytest.raises(ValueError, match="a picture is"):
        make_picture(np.zeros(shape, np.uint8))
