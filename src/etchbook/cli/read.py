"""The command ``read``."""

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from etchbook.acceptance.records import Judgement
    from etchbook.joint import Groove
    from etchbook.section import CutPlace, Preparation, Reading
    from etchbook.tables import LimitSet
    from etchbook.usecases.keeping.ports import BookStore
    from etchbook.usecases.ports import Desk, Press
    from etchbook.usecases.reading import JointWish, ReadWish

JOINTS = "tee, lap, corner (open outside corner), butt or bead (bead on plate); proposed when left out."
SOURCES = 'thickness_1=8, rule, rule=1mm, rule=1/64in, bar=0.1 or "points=x1,y1,x2,y2,length".'
Words = str | None

EMPTY_IS_A_SLIP = (
    "joint",
    "scale",
    "scale_u",
    "scale_from",
    "marks",
    "against",
    "gap",
    "groove_angle",
    "root_face",
    "bevelled",
    "cut_at",
    "seam",
    "json",
    "regions",
    "overlay",
    "pdf",
    "html",
    "csv",
    "save_example",
    "into",
    "book",
)
MANY = "With several photos: a folder, or a name with {name} in it."


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """One photograph with the pages to be kept of it."""

    wish: "ReadWish"
    pages: dict[str, str]
    limits: "LimitSet | None"
    risk: float
    example: str | None
    show_json: bool
    shelf: "Shelf | None" = None
    against: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Shelf:
    """Where in which book readings are saved, and by whom."""

    store: "BookStore"
    code: str
    by: str


def read(
    photos: list[str] = typer.Argument(..., metavar="PHOTO", help="JPEG, PNG, TIFF or HEIC, up to 120 MP."),
    joint: Words = typer.Option(None, metavar="JOINT", help=JOINTS),
    scale: Words = typer.Option(None, metavar="PX_PER_MM", help="Pixels per millimetre."),
    scale_u: Words = typer.Option(None, metavar="U", help="Standard uncertainty of --scale, px/mm."),
    scale_from: Words = typer.Option(None, metavar="SOURCE", help=SOURCES),
    marks: Words = typer.Option(None, metavar="FILE", help="Your marks (JSON or TOML) that pin parts of the outline."),
    against: Words = typer.Option(None, metavar="LIMITS", help="Judge against a set such as iso-5817:B, or own.toml."),
    risk: float = typer.Option(0.05, metavar="SHARE", help='Accepted probability of a wrong "met" or "not met".'),
    throat: Words = typer.Option(None, metavar="MM", help="Nominal throat that the drawing asks for."),
    thickness_1: Words = typer.Option(None, "--thickness-1", metavar="MM", help="Thickness of member 1, where known."),
    thickness_2: Words = typer.Option(None, "--thickness-2", metavar="MM", help="Thickness of member 2, where known."),
    gap: Words = typer.Option(None, metavar="MM", help="Root gap of a butt joint before welding: 2 or 2±0.2."),
    groove_angle: Words = typer.Option(
        None, "--groove-angle", metavar="DEG", help="Angle between both edges of a butt joint; 0 where they are square."
    ),
    root_face: Words = typer.Option(
        None, "--root-face", metavar="MM", help="Unbevelled part of the edges, from the root side."
    ),
    bevelled: Words = typer.Option(None, metavar="SIDE", help="Which members are bevelled: both, 1 or 2."),
    etchant: str = typer.Option("", metavar="TEXT", help="Printed in the report."),
    finish: str = typer.Option("", metavar="TEXT", help="Grinding or polish, printed in the report."),
    material: str = typer.Option("", metavar="TEXT", help="Printed in the report."),
    specimen: str = typer.Option("", metavar="TEXT", help="Name of the piece, printed in the report."),
    consumable: str = typer.Option("", metavar="TEXT", help="Wire or electrode, printed in the report."),
    purpose: str = typer.Option("", metavar="TEXT", help="Object of the examination, printed in the report."),
    etching: str = typer.Option("", metavar="TEXT", help="How it was etched and how long, printed in the report."),
    further: str = typer.Option("", metavar="TEXT", help="Further measures or requirements, printed in the report."),
    place: str = typer.Option("", metavar="TEXT", help="Where the section was cut, in words."),
    cut_at: Words = typer.Option(
        None, "--cut-at", metavar="MM", help="Where it was cut along the seam, from its start; draws the sketch."
    ),
    seam: Words = typer.Option(None, metavar="MM", help="Length of the seam, for the sketch of --cut-at."),
    reader: str = typer.Option("", metavar="TEXT", help="Who reads, printed in the report."),
    json: Words = typer.Option(None, metavar="OUT", help=f"Keep the reading as JSON; - prints it. {MANY}"),
    regions: Words = typer.Option(
        None, metavar="OUT.png", help="Keep the regions: 0 surroundings, 1 plate, 2 HAZ, 3 weld."
    ),
    overlay: Words = typer.Option(
        None, metavar="OUT.png|svg", help="Keep the photo with its outline and measured lines."
    ),
    pdf: Words = typer.Option(None, metavar="OUT", help="Keep the report as PDF."),
    html: Words = typer.Option(None, metavar="OUT", help="Keep the report as one HTML page."),
    csv: Words = typer.Option(None, metavar="OUT", help="Keep the dimensions as a table."),
    save_example: Words = typer.Option(
        None, metavar="FOLDER", help="Keep photo, regions and marks as a labelled example."
    ),
    into: Words = typer.Option(
        None, metavar="CODE", help="Save photo, reading and judgement in the book, on that face, piece or picture."
    ),
    book: Words = typer.Option(None, metavar="FOLDER", help="The book that --into means; else the one that is open."),
    by: str = typer.Option("", metavar="WHO", help="Who saves it in the book; else ETCHBOOK_BY or your login."),
) -> None:
    """Read photographs of etched weld sections: outline, dimensions with uncertainty, judgement, report."""
    from etchbook.cli.outputs import check_places, folders_to_make, targets
    from etchbook.section import Preparation
    from etchbook.usecases import RefusedError
    from etchbook.usecases.judging import accepted_risk, limits_for
    from etchbook.usecases.reading import ReadWish
    from etchbook.usecases.scales import scale_wish
    from etchbook.wiring.desk import FilesDesk

    _no_empty_words(locals())
    wanted = {"json": json, "regions": regions, "overlay": overlay, "pdf": pdf, "html": html, "csv": csv}
    known = _joint_wish(joint, thickness_1, thickness_2, throat, _groove(gap, groove_angle, root_face, bevelled))
    source = scale_wish(scale, scale_u, scale_from)
    said = Preparation(
        etchant=etchant, finish=finish, material=material, specimen=specimen, reader=reader, consumable=consumable,
        purpose=purpose, etching=etching, further=further, place=place, cut=_cut(cut_at, seam),
    )  # fmt: skip
    several = len(photos) > 1
    if several and marks:
        raise RefusedError("marks belong to one photograph: read it by itself")
    limits = limits_for(against, FilesDesk()) if against else None
    shelf = None if into is None else _shelf(into, book, by)
    if shelf is not None:
        known, said = _from_book(shelf, known, said)
    jobs = [
        Job(
            wish=ReadWish(photo=photo, joint=known, scale=source, marks=marks or "", preparation=said),
            pages=targets(wanted, photo, several=several),
            limits=limits,
            risk=accepted_risk(risk),
            example=save_example,
            show_json=json == "-",
            shelf=shelf,
            against=against or "",
        )
        for photo in photos
    ]
    check_places([job.pages for job in jobs], photos, folders_to_make(wanted))
    for folder in folders_to_make(wanted):
        FilesDesk().make_folder(folder)
    raise typer.Exit(_all(jobs))


def _shelf(code: str, book: str | None, by: str) -> Shelf:
    """The book and the place in it, looked at before anything is read."""
    from etchbook.cli.said import opened
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping.looking import lookup

    store = opened(book)
    kind = lookup(store, code).kind
    if kind not in ("piece", "face", "picture"):
        raise RefusedError(f"{code} is a {kind}; a reading is saved on a piece, a face or a picture, like N1-03-B")
    return Shelf(store=store, code=code, by=by)


def _from_book(shelf: Shelf, wish: "JointWish", said: "Preparation") -> "tuple[JointWish, Preparation]":
    """What the book knows of the section, with what was typed in its place."""
    from etchbook.usecases.keeping.known import beside, known_of
    from etchbook.usecases.reading import joint_beside
    from etchbook.wiring.shelf import hand

    held = known_of(shelf.store, shelf.code)
    told = beside(held.preparation, said)
    return joint_beside(held.joint, wish), told if told.reader else replace(told, reader=hand(shelf.by).by)


def _cut(at: Words, seam: Words) -> "CutPlace | None":
    from etchbook.section import CutPlace
    from etchbook.usecases import RefusedError
    from etchbook.usecases.scales import number, positive

    if at is None:
        if seam is not None:
            raise RefusedError("the length of the seam draws nothing without --cut-at: give it as well")
        return None
    whole = None if seam is None else positive(seam, "the length of the seam")
    where = number(at, "the place of the cut", least=0.0)
    if whole is not None and where > whole:
        raise RefusedError(f"the cut at {where:g} mm lies beyond the end of the seam of {whole:g} mm")
    return CutPlace(at=where, seam=whole)


def _no_empty_words(options: dict[str, object]) -> None:
    """An option with nothing behind it is a slip (an unset variable in a script), never a wish for the default."""
    from etchbook.usecases import RefusedError

    for name in EMPTY_IS_A_SLIP:
        if options[name] == "":
            raise RefusedError(f"--{name.replace('_', '-')} was given with nothing behind it")


def _groove(gap: Words, angle: Words, root_face: Words, bevelled: Words) -> "Groove | None":
    from etchbook.usecases.grooves import bare, groove_from
    from etchbook.wiring.units import amount

    return groove_from(gap, angle, root_face, bevelled, bare(amount))


def _joint_wish(
    family: str | None, thickness_1: str | None, thickness_2: str | None, throat: str | None, groove: "Groove | None"
) -> "JointWish":
    from etchbook.usecases.reading import JointWish
    from etchbook.usecases.scales import positive
    from etchbook.usecases.words import family_named

    def length(text: str | None, what: str) -> float | None:
        return None if text is None else positive(text, what)

    return JointWish(
        family=None if family is None else family_named(family),
        thickness_1=length(thickness_1, "the thickness of member 1"),
        thickness_2=length(thickness_2, "the thickness of member 2"),
        throat=length(throat, "the throat"),
        groove=groove,
    )


def _all(jobs: list[Job]) -> int:
    """Do the jobs in turn; one that is refused is told and does not keep the others from being read."""
    from etchbook.wiring.errors import sentence

    worst = 0
    for job in _with_progress(jobs):
        try:
            _one(job)
        except Exception as error:
            if len(jobs) == 1:
                raise
            text, code = sentence(error)
            name = "" if text.startswith(job.wish.photo) else f"{job.wish.photo}: "
            print(f"etchbook: {name}{text}", file=sys.stderr)
            worst = max(worst, code)
    return worst


def _one(job: Job) -> None:
    from etchbook.cli import show
    from etchbook.usecases.judging import judge
    from etchbook.usecases.reading import read as read_photo
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.library import PROGRAM
    from etchbook.wiring.press import ReportPress

    desk, press = FilesDesk(), ReportPress()
    record, picture = read_photo(job.wish, desk, PROGRAM)
    verdicts = None if job.limits is None else judge(record, job.limits, risk=job.risk)
    kept = {path: press.page(kind, record, verdicts, picture) for kind, path in job.pages.items()}
    if job.example:
        folder = str(Path(job.example) / Path(job.wish.photo).stem)
        desk.make_folder(folder)
        kept |= _example(job, folder, desk, press, record)
    desk.keep(kept)
    saved = _saved(job, record, verdicts, press)
    if job.show_json:
        print(press.page("json", record, verdicts, picture).decode(), end="")
        return
    show.reading(record)
    if verdicts is not None:
        show.judgement(verdicts)
    for path in kept:
        print(f"kept: {path}")
    for words in saved:
        print(words)


def _saved(job: Job, record: "Reading", verdicts: "Judgement | None", press: "Press") -> tuple[str, ...]:
    """What was saved in the book, in words."""
    if job.shelf is None:
        return ()
    from etchbook.usecases.keeping.saving import save
    from etchbook.wiring.shelf import hand, photo

    document = press.page("json", record, None, None)
    shelf = job.shelf
    return save(shelf.store, hand(shelf.by), shelf.code, photo(job.wish.photo), record, document,
                verdicts=verdicts, against=job.against)  # fmt: skip


def _example(job: Job, folder: str, desk: "Desk", press: "Press", record: "Reading") -> dict[str, bytes]:
    photo = Path(job.wish.photo)
    pages = press.example(record, desk.original(str(photo)), photo.suffix)
    return {str(Path(folder) / name): page for name, page in pages.items()}


def _with_progress(jobs: list[Job]) -> Iterator[Job]:
    if len(jobs) == 1 or not sys.stderr.isatty():
        yield from jobs
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(jobs, description="reading", console=Console(stderr=True), transient=True)
