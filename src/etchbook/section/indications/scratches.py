"""Scratches as a population: many straight ridges, dark and light, of one direction, that cross every boundary."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.quantity import Measured, Quantity
from etchbook.section.indications.ridges import Ridge
from etchbook.section.indications.scene import Scene
from etchbook.section.records import NO_SCRATCHES, WELD

Array = NDArray[np.float64]
SPREAD = 4.0
"""Half width of a population in direction [°]."""
FEWEST = 6
APART = 12.0
"""Ridges nearer than this across their direction may be one line with its rims [px]."""
LEAST_LIGHT = 0.2
"""Of a population's ridges so many are light (or dark) at least: a scratch is either, as the light falls."""
ALONG_PLATE = 2.0
"""A population this near to the plate's direction is only told from rolled grain where it crosses the weld [°]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Population:
    """Scratches of one direction.

    Parameters
    ----------
    angle : of the population in the picture, 0 to 180 [°]; spread : standard deviation [°]
    count : ridges that belong to it; strength : of all but its strongest tenth
    """

    angle: float
    spread: float
    count: int
    strength: float


def populations(scene: Scene, ridges: Sequence[Ridge]) -> tuple[Population, ...]:
    """The directions in which many scratches run."""
    straight = [one for one in ridges if _straight(one)]
    found: list[Population] = []
    angles = np.array([direction(one.way) for one in straight])
    free = np.ones(len(straight), bool)
    while free.sum() >= FEWEST:
        near = np.array([(_apart(angles, angle) < SPREAD) & free for angle in angles[free]])
        best = near[int(near.sum(axis=1).argmax())]
        if best.sum() < FEWEST:
            break
        group = [straight[k] for k in np.nonzero(best)[0]]
        if _scratched(scene, group):
            found.append(_population(group))
        free &= ~best
    return tuple(found)


def direction(way: Array) -> float:
    """Direction of a line, 0 to 180 [°]."""
    return float(np.degrees(np.arctan2(way[1], way[0])) % 180.0)


def _apart(angles: Array, angle: float) -> Array:
    gap = np.abs(angles - angle) % 180.0
    return np.asarray(np.minimum(gap, 180.0 - gap))


def _straight(one: Ridge) -> bool:
    return one.length > 30 and one.breadth < 0.04 * one.length


def _scratched(scene: Scene, group: list[Ridge]) -> bool:
    """Whether a group of one direction is of both signs, and is no grain of the plate or of the weld."""
    if _apart_lines(group) < FEWEST:
        return False
    light = float(np.mean([one.sign < 0 for one in group]))
    if not LEAST_LIGHT <= light <= 1 - LEAST_LIGHT:
        return False
    weld = np.array([float((scene.label(one.points) == WELD).mean()) for one in group])
    crossing = int(((weld > 0.1) & (weld < 0.9)).sum())
    if (weld > 0.9).mean() > 0.7:
        return False
    angle = _population(group).angle
    plates = [_apart(np.array([direction(member.way)]), angle)[0] for member in scene.members]
    return crossing >= 2 or min(plates, default=90.0) > ALONG_PLATE


def _apart_lines(group: list[Ridge]) -> int:
    """How many different lines the ridges lie on: the pieces of one line and its light rims are no population."""
    way = group[0].way
    off = np.sort([float(one.middle @ np.array([-way[1], way[0]])) for one in group])
    return 1 + int((np.diff(off) > APART).sum())


def _population(group: list[Ridge]) -> Population:
    doubled = np.radians([2 * direction(one.way) for one in group])
    mean = np.exp(1j * doubled).mean()
    angle = float(np.degrees(np.angle(mean)) / 2 % 180.0)
    off = _apart(np.array([direction(one.way) for one in group]), angle)
    strengths = np.array([one.strength for one in group])
    return Population(
        angle=angle, spread=float(np.sqrt((off**2).mean())), count=len(group),
        strength=float(np.quantile(strengths, 0.9)),
    )  # fmt: skip


def nearest_angle(found: Sequence[Population], way: Array) -> Quantity:
    """Angle between a line and the nearest population [°]."""
    if not found:
        return NO_SCRATCHES
    own = direction(way)
    gaps = [(float(_apart(np.array([one.angle]), own)[0]), one) for one in found]
    gap, one = min(gaps, key=lambda each: each[0])
    return Measured(value=gap, u=float(max(one.spread / np.sqrt(one.count), 0.1)), unit="°")
