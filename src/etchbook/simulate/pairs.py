"""Two pictures of one face whose views are known exactly, and two of different faces that look alike."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from etchbook.picture import Picture
from etchbook.simulate.faces import WORD, Face, FaceLine, draw_face
from etchbook.simulate.views import FaceState, Matrix, View, moved, take_picture
from etchbook.terms import FAMILIES, Family

KINDS = ("view", "polish", "light", "inverted", "etch", "ground")
"""What changes beside the view: nothing, the scratches, the light, dark field, the etch, the grain (ground deep)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PaintedPair:
    """Two pictures.

    Parameters
    ----------
    pictures, states, views : of the first and the second
    matrix : (3, 3) takes px of the first to px of the second; None when they show different faces
    lines : dark lines in px of the face, see FaceLine
    recipe : what was drawn, plain numbers and words
    """

    pictures: tuple[Picture, Picture]
    states: tuple[FaceState, FaceState]
    views: tuple[View, View]
    matrix: Matrix | None
    lines: tuple[FaceLine, ...]
    recipe: Mapping[str, object]


def paint_pair(
    seed: int,
    *,
    width: int = 1600,
    height: int = 1200,
    family: Family | None = None,
    kind: str | None = None,
    times: float | None = None,
    mirror: bool | None = None,
    tilt: float = 0.3,
    same: bool = True,
    twin: bool = False,
) -> PaintedPair:
    """Paint two pictures; the same arguments give the same bytes.

    Parameters
    ----------
    width, height : of both pictures [px]
    family, kind : drawn when None; see KINDS
    times : how much closer the second picture is, 1 to 6; drawn when None
    mirror : whether the second picture is mirrored; drawn when None
    tilt : how far the cameras lean, 0 for square on
    same : False paints another section of the same joint in the second picture
    twin : with `same` False: that other section has the same plates, and a weld that differs by 5 to 25 %
    """
    rng = np.random.default_rng([seed, WORD, 23])
    drawn_family, drawn_kind = str(rng.choice(FAMILIES)), str(rng.choice(KINDS))
    drawn_times, drawn_mirror = float(np.exp(rng.uniform(0, np.log(6)))), bool(rng.uniform() < 0.4)
    kind = kind or drawn_kind
    if kind not in KINDS:
        raise ValueError(f'"{kind}" is no kind of pair: use {", ".join(KINDS)}')
    joint: Family = next(name for name in FAMILIES if name == (family or drawn_family))
    closer = drawn_times if times is None else times
    frame = int(1.5 * width), int(1.5 * height)
    one = draw_face(joint, seed, *frame)
    two = one if same else draw_face(joint, seed if twin else seed + 7_000_000, *frame, twin=int(twin))
    if same and kind == "ground":
        two = draw_face(joint, seed, *frame, fresh=1)
    states = _states(rng, kind)
    first = _view(rng, one, (width, height), 1 / 1.5 * float(rng.uniform(0.95, 1.1)), False, tilt, whole=True)
    hand = drawn_mirror if mirror is None else mirror
    second = _view(rng, two, (width, height), first.scale * closer, hand, tilt, whole=closer < 1.3)
    pictures = (
        take_picture(one, states[0], first, seed=1, level=float(rng.uniform(0, 0.6)), name=f"face_{seed}_a.png"),
        take_picture(two, states[1], second, seed=2, level=float(rng.uniform(0, 0.6)), name=f"face_{seed}_b.png"),
    )
    recipe = {"seed": seed, "family": joint, "kind": kind, "times": closer, "mirror": hand, "same": same, "twin": twin}
    return PaintedPair(
        pictures=pictures, states=states, views=(first, second),
        matrix=second.matrix @ np.linalg.inv(first.matrix) if same else None, lines=one.lines, recipe=recipe,
    )  # fmt: skip


def _states(rng: np.random.Generator, kind: str) -> tuple[FaceState, FaceState]:
    finishes = ("240", "600", "1200", "polished")
    one, two = (str(name) for name in rng.choice(finishes, 2, replace=False))
    azimuth = float(rng.uniform(0, 360))
    other = float(azimuth + rng.uniform(60, 300))
    changes: dict[str, tuple[FaceState, FaceState]] = {
        "view": (FaceState(finish=one), FaceState(finish=one)),
        "polish": (FaceState(finish=one), FaceState(finish=two, scratched=1)),
        "light": (FaceState(finish=one, light=azimuth), FaceState(finish=one, light=other)),
        "inverted": (FaceState(finish=one), FaceState(finish=one, inverted=True)),
        "etch": (FaceState(finish=one, etched=False), FaceState(finish=one)),
        "ground": (FaceState(finish=one), FaceState(finish=two, scratched=1)),
    }
    return changes[kind]


def _view(
    rng: np.random.Generator, face: Face, size: tuple[int, int], scale: float, mirror: bool, tilt: float, *, whole: bool
) -> View:
    """A frame over the face, anyhow turned; a closer one lies near an edge of the weld."""
    width, height = size
    rows, columns = face.metal.shape
    middle, turn = np.array([columns, rows]) / 2, float(rng.choice([0, np.pi]) + rng.normal(0, 0.06))
    if not whole:
        spot = face.spots[int(rng.integers(len(face.spots)))] + rng.normal(0, 0.15, 2) * [width / scale, height / scale]
        middle, turn = np.clip(spot, 0.1 * middle, 1.9 * middle), float(rng.uniform(-np.pi, np.pi))
    c, s = scale * np.cos(turn), scale * np.sin(turn)
    flip = np.diag([-1.0 if mirror else 1.0, 1.0])
    linear = np.array([[c, -s], [s, c]]) @ flip
    matrix = np.eye(3)
    matrix[:2, :2] = linear
    matrix[:2, 2] = -linear @ middle
    lean = np.eye(3)
    lean[2, :2] = rng.normal(0, 1, 2) * 0.02 * tilt / max(width, height)
    shift = np.eye(3)
    shift[:2, 2] = np.array([width, height]) / 2 - 0.5
    return View(matrix=shift @ lean @ matrix, width=width, height=height)


def line_in(pair: PaintedPair, line: FaceLine, which: int) -> Matrix:
    """(n, 2) points of a face's line in one of the two pictures [px]."""
    return moved(pair.views[which].matrix, line.points)
