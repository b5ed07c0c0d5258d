"""The outline in the joint's own axes, ready to be measured. Unit: picture pixels."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import Line
from etchbook.section.strips import Array

P = ParamSpec("P")
T = TypeVar("T")
Planes = tuple[tuple[Line, Array], ...]
"""Lines and, for each, the unit normal out of the metal."""

NO_EDGES = (
    "the original groove faces melted away, and the preparation was not stated: give the root gap, the groove angle "
    "and the root face"
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Shape:
    """What the formulas of the dimensions work on.

    Parameters
    ----------
    family : tee, lap, corner, butt or bead
    face, fusion : (n, 2) from toe 1 to toe 2
    beside : (n,) 0, 1, 2: what lies outside each point of `fusion`
    toes : (2, 2)
    root : (2,) joint root, or None
    lines : surface_1, surface_2, back_1, back_2 where they were found
    outward : (2,) unit normal out of the metal, for each line's member ("1", "2")
    haz : (n, 2) HAZ edge for each member ("1", "2") where it was found
    rims : (n, 2) plate surface beside the toe for each toe ("1", "2"), from the toe outwards
    root_toes : (2, 2) toes of the root side of a butt weld, or None
    root_face : (n, 2) weld face of the root side, or None
    pore_area : px², or None when pores were not looked for
    root_u : standard uncertainty of a root that a person marked [px], None where nobody did
    edges : prepared edge of each member of a butt weld ("1", "2"): planes (line, unit normal out of the metal)
    no_edges : why there are none, where there are none
    found : what was worked out of it already
    """

    family: str
    face: Array
    fusion: Array
    beside: NDArray[np.intp]
    toes: Array
    root: Array | None
    lines: Mapping[str, Line]
    outward: Mapping[str, Array]
    haz: Mapping[str, Array]
    rims: Mapping[str, Array]
    root_toes: Array | None = None
    root_face: Array | None = None
    pore_area: float | None = None
    root_u: float | None = None
    edges: Mapping[str, Planes] = field(default_factory=dict)
    no_edges: str = NO_EDGES
    found: dict[Any, Any] = field(default_factory=dict, init=False, compare=False, repr=False)

    @property
    def weld(self) -> Array:
        """Closed contour of the weld metal, (n, 2)."""
        return np.concatenate([self.face, self.fusion[::-1]])

    def surface_of_toe(self, toe: str) -> str:
        """Name of the plate surface line that a toe lies on."""
        return "surface_1" if self.family == "bead" else f"surface_{toe}"

    def out_of_toe(self, toe: str) -> Array | None:
        """Unit normal out of the metal at the plate surface of a toe."""
        return self.outward.get("1" if self.family == "bead" else toe)

    def away_from_weld(self, toe: str) -> Array | None:
        """Unit vector along the plate surface of a toe, away from the weld."""
        line = self.lines.get(self.surface_of_toe(toe))
        if line is None:
            return None
        here, other = (self.toes[0], self.toes[1]) if toe == "1" else (self.toes[1], self.toes[0])
        direction = line.direction
        step = here - (self.root if self.root is not None and self.family in ("tee", "lap") else other)
        return direction if direction @ step >= 0 else -direction


def once(formula: Callable[Concatenate[Shape, P], T]) -> Callable[Concatenate[Shape, P], T]:
    """A formula that is worked out only once for a shape, since several dimensions rest on it."""

    @wraps(formula)
    def asked(shape: Shape, /, *args: P.args, **kwargs: P.kwargs) -> T:
        key = (formula, args)
        if key not in shape.found:
            shape.found[key] = formula(shape, *args, **kwargs)
        value: T = shape.found[key]
        return value

    return asked


def out_of(line: Line, face: Array, fusion: Array, *, before: bool) -> Array:
    """Unit normal of a plate surface line, out of the metal.

    Parameters
    ----------
    face, fusion : (n, 2) of the weld, from toe to toe
    before : whether the weld face stands before this surface, as a fillet's does; at a corner, a butt, a bead or
        the top of a lapped plate the fusion line lies behind it instead
    """
    side = face[len(face) // 2] - line.anchor if before else line.anchor - fusion[len(fusion) // 2]
    return line.normal if side @ line.normal > 0 else -line.normal
