"""The door: any decoded photograph becomes one kind of picture."""

import numpy as np
from numpy.typing import NDArray

from etchbook.picture.records import Picture

TURNS = {1: "", 2: "mirrored", 3: "turned by 180°", 4: "mirrored", 5: "mirrored and turned", 6: "turned by 90°"}
TURNS |= {7: "mirrored and turned", 8: "turned by 270°"}
TO_16_BIT = 257
"""255 becomes 65535 and 0 stays 0, so that white and black mean the same at both depths."""


def make_picture(
    array: NDArray[np.generic], *, orientation: int = 1, name: str = "", sha256: str = "", notes: tuple[str, ...] = ()
) -> Picture:
    """Make one picture of a decoded photograph.

    Parameters
    ----------
    array : (h, w), (h, w, 1 to 4) uint8 or uint16, sRGB or grey; a 2nd or 4th channel is opacity
    orientation : EXIF orientation 1 to 8 that has still to be applied
    name : file name without folders
    sha256 : of the original bytes
    notes : what was done before

    Returns
    -------
    Picture
        uint16, turned as displayed; what is transparent lies on white.

    Source: Exif 2.32, tag 0x0112 (from memory).
    """
    if array.dtype not in (np.dtype(np.uint8), np.dtype(np.uint16)):
        raise TypeError(f"a picture is made of 8 or 16 bit whole numbers, not of {array.dtype}")
    if array.ndim not in (2, 3) or (array.ndim == 3 and not 1 <= array.shape[2] <= 4) or 0 in array.shape:
        raise ValueError(f"a picture is (height, width) or (height, width, 1 to 4), not {array.shape}")
    stack = array[..., None] if array.ndim == 2 else array
    colour, seen_through = _on_white(stack)
    said = [*notes]
    if seen_through:
        said.append("transparent parts of the picture were laid on white")
    if TURNS.get(orientation):
        said.append(f"{TURNS[orientation]} as the camera noted")
    return Picture(rgb=_sixteen(turned(colour, orientation)), name=name, sha256=sha256, notes=tuple(said))


def turned(array: NDArray[np.generic], orientation: int) -> NDArray[np.generic]:
    """A view of an array as it is to be displayed; orientation as in EXIF, 1 to 8, anything else counts as 1."""
    if orientation in (5, 6, 7, 8):
        array = array.swapaxes(0, 1)
    if orientation in (2, 3, 6, 7):
        array = array[:, ::-1]
    if orientation in (3, 4, 7, 8):
        array = array[::-1]
    return array


def _on_white(stack: NDArray[np.generic]) -> tuple[NDArray[np.generic], bool]:
    if stack.shape[2] in (1, 3):
        return stack, False
    colour, opacity = stack[..., :-1], stack[..., -1:]
    full = 65535 if stack.dtype == np.uint16 else 255
    if int(opacity.min()) == full:
        return colour, False
    share = opacity.astype(np.float32) / full
    laid = colour.astype(np.float32) * share + full * (1 - share)
    return np.rint(laid).astype(stack.dtype), True


def _sixteen(colour: NDArray[np.generic]) -> NDArray[np.uint16]:
    """Three channels of 16 bits, in memory order."""
    height, width = colour.shape[:2]
    rgb = np.empty((height, width, 3), np.uint16)
    if colour.dtype == np.uint16:
        rgb[...] = colour
        return rgb
    # Row blocks keep a turned picture's strided reading inside the cache.
    for top in range(0, height, 64):
        block = np.ascontiguousarray(colour[top : top + 64])
        np.multiply(block, TO_16_BIT, out=rgb[top : top + 64], dtype=np.uint16)
    return rgb
