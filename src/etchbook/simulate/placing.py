"""Laying the joint's millimetres into the picture's pixels."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True, slots=True)
class Placing:
    """A similarity with a little tilt: where a millimetre point of the section lands.

    Parameters
    ----------
    px_per_mm : where `centre` [mm] lands, at `at` [px]
    turn : rotation [rad]; mirror : -1 or 1
    tilt : (2,) perspective [1/px]
    """

    px_per_mm: float
    turn: float
    mirror: int
    centre: Array
    at: Array
    tilt: Array

    def px(self, points: Array) -> Array:
        """(n, 2) mm to px."""
        off = (np.atleast_2d(points) - self.centre) * np.array([self.mirror, 1.0])
        c, s = np.cos(self.turn), np.sin(self.turn)
        flat = self.px_per_mm * np.stack([off[:, 0] * c - off[:, 1] * s, -(off[:, 0] * s + off[:, 1] * c)], axis=1)
        return np.asarray(flat / np.maximum(1 + flat @ self.tilt, 0.2)[:, None] + self.at)

    def mm(self, pixels: Array) -> Array:
        """(n, 2) px to mm, the way back."""
        flat = np.atleast_2d(pixels) - self.at
        flat = flat / (1 - flat @ self.tilt)[:, None] / self.px_per_mm
        c, s = np.cos(self.turn), np.sin(self.turn)
        off = np.stack([flat[:, 0] * c - flat[:, 1] * s, -(flat[:, 0] * s + flat[:, 1] * c)], axis=1)
        return np.asarray(off * np.array([self.mirror, 1.0]) + self.centre)

    def direction(self, vector: Array) -> Array:
        """A joint direction as a unit vector in the picture."""
        step = self.px(self.centre + 0.01 * np.asarray(vector)) - self.px(self.centre)
        return np.asarray(step[0] / np.hypot(*step[0]))

    def scale_at(self, point: Array) -> float:
        """Pixels per millimetre at a joint point: mean of two directions square to each other."""
        local = self.px(point + np.array([[-0.05, 0.0], [0.05, 0.0], [0.0, -0.05], [0.0, 0.05]]))
        return float(5 * (np.hypot(*(local[1] - local[0])) + np.hypot(*(local[3] - local[2]))))


def draw_placing(
    rng: np.random.Generator, family: str, weld: Array, size: tuple[int, int], level: float, px_per_mm: float | None
) -> Placing:
    """Put the section into the picture: mostly upright, sometimes on its side or anyhow; off centre; either hand."""
    width, height = size
    extent = float(np.ptp(weld, axis=0).max())
    share = float(np.exp(rng.uniform(np.log(0.13), np.log(0.8))))
    scale = px_per_mm or share * min(width, height) / extent
    lot = rng.uniform()
    turn = rng.normal(0, 0.07) if lot < 0.5 else rng.uniform(-np.pi, np.pi)
    turn = rng.choice([0.5, 1.0, 1.5]) * np.pi + rng.normal(0, 0.1) if 0.5 <= lot < 0.7 else turn
    if family in ("butt", "bead") and lot < 0.85:
        turn = rng.normal(0, 0.1) + (np.pi if rng.uniform() < 0.08 else 0.0)
    room = np.clip(np.array([width, height]) - 1.05 * scale * extent, 0, None) / 2
    at = np.array([width, height]) / 2 - 0.5 + np.clip(rng.normal(0, 0.4, 2), -0.9, 0.9) * room
    return Placing(
        px_per_mm=float(scale),
        turn=float(turn),
        mirror=int(rng.choice([-1, 1])),
        centre=weld.mean(axis=0),
        at=at,
        tilt=rng.normal(0, 1, 2) * 0.015 * level / max(width, height),
    )
