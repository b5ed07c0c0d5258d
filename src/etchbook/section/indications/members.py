"""The members as bands of the picture: where each lies, and depth in it."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import Line, LineFit
from etchbook.section.records import HAZ, PLATE, Outline, Regions
from etchbook.terms import Family

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Member:
    """One plate in the picture [px].

    Parameters
    ----------
    name : member_1 or member_2
    surface, back : its two faces, as far as they are known; where only one is, it is the surface
    way, inward : (2,) unit vectors along it, and from the surface into the metal
    side : None, or a point and a direction: the member lies ahead of the point
    """

    name: str
    surface: LineFit
    back: LineFit | None
    way: Array
    inward: Array
    side: tuple[Array, Array] | None = None

    def depth(self, points: Array) -> Array:
        """Distance below the surface line, (n,)."""
        return _beyond(self.surface.line, points, self.inward)

    def height(self, points: Array) -> Array | None:
        """Distance from the far face, (n,), positive in the metal; None where that is not known."""
        return None if self.back is None else -_beyond(self.back.line, points, self.inward)

    @property
    def thickness(self) -> float | None:
        """About its middle [px]."""
        return None if self.back is None else abs(float(self.depth(self.back.line.anchor)[0]))

    def holds(self, points: Array) -> NDArray[np.bool_]:
        """Which points lie in its band."""
        good = self.depth(points) > 0
        height = self.height(points)
        if height is not None:
            good &= height > 0
        if self.side is not None:
            good &= (np.atleast_2d(points) - self.side[0]) @ self.side[1] > 0
        return np.asarray(good)


def _beyond(line: Line, points: Array, toward: Array) -> Array:
    across = line.across(points)
    return across if line.normal @ toward > 0 else -across


def members_of(outline: Outline, regions: Regions, family: Family) -> tuple[Member, ...]:
    """The members whose faces the outline knows."""
    found = []
    for number in ("1",) if family == "bead" else ("1", "2"):
        names = ("top_2", "back_2") if family == "lap" and number == "2" else (f"surface_{number}", f"back_{number}")
        member = _member(f"member_{number}", names, outline, regions, family)
        if member is not None:
            found.append(member)
    if family == "lap" and [member.name for member in found] == ["member_1"]:
        found.append(_on_top(found[0]))
    return tuple(found)


def _on_top(lower: Member) -> Member:
    """The upper plate of a lap of which no face was traced: it lies on the lower one and runs its way."""
    return Member(name="member_2", surface=lower.surface, back=None, way=lower.way, inward=-lower.inward)


def _member(name: str, names: tuple[str, str], outline: Outline, regions: Regions, family: Family) -> Member | None:
    first, second = (outline.lines.get(key) for key in names)
    if first is None:
        return None
    way = first.line.direction
    if second is not None and abs(np.sin(second.line.heading - first.line.heading)) > 0.1:
        second = None
    if second is not None:
        other = second.line.direction
        way = way + other if way @ other > 0 else way - other
        way = way / np.hypot(*way)
    inward = _inward(first, second, regions)
    return Member(
        name=name, surface=first, back=second, way=way, inward=inward, side=_side(name, outline.weld, way, family)
    )  # fmt: skip


def _inward(surface: LineFit, back: LineFit | None, regions: Regions) -> Array:
    """Into the metal: towards the far face, else to the side with more plate near by."""
    line = surface.line
    if back is not None:
        return line.normal if line.across(back.line.anchor)[0] > 0 else -line.normal
    labels = regions.labels
    reach = 0.05 * max(labels.shape) * regions.factor
    steps = np.linspace(-3 * reach, 3 * reach, 40)
    sides = []
    for sign in (1.0, -1.0):
        points = line.anchor + steps[:, None] * line.direction + sign * reach * line.normal
        sides.append(np.isin(labels_at(regions, points), (PLATE, HAZ)).sum())
    return line.normal if sides[0] >= sides[1] else -line.normal


def _side(name: str, weld: tuple[Array, ...], way: Array, family: Family) -> tuple[Array, Array] | None:
    """The members of a butt lie left and right of the weld's middle."""
    if family != "butt" or not weld:
        return None
    middle = weld[0].mean(axis=0)
    right = way if way[0] > 0 else -way
    return middle, right if name == "member_2" else -right


def labels_at(regions: Regions, points: Array) -> NDArray[np.uint8]:
    """Region of each place in the picture; 0 outside it."""
    height, width = regions.labels.shape
    column = np.floor((points[..., 0] + 0.5) / regions.factor).astype(np.intp)
    row = np.floor((points[..., 1] + 0.5) / regions.factor).astype(np.intp)
    inside = (column >= 0) & (column < width) & (row >= 0) & (row < height)
    found = regions.labels[np.clip(row, 0, height - 1), np.clip(column, 0, width - 1)]
    return np.where(inside, found, 0).astype(np.uint8)


def by_name(members: tuple[Member, ...]) -> Mapping[str, Member]:
    """Members by name."""
    return {member.name: member for member in members}
