"""The verbs for people who write Python: ``etchbook.read``, ``etchbook.judge``, ``etchbook.paint`` ..."""

from collections.abc import Iterator
from dataclasses import replace
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from etchbook import __version__
from etchbook.acceptance.records import Judgement
from etchbook.joint import Groove
from etchbook.picture import Picture
from etchbook.section import Mark, Preparation, Reading
from etchbook.usecases import reading
from etchbook.usecases.grooves import checked
from etchbook.usecases.judging import judge as hold_against
from etchbook.usecases.judging import limits_for
from etchbook.usecases.scales import scale_wish
from etchbook.usecases.words import family_named
from etchbook.wiring.desk import FilesDesk
from etchbook.wiring.press import ReportPress
from etchbook.wiring.view import ReadingView
from etchbook.wiring.welding import heat, weld

__all__ = ["PROGRAM", "heat", "judge", "paint", "read", "weld"]

if TYPE_CHECKING:
    from etchbook.simulate import PaintedSection

PROGRAM = f"etchbook {__version__}"


def read(
    photo: str | PathLike[str] | Picture,
    joint: str | None = None,
    *,
    px_per_mm: float | None = None,
    u_px_per_mm: float | None = None,
    scale_from: str | None = None,
    marks: str | PathLike[str] | tuple[Mark, ...] = (),
    thickness_1: float | None = None,
    thickness_2: float | None = None,
    throat: float | None = None,
    groove: Groove | None = None,
    preparation: Preparation | None = None,
) -> ReadingView:
    """Read one photograph of an etched weld section.

    Parameters
    ----------
    photo : path of the photograph, or a Picture
    joint : tee, lap, corner, butt or bead; proposed from the picture when left out
    px_per_mm, u_px_per_mm : scale and its standard uncertainty [px/mm]
    scale_from : ``thickness_1=8``, ``rule``, ``rule=1/64in``, ``bar=0.1``, ``points=x1,y1,x2,y2,length``
    marks : path of a marks file, or marks
    thickness_1, thickness_2, throat : what the drawing says [mm]
    groove : preparation of a butt joint before welding: gap, angle, root face
    preparation : etchant, finish, material, specimen, reader

    Returns
    -------
    ReadingView
        `.dimensions["leg_1"]` is Measured(value, u, unit) or Absent(reason).
    """
    known = reading.JointWish(
        family=None if joint is None else family_named(joint),
        thickness_1=thickness_1,
        thickness_2=thickness_2,
        throat=throat,
        groove=None if groove is None else checked(groove),
    )
    scale = scale_wish(_text(px_per_mm), _text(u_px_per_mm), scale_from)
    wish = reading.ReadWish(
        photo="" if isinstance(photo, Picture) else str(Path(photo)),
        joint=known,
        scale=scale,
        preparation=preparation or Preparation(),
    )
    desk = FilesDesk()
    if not isinstance(marks, tuple):
        wish = replace(wish, joint=reading.with_groove(known, desk.groove(str(Path(marks)))))
    picture = photo if isinstance(photo, Picture) else desk.photo(wish.photo)
    set_by_hand = marks if isinstance(marks, tuple) else desk.marks(str(Path(marks)), picture)
    return ReadingView(reading.read_picture(picture, wish, set_by_hand, PROGRAM), picture)


def judge(read_before: ReadingView | Reading | str | PathLike[str], *, against: str, risk: float = 0.05) -> Judgement:
    """Hold a reading against limits.

    Parameters
    ----------
    read_before : what `read` gave, or the path of a reading kept as JSON
    against : name of a packaged set such as ``iso-5817:B``, or the path of a TOML file of own limits
    risk : accepted probability of a wrong "met" or "not met"

    Returns
    -------
    Judgement
        A reading of one section held against limits; never a certificate.
    """
    desk = FilesDesk()
    if isinstance(read_before, ReadingView):
        record = read_before.record
    elif isinstance(read_before, Reading):
        record = read_before
    else:
        record = ReportPress().reading(desk.text(str(Path(read_before))))
    return hold_against(record, limits_for(against, desk), risk=risk)


def paint(
    joint: str,
    seed: int = 0,
    *,
    width: int = 1600,
    height: int = 1200,
    count: int = 1,
    difficulty: str = "any",
) -> "Iterator[PaintedSection]":
    """Painted sections whose truth is known exactly: `.picture`, `.labels`, `.truth`.

    Parameters
    ----------
    joint : tee, lap, corner, butt or bead
    seed : of the first section; each further one adds 1
    width, height : size [px]
    count : how many
    difficulty : any, plain, moderate or hard
    """
    from etchbook.usecases import painting  # readers of photographs need no painter

    size = painting.picture_size(f"{width}x{height}")
    family = family_named(joint)
    return (section for _, section in painting.paint(family, seed, size, count=count, difficulty=difficulty))


def _text(value: float | None) -> str | None:
    return None if value is None else str(value)
