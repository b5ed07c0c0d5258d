"""A section kept open, so that a moved mark gives new numbers without the picture being read again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from etchbook.joint import Joint
from etchbook.picture import NoScale, Picture, Scale
from etchbook.picture.reduce import reduced
from etchbook.quantity import Absent, Quantity
from etchbook.section.corrections import corrected
from etchbook.section.doubting import doubts_of, unclear, withheld
from etchbook.section.draft import Draft
from etchbook.section.looking import look
from etchbook.section.measuring import measure, spread_of
from etchbook.section.outlining import make_draft
from etchbook.section.publishing import outline_of, traces_of
from etchbook.section.records import Doubt, Mark, Outline
from etchbook.section.routing import Ground
from etchbook.section.scaling import KnownThickness, scale_from
from etchbook.terms import dimensions_of

NO_OUTLINE = "there is no outline yet"


@dataclass(frozen=True, kw_only=True, slots=True)
class OpenSection:
    """What the reader found out about a picture before any mark.

    Parameters
    ----------
    ground : the reduced picture, on which boundaries are led through marks
    automatic : the draft without marks, None where no weld was found
    spread : of every dimension of that draft over draws [px, px², ° or bare]
    """

    picture: Picture
    joint: Joint
    ground: Ground
    automatic: Draft | None
    spread: dict[str, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Again:
    """What the marks make of an open section.

    Parameters
    ----------
    unclear : stretches of each boundary that do not stand out from the grain, as (start, stop) of its points
    asked : which marks are still lacking, "" where none is
    """

    outline: Outline
    dimensions: dict[str, Quantity]
    scale: Scale | NoScale
    doubts: tuple[Doubt, ...] = field(default=())
    unclear: Mapping[str, tuple[tuple[int, int], ...]] = field(default_factory=dict)
    asked: str = ""


def open_section(picture: Picture, joint: Joint) -> OpenSection:
    """Look at a picture once, so that marks can be tried on it as often as wanted."""
    small, factor = reduced(picture)
    seen = look(picture, small, factor, joint.family)
    automatic = None if seen is None else make_draft(picture, seen, joint.family)
    spread = {} if automatic is None else spread_of(automatic, joint.family)
    ground = Ground(small, factor)
    return OpenSection(picture=picture, joint=joint, ground=ground, automatic=automatic, spread=spread)


def measured_again(
    section: OpenSection, scale: Scale | NoScale | KnownThickness, marks: Sequence[Mark], *, quick: bool = False
) -> Again:
    """Outline and dimensions with the marks on top, as a full reading with the same marks gives them.

    Parameters
    ----------
    quick : values as ever, spreads those of the automatic outline; for a point that is being dragged
    """
    draft, asked = section.automatic, ""
    if marks:
        ground = section.ground
        found = corrected(section.automatic, marks, section.picture, ground.small, ground.factor,
                          section.joint.family, ground)  # fmt: skip
        draft, asked = (section.automatic, found) if isinstance(found, str) else (found, "")
    size = scale_from(scale, draft, section.joint.family) if isinstance(scale, KnownThickness) else scale
    if draft is None:
        nothing: dict[str, Quantity] = {
            term.id: Absent(reason=NO_OUTLINE) for term in dimensions_of(section.joint.family)
        }
        return Again(
            outline=Outline(boundaries={}, landmarks={}, lines={}), dimensions=nothing, scale=size, asked=asked
        )
    known = section.spread if quick else None
    measured = measure(draft, section.joint.family, size, groove=section.joint.groove, known=known)
    return Again(
        outline=outline_of(draft),
        dimensions=withheld(draft, measured),
        scale=size,
        doubts=tuple(doubts_of(draft)),
        unclear={name: parts for name, trace in traces_of(draft).items() if (parts := unclear(trace))},
        asked=asked,
    )
