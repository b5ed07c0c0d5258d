"""The reading of one section."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.joint import Joint
from etchbook.picture import NoScale, Picture, Scale
from etchbook.picture.reduce import reduced
from etchbook.quantity import Absent, Quantity
from etchbook.section.corrections import corrected
from etchbook.section.doubting import doubts_of, withheld
from etchbook.section.draft import Draft
from etchbook.section.guess import first_guess
from etchbook.section.indications import find_indications
from etchbook.section.labelling import regions_of
from etchbook.section.looking import look
from etchbook.section.measuring import measure
from etchbook.section.outlining import make_draft
from etchbook.section.publishing import outline_of
from etchbook.section.records import Doubt, Mark, Outline, PictureFacts, Preparation, Reading
from etchbook.section.scaling import KnownThickness, scale_from
from etchbook.terms import Family, dimensions_of

NO_WELD = "no weld metal was found in this picture"
ADVICE = (
    "check that the picture shows an etched section; if it does, mark both toes and a few points of the fusion line"
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Proposal:
    """Which joint a picture seems to show.

    Parameters
    ----------
    family : the most likely one
    chance : probability of each family by the first guess
    """

    family: Family
    chance: dict[Family, float]


def propose_joint(picture: Picture) -> Proposal:
    """Say which joint family a picture seems to show."""
    small, factor = reduced(picture)
    guess = first_guess(small, factor, (0.0, 0.0, picture.width, picture.height), None)
    return Proposal(family=max(guess.joint, key=lambda name: guess.joint[name]), chance=guess.joint)


def read_section(
    picture: Picture,
    joint: Joint,
    scale: Scale | NoScale | KnownThickness,
    *,
    marks: Sequence[Mark] = (),
    preparation: Preparation | None = None,
    notes: Sequence[str] = (),
    program: str = "",
) -> Reading:
    """Read one section: outline, dimensions with uncertainty, and what is doubtful.

    Parameters
    ----------
    picture : the photo
    joint : what is known of the joint
    scale : pixels per millimetre, why there is none, or the plate thickness it is to follow from
    marks : a person's corrections, laid over the automatic outline
    """
    small, factor = reduced(picture)
    seen = look(picture, small, factor, joint.family)
    automatic = None if seen is None else make_draft(picture, seen, joint.family)
    draft, asked = _with_marks(automatic, marks, picture, small, factor, joint.family)
    if isinstance(scale, KnownThickness):
        scale = scale_from(scale, draft, joint.family)
    regions = regions_of(draft, seen, (small.shape[0], small.shape[1]), factor)
    outline = Outline(boundaries={}, landmarks={}, lines={}) if draft is None else outline_of(draft)
    return Reading(
        joint=joint,
        scale=scale,
        picture=PictureFacts(sha256=picture.sha256, name=picture.name, width=picture.width, height=picture.height),
        regions=regions,
        outline=outline,
        dimensions=_dimensions(draft, joint, scale),
        doubts=_doubts(draft, asked),
        notes=(*picture.notes, *notes),
        indications=find_indications(picture, outline, regions, joint.family, scale),
        marks=tuple(marks),
        automatic=outline_of(automatic) if marks and automatic is not None else None,
        preparation=preparation or Preparation(),
        program=program,
    )


def _with_marks(
    automatic: Draft | None,
    marks: Sequence[Mark],
    picture: Picture,
    small: NDArray[np.float32],
    factor: float,
    family: Family,
) -> tuple[Draft | None, str]:
    """The draft with the marks on top, and what is still asked for when they do not suffice."""
    if not marks:
        return automatic, ""
    found = corrected(automatic, marks, picture, small, factor, family)
    return (automatic, found) if isinstance(found, str) else (found, "")


def _dimensions(draft: Draft | None, joint: Joint, scale: Scale | NoScale) -> dict[str, Quantity]:
    if draft is None:
        return {term.id: Absent(reason=NO_WELD) for term in dimensions_of(joint.family)}
    return withheld(draft, measure(draft, joint.family, scale, groove=joint.groove))


def _doubts(draft: Draft | None, asked: str) -> tuple[Doubt, ...]:
    first = (
        (Doubt(part="marks", reason="the marks do not suffice to correct the outline", remedy=asked),) if asked else ()
    )
    if draft is None:
        return (*first, Doubt(part="weld metal", reason=NO_WELD, remedy=ADVICE))
    return (*first, *doubts_of(draft))
