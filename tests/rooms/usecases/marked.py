"""Readings with indications of round figures, made by hand."""

from dataclasses import replace

import numpy as np

from etchbook.joint import Joint
from etchbook.picture import Scale
from etchbook.quantity import Measured
from etchbook.section import Indication, Landmark, Outline, PictureFacts, Reading, Regions
from etchbook.section.records import Meeting


def mm(value: float, u: float = 0.01, unit: str = "mm") -> Measured:
    """A measured value."""
    return Measured(value=value, u=u, unit=unit)


def plate_line(**changes: object) -> Indication:
    """A line at mid-thickness of member 1, parallel to its face, that stops at the fusion line."""
    line = Indication(
        where="member_1",
        name="a",
        length=mm(20.0),
        width=mm(0.1),
        points=np.array([[10.0, 100.0], [400.0, 101.0]]),
        pieces=((0, 1),),
        depth_fraction=mm(0.5, 0.005, ""),
        angle_to_surface=mm(0.2, 0.2, "°"),
        straightness=mm(0.01, 0.002),
        fusion_distance=mm(0.0, 0.05),
        continuity=mm(0.8, 0.02, ""),
        contrast=mm(0.3, 0.02, ""),
        edge_rise=mm(6.0, 0.3, "px"),
        sharpest_rise=mm(2.0, 0.1, "px"),
        meets=Meeting(haz="passes", fusion="stops", scratch_angle=mm(40.0, 1.0, "°")),
    )
    return replace(line, **changes)  # type: ignore[arg-type]


def reading_with(*indications: Indication, family: str = "tee", **dimensions: Measured) -> Reading:
    """A reading that holds these indications; toes at (100, 0) and (200, 0)."""
    toes = {
        name: Landmark(point=np.array([x, 0.0]), covariance=np.zeros((2, 2)))
        for name, x in (("toe_1", 100.0), ("toe_2", 200.0))
    }
    return Reading(
        joint=Joint(family=family),  # type: ignore[arg-type]
        scale=Scale(px_per_mm=40.0, u=0.1, origin="given"),
        picture=PictureFacts(sha256="ab" * 32, name="plate.jpg", width=500, height=300),
        regions=Regions(labels=np.zeros((0, 0), np.uint8), factor=1.0),
        outline=Outline(boundaries={}, landmarks=toes, lines={}),
        dimensions=dimensions,
        indications=indications,
    )
