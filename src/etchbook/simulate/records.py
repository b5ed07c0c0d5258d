"""What painting gives."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.picture import Picture
from etchbook.simulate.lines import LineTruth
from etchbook.terms import Family

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Truth:
    """What is true of a painted picture.

    Parameters
    ----------
    family : joint family
    px_per_mm : at the joint root (bead: the middle of the weld)
    dimensions : by id, mm, mm², °, %, bare; None where the section has none
    landmarks : (2,) px
    polylines : (n, 2) px: weld_face, fusion_line, haz_edge, root_face
    beside : member beside each point of fusion_line
    pores : x, y, radius in px
    extras : what else can be read off the picture: rule, scale_bar
    lines : painted indications
    """

    family: Family
    px_per_mm: float
    dimensions: Mapping[str, float | None]
    landmarks: Mapping[str, Array]
    polylines: Mapping[str, Array]
    beside: NDArray[np.intp]
    pores: tuple[tuple[float, float, float], ...]
    extras: Mapping[str, object]
    lines: tuple[LineTruth, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class PaintedSection:
    """A painted picture with its truth.

    Parameters
    ----------
    picture : the photo
    labels : (h, w) uint8: 0 surroundings, 1 plate, 2 HAZ, 3 weld metal
    members : (h, w) uint8: 0 none, 1 and 2 the members, 3 weld metal
    truth : see Truth
    recipe : what was drawn, plain numbers and words
    """

    picture: Picture
    labels: NDArray[np.uint8]
    members: NDArray[np.uint8]
    truth: Truth
    recipe: Mapping[str, object]
