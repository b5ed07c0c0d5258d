"""What the reading of a section is made of. Points are picture pixels (x right, y down) unless said."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import LineFit
from etchbook.joint import Joint
from etchbook.picture.records import NoScale, Scale
from etchbook.quantity import Quantity

Points = NDArray[np.float64]

SURROUNDINGS, PLATE, HAZ, WELD = 0, 1, 2, 3


@dataclass(frozen=True, kw_only=True, slots=True)
class Regions:
    """Which pixel is what, on the reduced picture.

    Parameters
    ----------
    labels : (h, w) uint8 of 0 surroundings, 1 plate, 2 HAZ, 3 weld metal
    factor : full picture pixels per pixel of `labels`; full = (small + 0.5) * factor - 0.5
    """

    labels: NDArray[np.uint8]
    factor: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Boundary:
    """One traced boundary.

    Parameters
    ----------
    name : weld_face, root_face (root side of a butt weld), fusion_line_1, fusion_line_2 (member 1, 2;
        one name each, running from the root or the face's toe), haz_edge_1, haz_edge_2,
        surface_1, surface_2 (unmelted plate surface beside the toe), back_1, back_2 (far side of the member)
    points : (n, 2)
    sd : (n,) standard deviation of each point across the boundary [px]
    confidence : 0 (a guess) to 1 (clear along its whole length)
    pinned : whether a person's marks hold it
    doubt : why the confidence is low, "" when it is not
    """

    name: str
    points: Points
    sd: Points
    confidence: float
    pinned: bool = False
    doubt: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Landmark:
    """One named point (toe_1, toe_2, joint_root, root_toe_1, root_toe_2) with its covariance.

    Parameters
    ----------
    point : (2,) px
    covariance : (2, 2) px²
    pinned : whether a person set it
    """

    point: Points
    covariance: Points
    pinned: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Outline:
    """The traced section: boundaries, landmarks, fitted plate lines and closed contours, all in picture pixels.

    Parameters
    ----------
    boundaries : by name
    landmarks : by name
    lines : plate lines by name (surface_1, surface_2, back_1, back_2; end_1, end_2 for corner and butt)
    weld, haz, metal : closed contours of the weld metal, the HAZ (the part outside the weld), all metal
    pores : closed contours inside the weld metal
    """

    boundaries: Mapping[str, Boundary]
    landmarks: Mapping[str, Landmark]
    lines: Mapping[str, LineFit]
    weld: tuple[Points, ...] = ()
    haz: tuple[Points, ...] = ()
    metal: tuple[Points, ...] = ()
    pores: tuple[Points, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Indication:
    """A mark on the face that is not an edge of the joint. Found and described by a later chapter of the reader."""

    where: str
    length: Quantity
    width: Quantity


@dataclass(frozen=True, kw_only=True, slots=True)
class Doubt:
    """A part of the outline that should be looked at before its numbers are used."""

    part: str
    reason: str
    remedy: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PictureFacts:
    """Which picture a reading was made on."""

    sha256: str
    name: str
    width: int
    height: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Preparation:
    """What the person said about the face; "" where nothing was said."""

    etchant: str = ""
    finish: str = ""
    material: str = ""
    specimen: str = ""
    reader: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
    """A person's correction: `points` (n, 2) [px] pin the landmark or boundary called `name`.

    `replaces` is True when the boundary is to follow the points as given instead of being
    re-fitted between them along the strongest edge.
    """

    name: str
    points: Points
    replaces: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """Everything read on one picture. Corrections make a new edition; `automatic` keeps the first outline."""

    joint: Joint
    scale: Scale | NoScale
    picture: PictureFacts
    regions: Regions
    outline: Outline
    dimensions: Mapping[str, Quantity]
    doubts: tuple[Doubt, ...] = ()
    notes: tuple[str, ...] = ()
    indications: tuple[Indication, ...] = ()
    marks: tuple[Mark, ...] = ()
    automatic: Outline | None = None
    preparation: Preparation = field(default_factory=Preparation)
    program: str = ""
