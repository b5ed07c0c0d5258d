"""Pores in the weld metal."""

import numpy as np
from scipy import ndimage
from skimage.measure import find_contours

from etchbook.geometry import area
from etchbook.section.arcs import weld_share
from etchbook.section.guess import Guess
from etchbook.section.strips import Array


def find_pores(near: Guess, size: float) -> tuple[Array, ...] | None:
    """Closed contours of pores, picture px; None when the weld is too small to look for any.

    Parameters
    ----------
    near : the close look
    size : length of the weld face [px]
    """
    if size / near.factor < 60:
        return None
    weld = ndimage.binary_erosion(weld_share(near) > 0.5, iterations=2)
    heat = np.where(weld, near.heat[3], 0.0)
    rings = [ring[:, ::-1] for ring in find_contours(np.pad(heat, 1), 0.5)]
    return tuple(near.to_picture(ring - 1.0) for ring in rings if len(ring) > 5 and area(ring) > 3.0)
