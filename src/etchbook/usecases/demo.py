"""The training bay of the (invented) Northmoor tram depot: painted tee fillets, read and judged.

A tee fillet for pole brackets, 8 mm on 6 mm plate, nominal throat 4 mm. Trial N1 proves the joint; trial N2 asks why
bay B's beads penetrate less and stand taller than bay A's. The pictures are simulated and say so.
"""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from etchbook.acceptance.records import Judgement
from etchbook.quantity import Absent, spoken
from etchbook.section import Preparation, Reading
from etchbook.simulate import NORTHMOOR, PaintedSection, Piece, paint_piece
from etchbook.tables import load_limits
from etchbook.usecases.judging import judge
from etchbook.usecases.ports import Press
from etchbook.usecases.reading import JointWish, ReadWish, read_picture
from etchbook.usecases.scales import GivenScale

THROAT = 4.0
SMALLER = {"width": 1200, "height": 900}
AGAINST = "iso-5817:B"
SHOWN = ("leg_1", "leg_2", "nominal_throat", "convexity", "root_penetration")
HEADINGS = ("picture", *(f"{name} read (truth)" for name in SHOWN), "verdicts")
PAGES = {"json": "json", "overlay.png": "overlay.png", "pdf": "pdf", "html": "html", "csv": "csv"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Shown:
    """One scene, painted, read and judged."""

    scene: Piece
    painted: PaintedSection
    files: Mapping[str, bytes]
    reading: Reading
    judgement: Judgement

    @property
    def in_full(self) -> bool:
        """Whether it is one of those whose pages are all printed."""
        return self.scene in SCENES


SCENES = tuple(piece for piece in NORTHMOOR if piece.name in ("N1-A-01", "N1-A-02", "N2-A-01", "N2-B-01"))


def sections(program: str, press: Press, pieces: Sequence[Piece] = NORTHMOOR) -> Iterator[Shown]:
    """Paint, read and judge the bay's sections one after the other; those not printed in full are smaller."""
    limits = load_limits(AGAINST)
    for piece in pieces:
        size = {} if piece in SCENES else SMALLER
        painted = paint_piece(piece, **size)
        files = press.painted(painted, piece.name)
        sha256 = hashlib.sha256(files[f"{piece.name}.png"]).hexdigest()
        picture = replace(painted.picture, sha256=sha256)
        reading = read_picture(picture, wish_for(piece, painted), (), program)
        yield Shown(scene=piece, painted=painted, files=files, reading=reading, judgement=judge(reading, limits))


def wish_for(scene: Piece, painted: PaintedSection) -> ReadWish:
    """What the bay knows of its bead before it is read."""
    px_per_mm = painted.truth.px_per_mm
    return ReadWish(
        photo=f"{scene.name}.png",
        joint=JointWish(family="tee", thickness_1=8.0, thickness_2=6.0, throat=THROAT),
        scale=GivenScale(px_per_mm=px_per_mm, u=0.003 * px_per_mm),
        preparation=Preparation(
            etchant="none: the picture is simulated",
            material="S275 (simulated)",
            specimen=scene.story,
            reader="demo",
        ),
    )


def pages(shown: Shown, press: Press) -> dict[str, bytes]:
    """Everything the demo keeps of one scene, by file name."""
    name = shown.scene.name
    kept = dict(shown.files)
    if not shown.in_full:
        return kept
    for kind, ending in PAGES.items():
        page = press.page(kind, shown.reading, shown.judgement, shown.painted.picture)
        kept[f"{name}.reading.{ending}" if kind in ("json", "csv") else f"{name}.{ending}"] = page
    return kept


def summary(shown: Shown) -> tuple[str, ...]:
    """One row for the table: what was read beside what is true, and the count of each verdict."""
    counts = ", ".join(
        f"{count} {verdict}"
        for verdict, count in shown.judgement.counts.items()
        if count and verdict not in ("does not apply", "not readable")
    )
    return (shown.scene.name, *(_beside_truth(shown, name) for name in SHOWN), counts)


def _beside_truth(shown: Shown, name: str) -> str:
    quantity, truth = shown.reading.dimensions[name], shown.painted.truth.dimensions.get(name)
    read = "not read" if isinstance(quantity, Absent) else spoken(quantity).removesuffix(" mm")
    return f"{read} ({'none' if truth is None else f'{truth:.2f}'})"
