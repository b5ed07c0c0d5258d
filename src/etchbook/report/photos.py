"""Pictures as bytes: the photo reduced for a page, PNG files, regions."""

import base64
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from etchbook.picture import Picture

Window = tuple[int, int, int, int]
"""Left, top, right, bottom [px]; right and bottom are not in it any more."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Print:
    """A part of a photo made ready for a page.

    Parameters
    ----------
    jpeg : the bytes
    window : the part of the picture that they show [px]
    width, height : of the JPEG [px]
    """

    jpeg: bytes
    window: Window
    width: int
    height: int

    @property
    def href(self) -> str:
        """The bytes as an address that needs nothing from outside."""
        return "data:image/jpeg;base64," + base64.b64encode(self.jpeg).decode("ascii")


def photo_print(picture: Picture, window: Window | None = None, *, longest: int = 2400) -> Print:
    """The picture, or a window of it, as a JPEG whose longer side has at most `longest` pixels."""
    left, top, right, bottom = window or (0, 0, picture.width, picture.height)
    image = Image.fromarray(eight_bits(picture.rgb[top:bottom, left:right]))
    image.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    # The same bytes for the same picture: no time, no comment, fixed tables.
    return Print(
        jpeg=_saved(image, "JPEG", quality=88, subsampling=0),
        window=(left, top, right, bottom),
        width=image.width,
        height=image.height,
    )


def picture_png(picture: Picture) -> bytes:
    """The picture as an 8-bit RGB PNG of its own size."""
    return _saved(Image.fromarray(eight_bits(picture.rgb)), "PNG")


def regions_png(labels: NDArray[np.uint8]) -> bytes:
    """Region labels (height, width) as an 8-bit grey PNG: 0 surroundings, 1 plate, 2 HAZ, 3 weld metal."""
    if labels.ndim != 2 or labels.dtype != np.uint8:
        raise TypeError("regions are (height, width) uint8")
    return _saved(Image.fromarray(np.ascontiguousarray(labels)), "PNG")


def eight_bits(rgb: NDArray[np.uint16]) -> NDArray[np.uint8]:
    """Light in 8 bits, (h, w, 3)."""
    # The high byte: exact for pictures that came with 8 bits (v x 257), and no second copy at 16 bits is made.
    held = np.empty(rgb.shape, np.uint8)
    return np.right_shift(rgb, 8, out=held, casting="unsafe")


def _saved(image: Image.Image, kind: str, **settings: int) -> bytes:
    held = BytesIO()
    image.save(held, kind, **settings)
    return held.getvalue()
