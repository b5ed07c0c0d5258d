"""Read one photograph."""

from dataclasses import dataclass, field, replace

from etchbook.joint import Groove, Joint
from etchbook.picture import NoScale, Picture, Scale, find_bar, find_rule, from_two_points, given, look_over
from etchbook.quantity import Measured, spoken
from etchbook.section import (
    Doubt,
    KnownThickness,
    Mark,
    Preparation,
    Reading,
    propose_joint,
    read_section,
    region_labels,
)
from etchbook.terms import Family
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.grooves import assumed, checked, fitting
from etchbook.usecases.ports import Desk
from etchbook.usecases.scales import BarScale, GivenScale, PointsScale, RuleScale, ScaleWish, ThicknessScale

LOOK_AT_SCALE = (
    "check the scale, the stated thickness and the outline of that plate before you use any length or judge by it"
)
ROLLED = 0.1
"""A plate may differ by this share from its stated thickness; a planning value, common practice."""
# The smallest thing a section is asked for: the tightest undercut limit of the packaged sets is half a millimetre.
SMALLEST_MM = 0.5

NO_SCALE = "no scale was given and no rule was found in the picture; give --scale or --scale-from"


@dataclass(frozen=True, kw_only=True, slots=True)
class JointWish:
    """What is known of the joint; the family is None where it is to be proposed.

    Parameters
    ----------
    family : joint family
    thickness_1, thickness_2 : plate thickness [mm]
    throat : nominal throat asked for [mm]
    groove : preparation of a butt joint, None where nothing is known of it
    """

    family: Family | None = None
    thickness_1: float | None = None
    thickness_2: float | None = None
    throat: float | None = None
    groove: Groove | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadWish:
    """One photograph and what is known of it."""

    photo: str
    joint: JointWish = field(default_factory=JointWish)
    scale: ScaleWish = field(default_factory=lambda: RuleScale(asked=False))
    marks: str = ""
    preparation: Preparation = field(default_factory=Preparation)


def read(wish: ReadWish, desk: Desk, program: str) -> tuple[Reading, Picture]:
    """Read one photograph of an etched section.

    Parameters
    ----------
    wish : the photograph and what is known of it
    desk : where files come from
    program : name and version that the reading is signed with

    Returns
    -------
    (Reading, Picture)
        What cannot be read is absent with a reason; the notes say what was assumed.
    """
    picture = desk.photo(wish.photo)
    marks = desk.marks(wish.marks, picture) if wish.marks else ()
    if wish.marks:
        wish = replace(wish, joint=with_groove(wish.joint, desk.groove(wish.marks)))
    return read_picture(picture, wish, marks, program), picture


def with_groove(wish: JointWish, stated: Groove | None) -> JointWish:
    """What is known of the joint with the preparation that the marks state; refused where another one was said."""
    if stated is None or stated == wish.groove:
        return wish
    if wish.groove is not None:
        raise RefusedError("the preparation is stated twice and differently: in the marks and beside them")
    return replace(wish, groove=checked(stated))


def joint_beside(known: Joint | None, wish: JointWish) -> JointWish:
    """What is wished, with what else is known of the joint; nothing of it where another family was said."""
    if known is None or wish.family not in (None, known.family):
        return wish
    groove = wish.groove if wish.groove is not None else known.groove
    return JointWish(
        family=known.family,
        thickness_1=wish.thickness_1 or known.thickness_1,
        thickness_2=wish.thickness_2 or known.thickness_2,
        throat=wish.throat or known.throat,
        groove=groove,
    )


def read_picture(picture: Picture, wish: ReadWish, marks: tuple[Mark, ...], program: str) -> Reading:
    """The same for a picture already at hand."""
    scale = find_scale(picture, wish.scale)
    joint, proposed = _joint(picture, wish.joint)
    reading = read_section(picture, joint, scale, marks=marks, preparation=wish.preparation, program=program)
    known = reading.scale.px_per_mm if isinstance(reading.scale, Scale) else None
    # White paper or a black mount around the specimen is no fault of the photograph.
    specimen = region_labels(reading) > 0 if reading.regions.labels.any() else None
    seen = look_over(picture, px_per_mm=known, smallest_mm=SMALLEST_MM, inside=specimen)
    warnings = (*proposed, *assumed(joint.groove), *_scale_notes(wish.scale), *(blemish.words for blemish in seen))
    doubts = (*unlike_drawing(reading), *reading.doubts)
    return replace(reading, doubts=doubts, notes=tuple(dict.fromkeys((*reading.notes, *warnings))))


def _joint(picture: Picture, wish: JointWish) -> tuple[Joint, tuple[str, ...]]:
    family: Family | None = wish.family
    notes: tuple[str, ...] = ()
    groove = wish.groove
    if family is None and groove is not None:
        family = "butt"  # no other joint has a groove
    if family is None:
        proposal = propose_joint(picture)
        family = proposal.family
        notes = (f"the joint was not given; {family} is proposed, with a chance of {proposal.chance[family]:.0%}",)
    joint = Joint(
        family=family,
        thickness_1=wish.thickness_1,
        thickness_2=wish.thickness_2,
        throat=wish.throat,
        groove=fitting(groove, family),
    )
    return joint, notes


def find_scale(picture: Picture, wish: ScaleWish) -> Scale | NoScale | KnownThickness:
    """The scale that was asked for, or why there is none; a known thickness is left to the reader of the section."""
    match wish:
        case GivenScale():
            return given(wish.px_per_mm, wish.u)
        case PointsScale():
            _check_inside(picture, wish)
            return from_two_points(wish.first, wish.second, wish.length_mm)
        case BarScale():
            return find_bar(picture, wish.length_mm)
        case ThicknessScale(u_mm=None):
            return KnownThickness(member=wish.member, mm=wish.mm)
        case ThicknessScale(u_mm=float(u)):
            return KnownThickness(member=wish.member, mm=wish.mm, u_mm=u)
        case RuleScale():
            found = find_rule(picture, wish.pitch_mm)
            return found if isinstance(found, Scale) or wish.asked else NoScale(reason=NO_SCALE)
    raise TypeError(f"not a wish for a scale: {wish!r}")


def _check_inside(picture: Picture, wish: PointsScale) -> None:
    for x, y in (wish.first, wish.second):
        if not (-0.5 <= x <= picture.width - 0.5 and -0.5 <= y <= picture.height - 0.5):
            size = f"{picture.width} x {picture.height} px"
            raise RefusedError(f"the point ({x:g}, {y:g}) of the scale lies outside the picture of {size}")


def unlike_drawing(reading: Reading) -> tuple[Doubt, ...]:
    """Plates that read otherwise than the drawing says: most often the scale is wrong, and then every length is."""
    told = []
    for member, drawn in ((1, reading.joint.thickness_1), (2, reading.joint.thickness_2)):
        found = reading.dimensions.get(f"thickness_{member}")
        if drawn is None or not isinstance(found, Measured):
            continue
        if abs(found.value - drawn) > 2 * found.u + ROLLED * drawn:
            reason = f"member {member} reads {spoken(found)} where {drawn:g} mm was stated"
            told.append(Doubt(part="scale", reason=reason, remedy=LOOK_AT_SCALE))
    return tuple(told)


def _scale_notes(wish: ScaleWish) -> tuple[str, ...]:
    """What was assumed about the scale because nothing was said."""
    match wish:
        case GivenScale(u=None):
            return ("the scale was given without its uncertainty; half a per cent is taken",)
        case ThicknessScale(u_mm=None):
            return ("the thickness was given without its uncertainty; that of a caliper reading is taken",)
    return ()
