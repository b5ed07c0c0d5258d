"""Straight lines."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """An endless directed line through `anchor` along the unit vector (cos, sin) of `heading`.

    Parameters
    ----------
    x, y : float
        A point on it.
    heading : float
        Direction [rad], measured from the x axis towards the y axis.
    """

    x: float
    y: float
    heading: float

    @property
    def direction(self) -> Points:
        """Unit vector along the line, (2,)."""
        return np.array([math.cos(self.heading), math.sin(self.heading)])

    @property
    def normal(self) -> Points:
        """Unit vector a quarter turn on from `direction` (from x towards y), (2,)."""
        return np.array([-math.sin(self.heading), math.cos(self.heading)])

    @property
    def anchor(self) -> Points:
        """The point on the line it was made from, (2,)."""
        return np.array([self.x, self.y])

    def along(self, points: Points) -> Points:
        """Coordinate of each of (n, 2) points along the line from `anchor`, (n,)."""
        return np.asarray((np.atleast_2d(points) - self.anchor) @ self.direction)

    def across(self, points: Points) -> Points:
        """Signed distance of each of (n, 2) points from the line, positive on the `normal` side, (n,)."""
        return np.asarray((np.atleast_2d(points) - self.anchor) @ self.normal)

    def at(self, along: float, across: float = 0.0) -> Points:
        """The point with these coordinates along and across the line, (2,)."""
        return np.asarray(self.anchor + along * self.direction + across * self.normal)


def through(first: Points, second: Points) -> Line:
    """The line from one point to another."""
    step = np.asarray(second, float) - np.asarray(first, float)
    if not np.hypot(*step) > 0:
        raise ValueError("a line needs two different points")
    return Line(x=float(first[0]), y=float(first[1]), heading=math.atan2(step[1], step[0]))


def crossing(first: Line, second: Line) -> Points | None:
    """Where two lines cross, (2,), or None when they are parallel."""
    matrix = np.stack([first.direction, -second.direction], axis=1)
    determinant = float(np.linalg.det(matrix))
    if abs(determinant) < 1e-9:
        return None
    steps = np.linalg.solve(matrix, second.anchor - first.anchor)
    return np.asarray(first.anchor + steps[0] * first.direction)


def angle_between(first: Points, second: Points) -> float:
    """Unsigned angle between two vectors, 0 to 180 [°]."""
    cosine = float(np.dot(first, second) / (np.linalg.norm(first) * np.linalg.norm(second)))
    return math.degrees(math.acos(max(-1.0, min(1.0, cosine))))
