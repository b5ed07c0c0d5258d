"""What the reading of a section is made of. Points are picture pixels (x right, y down) unless said."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import LineFit
from etchbook.joint import Joint
from etchbook.picture.records import NoScale, Scale
from etchbook.quantity import Absent, Quantity

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


NOT_DESCRIBED = Absent(reason="it was not described")
NO_SCRATCHES = Absent(reason="no population of scratches was found")
IndicationKind = Literal["line", "family", "blob"]
Behaviour = Literal["stops", "passes", "bends", "does not reach", "unknown"]
INDICATION_KINDS: tuple[IndicationKind, ...] = get_args(IndicationKind)
BEHAVIOURS: tuple[Behaviour, ...] = get_args(Behaviour)


@dataclass(frozen=True, kw_only=True, slots=True)
class Meeting:
    """What an indication does at the HAZ edge, at the fusion line and beside the rest of the section.

    Parameters
    ----------
    haz, fusion : stops there, passes through, bends, does not reach it, or unknown
    along_fusion : share of its length that lies on the fusion line, 0 to 1
    match : name of the indication in the other member at the same depth, "" where there is none
    faying : whether the joint has two plates lying on each other there, so that a gap is to be expected
    scratch_angle : between it and the nearest direction of a population of scratches [°]
    """

    haz: Behaviour = "unknown"
    fusion: Behaviour = "unknown"
    along_fusion: float = 0.0
    match: str = ""
    faying: bool = False
    scratch_angle: Quantity = NO_SCRATCHES


@dataclass(frozen=True, kw_only=True, slots=True)
class Indication:
    """A mark on the face that is not an edge of the joint.

    Parameters
    ----------
    where : member_1, member_2, haz_1, haz_2, fusion_line_1, fusion_line_2, weld_metal
    length, width : along and across [mm]; the width has the picture's blur taken out
    name : a, b, c ... on this picture
    kind : line, family (parallel lines told as one) or blob (a pore or slag)
    points : (n, 2) traced middle line, a blob's closed contour [px]; sd : (n,) across it [px]
    others : middle lines of the other lines of a family [px]
    pieces : (start, stop) indices into `points` of each stretch darker than the detection level
    width_limit : what the width is surely below where the picture does not resolve it [mm]
    depth_fraction : distance from one plate surface over the thickness
    fusion_distance : shortest distance from the fusion line [mm]
    angle_to_surface : [°]; straightness : rms distance from its best straight line [mm]
    continuity : share of the length darker than the detection level; contrast : light lost over light beside
    edge_rise, sharpest_rise : 10 to 90 % rise across its edge and across the picture's sharpest true edge [px]
    meets : see Meeting
    count, spacing : lines of a family and the mean distance between neighbours [mm]
    roundness : of a blob, 4 pi area over perimeter squared
    strength : how far it stands out of the grain, in standard deviations of the search
    """

    where: str
    length: Quantity
    width: Quantity
    name: str = ""
    kind: IndicationKind = "line"
    points: Points = field(default_factory=lambda: np.zeros((0, 2)))
    sd: Points = field(default_factory=lambda: np.zeros(0))
    others: tuple[Points, ...] = ()
    pieces: tuple[tuple[int, int], ...] = ()
    width_limit: Quantity = NOT_DESCRIBED
    depth_fraction: Quantity = NOT_DESCRIBED
    fusion_distance: Quantity = NOT_DESCRIBED
    angle_to_surface: Quantity = NOT_DESCRIBED
    straightness: Quantity = NOT_DESCRIBED
    continuity: Quantity = NOT_DESCRIBED
    contrast: Quantity = NOT_DESCRIBED
    edge_rise: Quantity = NOT_DESCRIBED
    sharpest_rise: Quantity = NOT_DESCRIBED
    meets: Meeting = field(default_factory=Meeting)
    count: int = 1
    spacing: Quantity = NOT_DESCRIBED
    roundness: Quantity = NOT_DESCRIBED
    strength: float = 0.0


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
class CutPlace:
    """Where along its seam a coupon was cut for this section; None where nobody measured.

    Parameters
    ----------
    at : from the start of the seam to the face [mm]
    seam : length of the seam, or of the coupon along it [mm]
    start, stop : where the piece begins and ends along the seam [mm]
    towards : which end of the seam the face looks to, "" where it is not known
    """

    at: float
    seam: float | None = None
    start: float | None = None
    stop: float | None = None
    towards: Literal["start", "stop", ""] = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Preparation:
    """What the person said about the examination; "" where nothing was said.

    Parameters
    ----------
    etchant, finish, material, specimen, reader : as they are to be printed
    consumable : wire or electrode
    purpose : object of the examination
    etching : how it was etched, and how long
    place : where the section was cut, in words
    further : measures and requirements beyond these
    cut : where along the seam, for the sketch
    """

    etchant: str = ""
    finish: str = ""
    material: str = ""
    specimen: str = ""
    reader: str = ""
    consumable: str = ""
    purpose: str = ""
    etching: str = ""
    place: str = ""
    further: str = ""
    cut: CutPlace | None = None


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
