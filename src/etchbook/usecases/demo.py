"""The training bay of the (invented) Northmoor tram depot: four painted tee fillets, read and judged.

A tee fillet for pole brackets, 8 mm on 6 mm plate, nominal throat 4 mm. Trial N1 proves the joint; trial N2 asks why
bay B's beads penetrate less and stand taller than bay A's. The pictures are simulated and say so.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from etchbook.acceptance.records import Judgement
from etchbook.quantity import Absent, spoken
from etchbook.section import Preparation, Reading
from etchbook.simulate import PaintedSection, paint_section
from etchbook.tables import load_limits
from etchbook.usecases.judging import judge
from etchbook.usecases.ports import Press
from etchbook.usecases.reading import JointWish, ReadWish, read_picture
from etchbook.usecases.scales import GivenScale

PLATES = {"thickness_1": 8.0, "thickness_2": 6.0, "gap": 0.0, "angle": 90.0, "pores": 0.0}
THROAT = 4.0
AGAINST = "iso-5817:B"
SIZE = (1600, 1200)
SHOWN = ("leg_1", "leg_2", "nominal_throat", "convexity", "root_penetration")
HEADINGS = ("picture", *(f"{name} read (truth)" for name in SHOWN), "verdicts")
PAGES = {"json": "json", "overlay.png": "overlay.png", "pdf": "pdf", "html": "html", "csv": "csv"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """One bead of the bay: its name, what it is, the sizes it is painted with [mm] and the seed of its looks."""

    name: str
    about: str
    sizes: Mapping[str, float]
    seed: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Shown:
    """One scene, painted, read and judged."""

    scene: Scene
    painted: PaintedSection
    reading: Reading
    judgement: Judgement


NORTHMOOR = (
    Scene(
        name="n1-1",
        about="trial N1, bead 1: the joint as it was meant",
        sizes={"leg_1": 6.3, "leg_2": 6.0, "bulge": 0.35, "depth_1": 1.3, "depth_2": 1.0, "root": 0.8},
        seed=148,
    ),
    Scene(
        name="n1-2",
        about="trial N1, bead 2: root missed, undercut at the upper toe",
        sizes={"leg_1": 6.8, "leg_2": 5.6, "bulge": 0.5, "depth_1": 0.7, "root": -0.5, "undercut_2": 0.7},
        seed=103,
    ),
    Scene(
        name="n2-a",
        about="trial N2, bay A",
        sizes={"leg_1": 6.2, "leg_2": 6.1, "bulge": 0.2, "depth_1": 1.6, "depth_2": 1.2, "root": 1.1},
        seed=115,
    ),
    Scene(
        name="n2-b",
        about="trial N2, bay B: longer stick-out in a worn jig",
        sizes={"leg_1": 5.7, "leg_2": 5.6, "bulge": 0.95, "depth_1": 0.6, "depth_2": 0.5, "root": 0.2},
        seed=147,
    ),
)


def sections(program: str) -> Iterator[Shown]:
    """Paint, read and judge the bay's sections one after the other."""
    limits = load_limits(AGAINST)
    for scene in NORTHMOOR:
        painted = painted_scene(scene)
        reading = read_picture(painted.picture, wish_for(scene, painted), (), program)
        yield Shown(scene=scene, painted=painted, reading=reading, judgement=judge(reading, limits))


def painted_scene(scene: Scene) -> PaintedSection:
    """The picture of a scene, the same each time."""
    sizes = {**PLATES, "undercut_1": 0.0, "undercut_2": 0.0, "overlap_1": 0.0, "overlap_2": 0.0, **scene.sizes}
    width, height = SIZE
    return paint_section(
        "tee", scene.seed, width=width, height=height, difficulty="moderate", px_per_mm=55.0, sizes=sizes
    )


def wish_for(scene: Scene, painted: PaintedSection) -> ReadWish:
    """What the bay knows of its bead before it is read."""
    px_per_mm = painted.truth.px_per_mm
    return ReadWish(
        photo=f"{scene.name}.png",
        joint=JointWish(family="tee", thickness_1=8.0, thickness_2=6.0, throat=THROAT),
        scale=GivenScale(px_per_mm=px_per_mm, u=0.003 * px_per_mm),
        preparation=Preparation(
            etchant="none: the picture is simulated",
            material="S275 (simulated)",
            specimen=scene.about,
            reader="demo",
        ),
    )


def pages(shown: Shown, press: Press) -> dict[str, bytes]:
    """Everything the demo keeps of one scene, by file name."""
    name = shown.scene.name
    kept = dict(press.painted(shown.painted, name))
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
