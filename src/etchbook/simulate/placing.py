"""Laying the joint's millimetres into the picture's pixels."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Placing:
    """A similarity with a little tilt: where a millimetre point of the section lands.

    Parameters
    ----------
    px_per_mm : at the picture's middle
    turn : rotation [rad]; mirror : -1 or 1; centre : joint point [mm] that lands at `at` [px]
    tilt : (2,) perspective [1/px]
    """

    px_per_mm: float
    turn: float
    mirror: int
    centre: Array
    at: Array
    tilt: Array

    def px(self, points: Array) -> Array:
        """(n, 2) mm to px."""
        off = (np.atleast_2d(points) - self.centre) * np.array([self.mirror, 1.0])
        c, s = np.cos(self.turn), np.sin(self.turn)
        flat = self.px_per_mm * np.stack([off[:, 0] * c - off[:, 1] * s, -(off[:, 0] * s + off[:, 1] * c)], axis=1)
        return np.asarray(flat / (1 + flat @ self.tilt)[:, None] + self.at)

    def direction(self, vector: Array) -> Array:
        """A joint direction as a unit vector in the picture."""
        step = self.px(self.centre + 0.01 * np.asarray(vector)) - self.px(self.centre)
        return np.asarray(step[0] / np.hypot(*step[0]))


def mask(polygons: list[Array], width: int, height: int) -> NDArray[np.float32]:
    """Cover of each pixel by polygons given in px, 0 to 1, (height, width)."""
    factor = 2 if width * height < 16_000_000 else 1
    image = Image.new("L", (width * factor, height * factor), 0)
    draw = ImageDraw.Draw(image)
    for polygon in polygons:
        near = (polygon + 0.5) * factor - 0.5
        draw.polygon([(float(x), float(y)) for x, y in near], fill=255)
    if factor > 1:
        image = image.resize((width, height), Image.Resampling.BOX)
    return np.asarray(image, np.float32) / 255
