"""What a plan of cuts is made of."""

from dataclasses import dataclass

from etchbook.preparation.records import Known
from etchbook.terms import Family


class CuttingError(ValueError):
    """A coupon that cannot be cut as asked; its text is one plain sentence: what was got and what would do."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CutWish:
    """The coupon and what is to be proven on it; all places [mm] are along the weld from its start.

    Parameters
    ----------
    coupon : code of the bead that the coupon was welded with: ``N1-03``
    length, width : of the coupon along and across the weld [mm]
    family : joint family
    prove : iso-15614-1, iso-9606-1, asme-ix:procedure, asme-ix:performance, or own
    thickness_1, thickness_2 : of the members [mm]
    full_penetration : whether a tee is welded through
    branch : whether it is a branch connection
    sections : how many, where it is own or more than the rule asks for
    at : places of sections [mm], for own plans; the rest is placed evenly
    start_stops : places where welding stopped and started again [mm]
    discard : cut off at each end [mm]; None for what the rule says
    kerf : width of the saw cut [mm]
    slice : thickness of the piece whose face is prepared [mm]; 0 to cut once at each section
    allowance : ground off between the cut and the section [mm]
    reserve : least length of the piece that is kept as the other half [mm]
    first : letter of the first piece
    """

    coupon: str
    length: float
    width: float
    family: Family
    prove: str
    thickness_1: float
    thickness_2: float | None = None
    full_penetration: bool = False
    branch: bool = False
    sections: int | None = None
    at: tuple[float, ...] = ()
    start_stops: tuple[float, ...] = ()
    discard: float | None = None
    kerf: float = 2.0
    slice: float = 15.0
    allowance: float = 1.0
    reserve: float = 10.0
    first: str = "A"


@dataclass(frozen=True, kw_only=True, slots=True)
class CutRule:
    """What a test asks for; `known` says where each figure stands.

    Parameters
    ----------
    id, title : the rule
    sections : how many
    through_stop : how many of them go through a stop and start
    discard : cut off at each end [mm]
    place : even, end (at the end where welding stopped) or end_section (the cut end of an end piece)
    notes : what else the rule says
    known : where the figures stand
    """

    id: str
    title: str
    sections: int
    through_stop: int
    discard: float
    place: str
    notes: tuple[str, ...]
    known: tuple[Known, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Cut:
    """One saw cut: the metal between `start` and `end` [mm from the start of the coupon] becomes swarf.

    Parameters
    ----------
    number : in order from the start
    start, end : edges of the cut [mm]
    before, after : codes of the pieces it parts
    why : discard, section or back (the far side of a section piece)
    """

    number: int
    start: float
    end: float
    before: str
    after: str
    why: str

    @property
    def at(self) -> float:
        """Middle of the cut [mm]: where the blade goes."""
        return (self.start + self.end) / 2


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedPiece:
    """One piece that the cuts will make; the book can enter it before the saw runs.

    Parameters
    ----------
    code : of the book, ``N1-03-B``
    letter : the last part of it
    start, end : its ends [mm from the start of the coupon]
    use : section, reserve, test (goes to another test of the rule), spare or discard
    face : side that is prepared: "start" (towards the start of the weld), "stop" (towards its end), "" for none
    faces_before : code of the piece whose stop side faces its start side; "" at the coupon's own end
    faces_after : code of the piece whose start side faces its stop side
    """

    code: str
    letter: str
    start: float
    end: float
    use: str
    face: str = ""
    faces_before: str = ""
    faces_after: str = ""

    @property
    def length(self) -> float:
        """Along the weld [mm]."""
        return self.end - self.start


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """A place where the weld will be seen.

    Parameters
    ----------
    number : in order from the start
    at : plane that will be read [mm], after grinding
    piece : code of the piece whose face is prepared
    side : which of its sides, start or stop
    other_half : code of the piece that faces it and is kept
    through_stop : whether it goes through a stop and start
    """

    number: int
    at: float
    piece: str
    side: str
    other_half: str
    through_stop: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class CutPlan:
    """Where to saw a coupon and what comes of it."""

    wish: CutWish
    rule: CutRule
    sections: tuple[Section, ...]
    cuts: tuple[Cut, ...]
    pieces: tuple[PlannedPiece, ...]
    notes: tuple[str, ...]

    @property
    def at(self) -> tuple[float, ...]:
        """Middles of all cuts in order [mm]: with the kerf, all that the book needs to enter the same pieces."""
        return tuple(round(cut.at, 3) for cut in self.cuts)
