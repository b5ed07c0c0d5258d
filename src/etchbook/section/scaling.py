"""The scale from something known in the section itself."""

from dataclasses import dataclass

import numpy as np

from etchbook.picture import NoScale, Scale
from etchbook.section.dimensions import values
from etchbook.section.draft import Draft
from etchbook.section.measuring import shape_of
from etchbook.terms import Family


@dataclass(frozen=True, kw_only=True, slots=True)
class KnownThickness:
    """A request: the scale follows from a plate thickness that was measured on the piece.

    Parameters
    ----------
    member : 1 or 2
    mm : thickness [mm]
    u_mm : its standard uncertainty [mm]; a caliper reading, 0.03 mm, common practice
    """

    member: int
    mm: float
    u_mm: float = 0.03


def scale_from(known: KnownThickness, draft: Draft | None, family: Family) -> Scale | NoScale:
    """Pixels per millimetre from the distance between the two surfaces of a member."""
    name = f"thickness_{known.member}"
    if draft is None:
        return NoScale(reason="no section was found whose plate thickness could give it")
    found = values(shape_of(draft), family).get(name, f"a {family} has no member {known.member}")
    if isinstance(found, str):
        return NoScale(reason=f"{name} was to give it, but {found}")
    near = draft.lines[f"surface_{known.member}" if f"surface_{known.member}" in draft.lines else "surface_1"]
    far = draft.lines[f"back_{known.member}"]
    u_px = float(np.hypot(near.u_shift, far.u_shift))
    relative = float(np.hypot(known.u_mm / known.mm, u_px / found))
    px_per_mm = found / known.mm
    return Scale(px_per_mm=px_per_mm, u=px_per_mm * relative, origin=f"{name}={known.mm:g}")
