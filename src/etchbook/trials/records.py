"""What a book holds. Every record is whole by itself; who made it and when stands in the edition that keeps it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from etchbook.joint import Joint

Origin = Literal["set", "read", "seen"]
PieceState = Literal["kept", "lost", "scrapped", "cut up", "sent away"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Book:
    """One shop's book: its name and the mark that no other book has."""

    id: str
    name: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Trial:
    """Welds made to learn or to prove something, with the question they were to answer.

    Parameters
    ----------
    mark : never the same for two trials of any books, so that a trial is known again in another book
    plan : the open part of its plan as JSON, "" where it was not planned; which bead is which arm is not in it
    """

    code: str
    mark: str
    question: str = ""
    joint: Joint | None = None
    material: str = ""
    wire: str = ""
    gas: str = ""
    procedure: str = ""
    remarks: str = ""
    plan: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Setting:
    """One setting of a bead.

    Parameters
    ----------
    name : id out of `etchbook.terms.settings`
    origin : set (on the machine), read (off an instrument), seen (by the welder)
    value, u : in the unit of the term; u None where nothing was said
    text : for settings that are words
    typed : as the person wrote it, with their unit
    """

    name: str
    origin: Origin = "set"
    value: float | None = None
    u: float | None = None
    text: str = ""
    typed: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bead:
    """One weld of a trial with its settings; `welded` is date and time as the person gave it, ISO 8601."""

    code: str
    settings: tuple[Setting, ...] = ()
    welded: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Plate:
    """A plate of a coupon: which member it is, its thickness [mm], its heat number and its certificate's code."""

    member: int
    material: str = ""
    thickness: float | None = None
    heat: str = ""
    certificate: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Coupon:
    """The welded piece before cutting; `beads` are the beads on it, the first is the one it is called after."""

    code: str
    beads: tuple[str, ...]
    plates: tuple[Plate, ...] = ()
    length: float | None = None
    place: str = ""
    state: PieceState = "kept"
    remarks: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Facing:
    """What a piece met across a cut: the number of the cut, the other piece, which end of this piece it was."""

    cut: int
    other: str
    end: Literal["start", "stop"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """Any part that a cut made of a coupon.

    Parameters
    ----------
    parent : the coupon or piece that it was cut of
    start, stop : where it begins and ends along the seam of the coupon [mm], None where nobody measured
    facing : its neighbours across the cuts
    place : where it is kept
    """

    code: str
    parent: str
    facing: tuple[Facing, ...] = ()
    start: float | None = None
    stop: float | None = None
    place: str = ""
    state: PieceState = "kept"
    remarks: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One preparation step of a face.

    Parameters
    ----------
    kind : cut, grind, polish, mount, etch, rinse or other
    grit : as printed on the paper, P600 or 600
    polish : what it was polished with
    etchant : what it was etched with
    seconds : how long [s]
    """

    kind: str
    grit: str = ""
    polish: str = ""
    etchant: str = ""
    seconds: float | None = None
    by: str = ""
    at: str = ""
    remarks: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Face:
    """One prepared surface of a piece; `towards` is the piece that it faced across the cut."""

    code: str
    towards: str = ""
    steps: tuple[Step, ...] = ()
    remarks: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class PictureEntry:
    """One photograph of a face.

    Parameters
    ----------
    sha256 : of the bytes that the book keeps
    copied_from : SHA-256 of the original in another book, where this one holds a copy without location data
    """

    code: str
    sha256: str
    name: str
    suffix: str
    size: int
    width: int
    height: int
    copied_from: str = ""
    finish: str = ""
    etched: str = ""
    light: str = ""
    lens: str = ""
    taken: str = ""
    remarks: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Dimension:
    """A dimension as a reading gave it; `absent` holds the reason where it could not be read.

    `dof` is None where the degrees of freedom of `u` are infinite.
    """

    name: str
    value: float | None = None
    u: float | None = None
    dof: float | None = None
    unit: str = ""
    absent: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadingEdition:
    """What was measured on one picture, as one edition of it.

    Parameters
    ----------
    document : SHA-256 of the reading's JSON document, kept whole beside it
    made : automatic, or corrected by a person's marks
    program : name and version that read it
    """

    code: str
    document: str
    picture: str
    made: Literal["automatic", "corrected"]
    program: str
    family: str
    dimensions: tuple[Dimension, ...] = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """One answer about an indication: which check was made, and what came out of it."""

    check: str
    answer: str
    by: str = ""
    at: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class IndicationEntry:
    """An indication of a reading, with the answers that were given about it since."""

    code: str
    where: str = ""
    edition: int = 1
    answers: tuple[Answer, ...] = ()
    remarks: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class FindingEntry:
    """One finding of a judgement, as it was printed."""

    verdict: str
    item: str
    dimension: str = ""
    words: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class JudgementEntry:
    """A reading held against limits; `edition` is the edition of the reading that was judged."""

    code: str
    edition: int
    against: str
    title: str
    risk: float
    findings: tuple[FindingEntry, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Certificate:
    """A material certificate; `composition` is per cent by mass, by element."""

    code: str
    heat: str
    material: str = ""
    composition: Mapping[str, float] = field(default_factory=dict)
    remarks: str = ""


Record = (
    Trial
    | Bead
    | Coupon
    | Piece
    | Face
    | PictureEntry
    | ReadingEdition
    | IndicationEntry
    | JudgementEntry
    | Certificate
)

KINDS: dict[str, type[Record]] = {
    "trial": Trial,
    "bead": Bead,
    "coupon": Coupon,
    "piece": Piece,
    "face": Face,
    "picture": PictureEntry,
    "reading": ReadingEdition,
    "indication": IndicationEntry,
    "judgement": JudgementEntry,
    "certificate": Certificate,
}
"""Every kind of record by the word that names it."""
