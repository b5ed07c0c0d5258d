"""Hand-made readings: numbers only, no picture behind them."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from etchbook.joint import Joint
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section import Landmark, Outline, PictureFacts, Reading, Regions
from etchbook.terms import DIMENSIONS, dimensions_of


def measured(name: str, value: float, u: float) -> Measured:
    """A dimension in its own unit."""
    return Measured(value=value, u=u, unit=DIMENSIONS[name].unit)


def reading_of(
    family: str,
    values: Mapping[str, tuple[float, float]],
    *,
    toes: tuple[tuple[float, float], tuple[float, float]] | None = ((0.0, 240.0), (320.0, 0.0)),
    scale: Scale | NoScale | None = None,
    **joint: Any,
) -> Reading:
    """A reading with these values (value, u); every other dimension of the family is absent."""
    dimensions: dict[str, Quantity] = {
        term.id: Absent(reason="it was left out of this example") for term in dimensions_of(family)
    }
    dimensions.update({name: measured(name, *pair) for name, pair in values.items()})
    names = ("toe_1", "toe_2")
    marks = (
        {}
        if toes is None
        else {
            name: Landmark(point=np.array(toe), covariance=np.zeros((2, 2)))
            for name, toe in zip(names, toes, strict=True)
        }
    )
    return Reading(
        joint=Joint(family=family, **joint),
        scale=scale or Scale(px_per_mm=40.0, u=0.0, origin="given"),
        picture=PictureFacts(sha256="", name="example", width=400, height=300),
        regions=Regions(labels=np.zeros((3, 4), np.uint8), factor=100.0),
        outline=Outline(boundaries={}, landmarks=marks, lines={}),
        dimensions=dimensions,
    )
