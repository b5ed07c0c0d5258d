"""The working record of the reader while an outline is being made; turned into an Outline at the end."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import LineFit
from etchbook.section.edges import Trace
from etchbook.section.strips import Array


@dataclass(frozen=True, kw_only=True, slots=True)
class ToeFit:
    """A toe with its standard deviation along and across the plate surface [px]."""

    point: Array
    u_along: float
    u_across: float
    pinned: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """All parts of an outline, in picture pixels.

    Parameters
    ----------
    family : joint family
    face, fusion : traced boundaries from toe 1 to toe 2
    beside : what lies outside each fusion point: 0 surroundings, 1 and 2 the members
    toes : toe 1 and toe 2
    rims : plate surface boundaries, by line name
    lines : straight plate lines, by name
    haz : HAZ edges, by member
    root_face : trace of the root side of a butt weld, from member 1 to member 2, or None
    pores : closed contours
    sharpness : the first guess's own certainty along the weld's contour
    pixel : size of the first guess's pixel [px]
    root_pin : joint root that a person marked, or None
    pinned : names of the marks that hold parts of it
    flaws : what does not fit together, as (part, reason)
    """

    family: str
    face: Trace
    fusion: Trace
    beside: NDArray[np.intp]
    toes: tuple[ToeFit, ToeFit]
    rims: Mapping[str, Trace]
    lines: Mapping[str, LineFit]
    haz: Mapping[str, Trace]
    root_face: Trace | None
    pores: tuple[Array, ...] | None
    sharpness: float
    pixel: float
    root_pin: Array | None = None
    pinned: frozenset[str] = frozenset()
    flaws: tuple[tuple[str, str], ...] = ()
