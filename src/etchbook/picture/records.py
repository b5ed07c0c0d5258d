"""A photo made a picture: one number type, one range, one axis order, one orientation."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, kw_only=True, slots=True)
class Picture:
    """A photograph as every room expects it.

    Pixel convention: the centre of the top left pixel is (x, y) = (0, 0), x runs to
    the right (columns), y runs down (rows). Arrays are indexed [y, x].

    Parameters
    ----------
    rgb : (height, width, 3) uint16, 0 to 65535, sRGB, read-only, turned as displayed
    sha256 : of the original bytes, "" for a picture that never was a file
    name : file name without folders
    notes : what was done at the door and what to know (colour space, bits, orientation)
    """

    rgb: NDArray[np.uint16]
    sha256: str = ""
    name: str = ""
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.rgb.ndim != 3 or self.rgb.shape[2] != 3 or self.rgb.dtype != np.uint16:
            raise TypeError("a picture holds (height, width, 3) uint16")
        self.rgb.flags.writeable = False

    @property
    def width(self) -> int:
        """Columns [px]."""
        return int(self.rgb.shape[1])

    @property
    def height(self) -> int:
        """Rows [px]."""
        return int(self.rgb.shape[0])


@dataclass(frozen=True, kw_only=True, slots=True)
class Scale:
    """Pixels per millimetre in the plane of the section.

    Parameters
    ----------
    px_per_mm : float, positive
    u : standard uncertainty [px/mm]
    origin : how it was found: ``"given"``, ``"two points"``, ``"thickness_1=8"``, ``"rule"``, ``"scale bar"``
    """

    px_per_mm: float
    u: float
    origin: str

    @property
    def relative(self) -> float:
        """Relative standard uncertainty, shared by every length of the picture."""
        return self.u / self.px_per_mm


@dataclass(frozen=True, kw_only=True, slots=True)
class NoScale:
    """There is no scale, and why. Lengths and areas in mm are then absent."""

    reason: str
