"""Overlap: the toe goes to where fusion begins, and the unfused run becomes the underside of the face."""

import numpy as np

from etchbook.geometry import Line, LineFit
from etchbook.section.draft import ToeFit
from etchbook.section.edges import Trace
from etchbook.section.overlapping import with_overlaps

OUT = np.array([0.0, -1.0])
PLATE = LineFit(line=Line(x=0.0, y=0.0, heading=0.0), u_shift=0.1, u_turn=0.0, rms=0.2, used=100)


def _trace(points: np.ndarray) -> Trace:
    count = len(points)
    return Trace(points=points, sd=np.full(count, 0.5), clarity=np.full(count, 20.0), blur=1.0)


def _toe(x: float) -> ToeFit:
    return ToeFit(point=np.array([x, 0.0]), u_along=1.0, u_across=0.2)


def _read(lapped: float) -> tuple[Trace, Trace, tuple[ToeFit, ToeFit]]:
    """A bead 400 px wide whose fusion line runs level for so many pixels before it dives at 45 degrees."""
    angle = np.linspace(np.pi, 0.0, 300)
    face = np.stack([200 + 200 * np.cos(angle), -120 * np.sin(angle)], axis=1)
    x = np.linspace(0.0, 400.0, 400)
    depth = np.minimum(np.clip(x - lapped, 0, None), np.clip(400 - x, 0, None))
    fusion = np.stack([x, np.minimum(depth, 150.0)], axis=1)
    surface = (PLATE, OUT)
    got = with_overlaps(
        _trace(face), _trace(fusion), np.ones(400, np.intp), (_toe(0.0), _toe(400.0)), (surface, surface), 4.0
    )
    assert len(got[1].points) == len(got[2]) == len(got[1].sd)
    return got[0], got[1], got[3]


def test_the_toe_moves_to_where_the_fusion_line_begins_to_dive() -> None:
    face, fusion, toes = _read(60.0)
    assert abs(toes[0].point[0] - 60.0) < 5.0
    assert toes[0].u_along >= 8.0
    assert np.allclose(face.points[0], toes[0].point)
    assert np.allclose(fusion.points[0], toes[0].point)
    assert np.allclose(toes[1].point, [400.0, 0.0])


def test_the_face_goes_out_along_the_plate_and_back_over_the_lap() -> None:
    face, _, _ = _read(60.0)
    assert abs(face.points[:, 0].min()) < 1.0
    assert face.points[np.argmin(face.points[:, 0]), 1] <= 0.0
    assert len(face.points) == len(face.sd) == len(face.clarity)


def test_a_toe_fused_from_the_start_stays() -> None:
    face, fusion, toes = _read(0.0)
    assert np.allclose(toes[0].point, [0.0, 0.0])
    assert len(face.points) == 300
    assert len(fusion.points) == 400


def test_the_other_toe_is_read_the_other_way_round() -> None:
    angle = np.linspace(np.pi, 0.0, 300)
    face = np.stack([200 + 200 * np.cos(angle), -120 * np.sin(angle)], axis=1)
    x = np.linspace(0.0, 400.0, 400)
    fusion = np.stack([x, np.minimum(np.minimum(x, np.clip(340 - x, 0, None)), 150.0)], axis=1)
    got = with_overlaps(
        _trace(face), _trace(fusion), np.ones(400, np.intp), (_toe(0.0), _toe(400.0)), (None, (PLATE, OUT)), 4.0
    )
    assert abs(got[3][1].point[0] - 340.0) < 5.0
    assert np.allclose(got[0].points[-1], got[3][1].point)
    assert np.allclose(got[1].points[-1], got[3][1].point)
    assert got[0].points[:, 0].max() > 399.0
