"""Other sections by hand: a bead on plate, a butt weld, a turned and mirrored tee, and a picture with no weld in it."""

from dataclasses import replace

import numpy as np

from etchbook.geometry import Line, LineFit
from etchbook.joint import Joint
from etchbook.picture import Picture, Scale
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section import Boundary, Landmark, Outline, PictureFacts, Reading, Regions
from etchbook.terms import Family, dimensions_of
from rooms.report import example

PX = 30.0


def _px(points: object) -> np.ndarray:
    return np.array([500.0, 300.0]) + np.asarray(points, float) * [PX, -PX]


def _arc(half: float, height: float, count: int = 41) -> np.ndarray:
    """A parabola from (-half, 0) to (half, 0) with its top at `height`."""
    x = np.linspace(-half, half, count)
    return np.stack([x, height * (1 - (x / half) ** 2)], axis=1)


def _boundary(name: str, points: np.ndarray) -> Boundary:
    return Boundary(name=name, points=_px(points), sd=np.full(len(points), 0.6), confidence=0.9)


def _level(height: float) -> LineFit:
    at = _px([0.0, height])
    return LineFit(line=Line(x=float(at[0]), y=float(at[1]), heading=0.0), u_shift=0.3, u_turn=0.001, rms=0.5, used=90)


def _made(
    family: Family,
    parts: dict[str, np.ndarray],
    marks: dict[str, tuple[float, float]],
    lines: dict[str, float],
    values: dict[str, float],
    weld: np.ndarray,
) -> Reading:
    known: dict[str, Quantity] = {name: Measured(value=v, u=0.04, unit="mm") for name, v in values.items()}
    blank = Absent(reason="it does not show in this picture")
    return Reading(
        joint=Joint(family=family),
        scale=Scale(px_per_mm=PX, u=0.1, origin="rule"),
        picture=PictureFacts(sha256="cd" * 32, name=f"{family}.png", width=1000, height=700),
        regions=Regions(labels=np.zeros((7, 10), np.uint8), factor=100.0),
        outline=Outline(
            boundaries={name: _boundary(name, points) for name, points in parts.items()},
            landmarks={name: Landmark(point=_px(at), covariance=np.eye(2)) for name, at in marks.items()},
            lines={name: _level(height) for name, height in lines.items()},
            weld=(_px(weld),),
        ),
        dimensions={term.id: known.get(term.id, blank) for term in dimensions_of(family)},
        program="etchbook 0.1.0",
    )


def bead() -> Reading:
    """8.0 mm wide, 1.6 mm high, 2.4 mm deep, on plate 10 mm thick."""
    face, fusion = _arc(4.0, 1.6), _arc(4.0, -2.4)
    parts = {
        "weld_face": face,
        "fusion_line_1": fusion,
        "haz_edge_1": _arc(5.6, -4.2),
        "surface_1": np.array([(4.0, 0.0), (9.0, 0.0), (15.0, 0.0)]),
        "back_1": np.array([(-15.0, -10.0), (15.0, -10.0)]),
    }
    values = {
        "weld_width": 8.0,
        "excess_weld_metal": 1.6,
        "penetration_1": 2.4,
        "thickness_1": 10.0,
        "haz_width_1": 1.6,
    }
    marks = {"toe_1": (-4.0, 0.0), "toe_2": (4.0, 0.0)}
    return _made(
        "bead", parts, marks, {"surface_1": 0.0, "back_1": -10.0}, values, np.concatenate([face, fusion[::-1]])
    )


def butt() -> Reading:
    """Face 9.0 mm wide and 1.2 mm high, root 4.0 mm wide and 0.8 mm proud, plates 8 mm thick."""
    face, root = _arc(4.5, 1.2), _arc(2.0, -0.8) - [0.0, 8.0]
    left = np.array([(-4.5, 0.0), (-3.2, -2.0), (-2.4, -5.0), (-2.0, -8.0)])
    right = left * [-1, 1]
    parts = {
        "weld_face": face,
        "root_face": root,
        "fusion_line_1": left,
        "fusion_line_2": right,
        "haz_edge_1": left - [1.7, 0],
        "haz_edge_2": right - [-1.7, 0],
        "surface_1": np.array([(-15.0, 0.0), (-4.5, 0.0)]),
        "surface_2": np.array([(4.5, 0.0), (15.0, 0.0)]),
        "back_1": np.array([(-15.0, -8.0), (-2.0, -8.0)]),
        "back_2": np.array([(2.0, -8.0), (15.0, -8.0)]),
    }
    values = {
        "weld_width": 9.0,
        "excess_weld_metal": 1.2,
        "root_width": 4.0,
        "excess_penetration": 0.8,
        "thickness_1": 8.0,
        "thickness_2": 8.0,
        "haz_width_1": 1.6,
        "haz_width_2": 1.6,
    }
    marks = {
        "toe_1": (-4.5, 0.0),
        "toe_2": (4.5, 0.0),
        "root_toe_1": (-2.0, -8.0),
        "root_toe_2": (2.0, -8.0),
        "joint_root": (0.0, -8.0),
    }
    lines = {"surface_1": 0.0, "surface_2": 0.0, "back_1": -8.0, "back_2": -8.0}
    weld = np.concatenate([face, right, root[::-1], left[::-1]])
    return _made("butt", parts, marks, lines, values, weld)


def turned(degrees: float) -> Reading:
    """The tee of `example`, mirrored left to right and then turned about the picture's middle."""
    made, middle = example.reading(), np.array([500.0, 400.0])
    angle = np.deg2rad(degrees)
    matrix = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]) @ np.diag([-1.0, 1.0])

    def move(points: np.ndarray) -> np.ndarray:
        return (points - middle) @ matrix.T + middle

    def move_line(fit: LineFit) -> LineFit:
        at, way = move(fit.line.anchor), matrix @ fit.line.direction
        return replace(fit, line=Line(x=float(at[0]), y=float(at[1]), heading=float(np.arctan2(way[1], way[0]))))

    old = made.outline
    return replace(
        made,
        outline=Outline(
            boundaries={name: replace(part, points=move(part.points)) for name, part in old.boundaries.items()},
            landmarks={name: replace(mark, point=move(mark.point)) for name, mark in old.landmarks.items()},
            lines={name: move_line(fit) for name, fit in old.lines.items()},
            weld=tuple(move(ring) for ring in old.weld),
        ),
    )


def nothing() -> Reading:
    """A picture in which no weld was found."""
    made = example.reading()
    why = Absent(reason="no weld metal was found in this picture")
    return replace(
        made, outline=Outline(boundaries={}, landmarks={}, lines={}), dimensions=dict.fromkeys(made.dimensions, why)
    )


def blank(width: int = 1000, height: int = 700, grey: int = 30000) -> Picture:
    """A picture of one grey."""
    return Picture(rgb=np.full((height, width, 3), grey, np.uint16))
