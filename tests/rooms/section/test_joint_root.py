"""The joint root of a butt lies halfway between the root edges, also where the plates are offset (../measures)."""

import numpy as np

from etchbook.geometry import Line, LineFit
from etchbook.section.draft import Draft, ToeFit
from etchbook.section.edges import Trace
from etchbook.section.measuring import shape_of


def _trace(points: list[list[float]]) -> Trace:
    count = len(points)
    return Trace(points=np.array(points, float), sd=np.ones(count), clarity=np.full(count, 9.0), blur=1.0)


def _level(y: float) -> LineFit:
    return LineFit(line=Line(x=0.0, y=y, heading=0.0), u_shift=0.1, u_turn=0.0, rms=0.1, used=50)


def _butt(backs: dict[str, float]) -> Draft:
    lines = {"surface_1": _level(0.0), "surface_2": _level(0.0)} | {name: _level(y) for name, y in backs.items()}
    toes = tuple(ToeFit(point=np.array([x, 0.0]), u_along=1.0, u_across=0.1) for x in (40.0, 60.0))
    return Draft(
        family="butt",
        face=_trace([[40, 0], [50, -5], [60, 0]]),
        fusion=_trace([[40, 0], [45, 100], [55, 110], [60, 0]]),
        beside=np.array([1, 1, 2, 2]),
        toes=(toes[0], toes[1]),
        rims={},
        lines=lines,
        haz={},
        root_face=None,
        pores=None,
        sharpness=1.0,
        pixel=1.0,
    )


def test_offset_plates_have_their_root_halfway() -> None:
    assert np.allclose(shape_of(_butt({"back_1": 100.0, "back_2": 112.0})).root, [50.0, 106.0])


def test_one_known_back_is_what_there_is() -> None:
    assert np.allclose(shape_of(_butt({"back_1": 100.0})).root, [50.0, 100.0])
    assert shape_of(_butt({})).root is None
