"""What a way to prepare a face is made of."""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["saw", "mark", "mount", "grind", "polish", "clean", "look", "mix", "etch", "stop", "photograph", "waste"]


class PreparationError(ValueError):
    """A wish that cannot be prepared for; its text is one plain sentence: what was got and what would do."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """A fact with where it stands.

    Parameters
    ----------
    fact : the fact in words
    source : where it stands
    status : seen, from memory, common practice or own rule
    """

    fact: str
    source: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Grit:
    """Size of a paper or polishing agent.

    Parameters
    ----------
    name : as bought, ``P240`` or ``3 µm diamond``
    um : mean grain size [µm]
    ansi : the same in ANSI (CAMI) numbers, such as ``320`` or ``between 220 and 240``; "" for polishing agents
    source, status : where the size stands
    """

    name: str
    um: float
    ansi: str
    source: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Box:
    """A safety box; `id` is what steps name in their cautions."""

    id: str
    title: str
    text: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One part of a recipe, in the order of mixing.

    Parameters
    ----------
    substance : with its strength
    kind : water, alcohol, acid, nitric, alkali, solid or ready
    amount : in `unit`
    unit : mL or g
    how : how it is added; "" where nothing is to be minded
    """

    substance: str
    kind: str
    amount: float
    unit: str
    how: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Bath:
    """A further bath that an etchant needs after it."""

    title: str
    volume_ml: float
    parts: tuple[Part, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Recipe:
    """An etchant scaled to the wanted volume.

    Parameters
    ----------
    id, title : the etchant
    percent : nitric acid in the alcohol [% by volume], where the etchant comes in strengths
    volume_ml : liquid that is mixed [mL]
    parts : in the order of mixing
    seconds : shortest and longest usual time [s]
    temperature : of the bath; "" for room temperature
    method, until, stop : how it is used, when it is done, how it is stopped
    keep, waste : storage and waste in words
    may_keep : whether what is left may be stored at all
    shows : what it brings out
    warnings : what must be said beside it
    boxes : ids of the safety boxes
    after : a second bath, where it needs one
    known : where the figures stand
    """

    id: str
    title: str
    percent: float | None
    volume_ml: float
    parts: tuple[Part, ...]
    seconds: tuple[float, float]
    temperature: str
    method: str
    until: str
    stop: str
    keep: str
    may_keep: bool
    waste: str
    shows: str
    warnings: tuple[str, ...]
    boxes: tuple[str, ...]
    after: Bath | None
    known: tuple[Known, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Mounting:
    """Whether the piece goes into resin, and what that takes.

    Parameters
    ----------
    needed : whether it does
    why : the reason in words
    resin : which; "" where none
    mould_mm, height_mm : inner diameter and height of the mould [mm]
    resin_ml : resin to mix, with a tenth to spare [mL]; None where the size of the piece is not known
    cure_minutes : shortest and longest usual cure [min]
    words : what to do and to mind
    known : where the figures stand
    """

    needed: bool
    why: str
    resin: str = ""
    mould_mm: float | None = None
    height_mm: float | None = None
    resin_ml: float | None = None
    cure_minutes: tuple[float, float] | None = None
    words: str = ""
    known: tuple[Known, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One step that a person ticks off.

    Parameters
    ----------
    id : machine name, unique in its plan; the book keeps it with the face
    kind : what sort of step it is
    title, words : what to do
    grit : FEPA name of the paper, or name of the polishing agent; "" where none
    ansi : the same in ANSI numbers
    um : grain size [µm]
    minutes : about how long it takes by hand [min]; None where time says nothing
    seconds : shortest and longest time in an etchant [s]
    remove_um : least depth to take off [µm]
    until : when it is done
    look : when and how to look
    etchant : id of the etchant, where it is an etching step
    cautions : ids of the safety boxes at this step
    known : where its figures stand
    """

    id: str
    kind: Kind
    title: str
    words: str
    grit: str = ""
    ansi: str = ""
    um: float | None = None
    minutes: float | None = None
    seconds: tuple[float, float] | None = None
    remove_um: float | None = None
    until: str = ""
    look: str = ""
    etchant: str = ""
    cautions: tuple[str, ...] = ()
    known: tuple[Known, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class PrepareWish:
    """What a person wants to see, on what.

    Parameters
    ----------
    want : outline, haz, line or grains, or words that mean one of them
    materials : what the members are made of, one name where they are alike
    cut : how the piece was cut
    volume_ml : etchant wanted [mL]
    etchant : an etchant other than the usual one, with its strength where it has one: ``nital 5 %``
    mount : True, False, or None to leave it to the rule
    resin : epoxy, acrylic or polyester
    size_mm : length and width of the face and thickness of the piece behind it [mm]
    k : times the grit before that every paper takes off at least; None for the usual one of the material
    """

    want: str
    materials: tuple[str, ...]
    cut: str
    volume_ml: float = 50.0
    etchant: str = ""
    mount: bool | None = None
    resin: str = "epoxy"
    size_mm: tuple[float, float, float] | None = None
    k: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class PreparationPlan:
    """The steps from the cut piece to the photographed face.

    Parameters
    ----------
    want, cut : ids of what is to be seen and of the cut
    materials : ids, in the order in which they are etched
    title : in words
    steps : in order
    mounting : whether it goes into resin
    recipes : one for each material that needs its own
    others : ids of further etchants that would do
    removed_um : least depth that all steps take off together [µm]
    boxes : the safety boxes that steps name
    notes : what to know, and that the safety data sheet and local rules come first
    """

    want: str
    cut: str
    materials: tuple[str, ...]
    title: str
    steps: tuple[Step, ...]
    mounting: Mounting
    recipes: tuple[Recipe, ...]
    others: tuple[str, ...]
    removed_um: float
    boxes: tuple[Box, ...]
    notes: tuple[str, ...]
