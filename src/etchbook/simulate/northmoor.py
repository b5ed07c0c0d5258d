"""The invented demo: sections from the training bay of the Northmoor tram depot. All of it is simulated."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from etchbook.simulate.cases import draw_case
from etchbook.simulate.looks import Look
from etchbook.simulate.paint import paint
from etchbook.simulate.placing import Placing
from etchbook.simulate.records import PaintedSection


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """One fixed section of the demo.

    Parameters
    ----------
    name : trial, bay and number
    story : what it is to show, one sentence
    sizes : sizes of the section, see `draw_case` [mm, °]
    seed : of the rest
    turn : how the piece lies under the camera [°]
    mirror : -1 or 1
    """

    name: str
    story: str
    sizes: Mapping[str, float]
    seed: int
    turn: float = 0.0
    mirror: int = 1


_PLATES = {
    "thickness_1": 8.0,
    "thickness_2": 6.0,
    "angle": 90.0,
    "second": 0.0,
    "pores": 0.0,
    "finger": 0.0,
    "wave": 0.03,
}
_SOUND = {"undercut_1": 0.0, "undercut_2": 0.0, "overlap_1": 0.0, "overlap_2": 0.0, "gap": 0.0}


def _piece(name: str, story: str, seed: int, turn: float, mirror: int, **sizes: float) -> Piece:
    return Piece(name=name, story=story, sizes=_PLATES | _SOUND | sizes, seed=seed, turn=turn, mirror=mirror)


NORTHMOOR: tuple[Piece, ...] = (
    _piece(
        "N1-A-01", "Trial N1, position PB: the bead that proved the joint.", 101, 1.2, 1,
        leg_1=6.3, leg_2=6.0, bulge=0.35, skew=0.1, depth_1=1.3, depth_2=0.8, root=1.1, haz=1.5,
    ),
    _piece(
        "N1-A-02", "Trial N1, first attempt: the root was missed and the upper toe is undercut.", 102, -2.0, 1,
        leg_1=5.4, leg_2=6.6, bulge=0.8, skew=0.2, depth_1=0.7, depth_2=1.0, root=-0.7, haz=1.3, undercut_2=0.45,
        gap=0.3,
    ),
    _piece(
        "N1-A-03", "Trial N1, position PF: convex, with two pores.", 103, 3.1, -1,
        leg_1=6.9, leg_2=6.7, bulge=1.1, skew=0.0, depth_1=1.0, depth_2=0.9, root=0.8, haz=1.9, pores=2.0,
    ),
    _piece(
        "N2-A-01", "Trial N2, bay A: flat and well melted in.", 104, 0.6, 1,
        leg_1=6.4, leg_2=6.1, bulge=0.15, skew=0.0, depth_1=1.5, depth_2=0.9, root=1.4, haz=1.6,
    ),
    _piece(
        "N2-A-02", "Trial N2, bay A, second bead.", 105, -1.4, 1,
        leg_1=6.2, leg_2=6.3, bulge=0.22, skew=0.1, depth_1=1.4, depth_2=1.0, root=1.3, haz=1.5,
    ),
    _piece(
        "N2-B-01", "Trial N2, bay B: same settings sheet, taller and less melted in.", 106, 2.2, 1,
        leg_1=5.3, leg_2=5.0, bulge=1.05, skew=0.0, depth_1=0.5, depth_2=0.4, root=0.25, haz=1.1,
    ),
    _piece(
        "N2-B-02", "Trial N2, bay B, second bead: the root just missed.", 107, -0.9, 1,
        leg_1=5.2, leg_2=4.9, bulge=1.15, skew=-0.1, depth_1=0.45, depth_2=0.4, root=-0.25, haz=1.0,
    ),
)  # fmt: skip


def _look(piece: Piece) -> Look:
    """One shop, one etch, one camera: grey steel in a black mount, darker HAZ, columnar weld."""
    shift = 1 + 0.02 * ((piece.seed % 5) - 2)
    plate = np.array([0.63, 0.64, 0.66]) * shift
    look = Look(
        level=0.08, plate=plate, plate_2=plate, weld=0.78 * plate, low=0.72 * plate, haz_in=0.55 * plate,
        haz_out=0.6 * plate,
        air=np.array([0.06, 0.06, 0.07]), haz_kind="two", haz_split=0.45, haz_soft=0.08, line=0.12, line_width=0.05,
        blend=0.05,
        low_reach=0.8, weld_kind="columns", weld_size=0.1, plate_kind="rolled", plate_size=0.02, grain=0.1,
        air_kind="mount",
        rim=0.1, shadow=0.0,
    )  # fmt: skip
    return replace(look, haz_kind="fading") if piece.name.startswith("N2") else look


def paint_piece(piece: Piece, *, width: int = 2000, height: int = 1500) -> PaintedSection:
    """Paint one piece of the demo at about 80 px/mm on 2000 x 1500 px; always the same picture."""
    case = draw_case("tee", piece.seed, **dict(piece.sizes))
    placing = Placing(
        px_per_mm=0.04 * width,
        turn=float(np.radians(piece.turn)),
        mirror=piece.mirror,
        centre=np.array([1.5, 1.2]),
        at=np.array([0.5 * width, 0.5 * height]),
        tilt=np.zeros(2),
    )
    painted = paint(
        case, width=width, height=height, seed=piece.seed, difficulty="plain", look=_look(piece), placing=placing
    )
    return replace(
        painted,
        picture=replace(painted.picture, name=f"{piece.name}.png"),
        recipe={**painted.recipe, "story": piece.story},
    )
