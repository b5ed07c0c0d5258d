"""Values that no section has: a sign that a plate line or a toe was put in the wrong place."""

from collections.abc import Mapping

import numpy as np

from etchbook.section.shape import Shape

Value = float | str

ON_LEGS = ("leg_1", "leg_2", "nominal_throat", "theoretical_throat", "deep_throat", "asymmetry")
WRONG_LEG = "the legs found do not fit the weld between the toes; a plate surface line or a toe is in the wrong place"
WRONG_PLATE = "the two surfaces found lie too close together to be the two sides of the plate"
WRONG_DEPTH = "the outline found is far deeper than it is wide; a toe is in the wrong place"


def plausible(found: Mapping[str, Value], shape: Shape) -> dict[str, Value]:
    """The values, with a reason in place of those that cannot be (bounds are planning values, common practice)."""
    chord = float(np.hypot(*(shape.toes[1] - shape.toes[0])))
    kept = dict(found)
    for name in ("thickness_1", "thickness_2"):
        if _outside(kept.get(name), 0.08 * chord, np.inf):
            kept[name] = WRONG_PLATE
    if any(_outside(kept.get(name), 0.15 * chord, 1.7 * chord) for name in ("leg_1", "leg_2")):
        kept |= {name: WRONG_LEG for name in ON_LEGS if name in kept}
    if _outside(kept.get("depth_to_width"), 0.0, 4.0):
        kept |= {name: WRONG_DEPTH for name in ("depth_to_width", "weld_width") if name in kept}
    return kept


def _outside(value: Value | None, low: float, high: float) -> bool:
    return isinstance(value, float) and not low <= value <= high
