"""The preparation of a butt joint laid on its section, so that what was melted of the plates can be told."""

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from etchbook.geometry import Line
from etchbook.joint import Groove
from etchbook.picture import NoScale, Scale
from etchbook.section.shape import NO_EDGES, Planes, Shape
from etchbook.section.strips import Array

LACKING = "the preparation of the joint is stated without {}"
NO_PLATES = "the preparation cannot be laid on the section, because the {} of member {} was not found"
TOO_WIDE = (
    "the stated preparation is wider than the weld by {:.1f} mm; an edge was not melted, or the preparation is another "
    "one, or the outline is wrong"
)
BINS = 24
NEAR = 10.0
"""Share of the heights at which an edge may stand closer to the fusion line than it is taken to [%]: the trace's noise
and the rounding at the toes and the root; a planning value, common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Sizes:
    """A preparation in pixels, its bevels as slopes, by member."""

    gap: float
    root_face: float
    slopes: tuple[float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Side:
    """A member's own axes: its root-side line, up (to the weld face) and away (from the other member)."""

    back: Line
    up: Array
    away: Array


def prepared(
    shape: Shape, groove: Groove | None, scale: Scale | NoScale, generator: np.random.Generator | None = None
) -> Shape:
    """The shape with the prepared edges of its members, or with the reason why they cannot be drawn.

    Where the groove stood along the plates no section shows: it lies where both its edges are inside the weld metal,
    and within that any place is taken as equally likely, unless the joint root was marked.

    Parameters
    ----------
    shape : of a butt weld; other joints come back as they are
    generator : draws sizes and place as they might have been; None lays the stated sizes in the middle
    """
    if shape.family != "butt":
        return shape
    edges = _edges(shape, groove, scale, generator)
    return replace(shape, no_edges=edges) if isinstance(edges, str) else replace(shape, edges=edges)


def _edges(
    shape: Shape, groove: Groove | None, scale: Scale | NoScale, generator: np.random.Generator | None
) -> dict[str, Planes] | str:
    if groove is None:
        return NO_EDGES
    if groove.lacking:
        return LACKING.format(groove.lacking)
    if isinstance(scale, NoScale):
        return f"there is no scale: {scale.reason}"
    sides = _sides(shape)
    if isinstance(sides, str):
        return sides
    sizes = _sizes(groove, scale.px_per_mm, generator)
    if shape.root is not None and shape.root_u is not None:
        slip = 0.0 if generator is None else shape.root_u * float(generator.normal())
        place = shape.root + slip * sides[1].away
    else:
        start = _on_back(sides[0], shape.toes.mean(axis=0))
        room = [_room(shape, side, start, sizes, member) for member, side in enumerate(sides, start=1)]
        if generator is None and -sum(room) > _tolerated(groove, shape, sides, scale.px_per_mm):
            return TOO_WIDE.format(-sum(room) / scale.px_per_mm)
        # From where edge 1 touches its fusion line to where edge 2 touches the other.
        share = 0.5 if generator is None else float(generator.uniform())
        place = start + (room[1] * share - room[0] * (1 - share)) * sides[1].away
    return {str(k): _edge(sides[k - 1], place, sizes, k) for k in (1, 2)}


def _sizes(groove: Groove, px_per_mm: float, generator: np.random.Generator | None) -> _Sizes:
    def size(name: str) -> float:
        value = float(getattr(groove, name) or 0.0)
        return value if generator is None else value + groove.u(name) * float(generator.normal())

    angle = size("angle") if groove.angle else 0.0
    turned = angle / groove.angle if groove.angle else 0.0
    slopes = [float(np.tan(np.radians(np.clip(groove.bevel(k) * turned, 0.0, 80.0)))) for k in (1, 2)]
    gap, root_face = max(0.0, size("gap")), max(0.0, size("root_face"))
    return _Sizes(gap=gap * px_per_mm, root_face=root_face * px_per_mm, slopes=(slopes[0], slopes[1]))


def _sides(shape: Shape) -> tuple[_Side, _Side] | str:
    sides = []
    for member, other in ((0, 1), (1, 0)):
        back = shape.lines.get(f"back_{member + 1}")
        for name, words in (("surface", "plate surface"), ("back", "root-side surface")):
            if f"{name}_{member + 1}" not in shape.lines:
                return NO_PLATES.format(words, member + 1)
        assert back is not None
        up = back.normal * np.sign(back.normal @ shape.outward["1"])
        away = back.direction * np.sign(back.direction @ (shape.toes[member] - shape.toes[other]))
        sides.append(_Side(back=back, up=up, away=away))
    return sides[0], sides[1]


def _edge(side: _Side, place: Array, sizes: _Sizes, member: int) -> Planes:
    """The planes of one edge, the groove's axis standing at `place`."""
    slope = sizes.slopes[member - 1]
    foot = _on_back(side, place) + sizes.gap / 2 * side.away
    planes = [(_line(foot, side.up), -side.away)]
    if slope > 0:
        turn = float(np.arctan(slope))
        knee = foot + sizes.root_face * side.up
        rising = np.cos(turn) * side.up + np.sin(turn) * side.away
        planes.append((_line(knee, rising), np.sin(turn) * side.up - np.cos(turn) * side.away))
    return tuple(planes)


def _line(point: Array, direction: Array) -> Line:
    return Line(x=float(point[0]), y=float(point[1]), heading=float(np.arctan2(direction[1], direction[0])))


def _on_back(side: _Side, place: Array) -> Array:
    return side.back.at(float(side.back.along(place)[0]))


def _room(shape: Shape, side: _Side, place: Array, sizes: _Sizes, member: int) -> float:
    """How far an edge may be moved away from the axis until it touches the fusion line of its member [px]."""
    points = shape.fusion[shape.beside == member]
    if len(points) < 3:
        return 0.0
    off = points - _on_back(side, place)
    high = off @ side.up
    slope = sizes.slopes[member - 1]
    depth = off @ side.away - sizes.gap / 2 - slope * np.maximum(high - sizes.root_face, 0.0)
    whole = shape.root_face is not None
    low, top = high.min() + (0.05 if whole else 0.25) * np.ptp(high), high.max() - 0.05 * np.ptp(high)
    steps = np.linspace(low, top, BINS + 1)
    found = [depth[(high >= a) & (high <= b)] for a, b in pairwise(steps)]
    return float(np.percentile([np.median(part) for part in found if len(part)] or [0.0], NEAR))


def _tolerated(groove: Groove, shape: Shape, sides: tuple[_Side, _Side], px_per_mm: float) -> float:
    """By how much the preparation may seem too wide before it is not believed [px]: twice its own u."""
    high = max(float((shape.toes[k] - _on_back(side, shape.toes[k])) @ side.up) for k, side in enumerate(sides))
    turned = np.radians(groove.u("angle")) * high / max(np.cos(np.radians((groove.angle or 0.0) / 2)), 0.3) ** 2
    lower = groove.u("root_face") * np.tan(np.radians((groove.angle or 0.0) / 2)) * 2
    return float(2 * np.hypot(np.hypot(groove.u("gap"), lower) * px_per_mm, turned) + 4.0)
