"""A traced face is a face only where its two sides differ."""

import numpy as np

from etchbook.picture import Picture
from etchbook.section.plates import twin_sided

LEVEL = np.stack([np.linspace(20, 280, 60), np.full(60, 100.0)], axis=1)


def picture(above: float, below: float, line: float) -> Picture:
    light = np.full((200, 300), above)
    light[101:] = below
    light[99:102] = line
    grey = np.round(light * 65535).astype(np.uint16)
    return Picture(rgb=np.repeat(grey[..., None], 3, axis=2))


def test_a_dark_line_between_the_same_metal_is_no_face() -> None:
    assert twin_sided(picture(0.6, 0.6, 0.2), LEVEL)


def test_a_face_with_a_dark_rim_is_one() -> None:
    assert not twin_sided(picture(0.6, 0.1, 0.05), LEVEL)
    assert not twin_sided(picture(0.6, 0.8, 0.2), LEVEL)


def test_without_a_line_nothing_is_said() -> None:
    assert not twin_sided(picture(0.6, 0.6, 0.6), LEVEL)
