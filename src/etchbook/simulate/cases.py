"""Invented sections: members, weld and HAZ in mm in the joint's own frame (x right, y up)."""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import contains
from etchbook.simulate.curves import Array, dense, waves
from etchbook.terms import Family

Plane = tuple[Array, Array, Array]
"""A point on a plate line, a unit direction along it, a unit normal out of the metal."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One section before it is painted, in mm.

    Parameters
    ----------
    face, fusion : (n, 2) from toe 1 to toe 2
    beside : (n,) member that lies outside each fusion point, 0 for none (gap, missed root, root bead)
    haz : (n,) width of the HAZ outside each fusion point
    members : closed original outlines
    lines : surface_1, back_1, surface_2, back_2 by name; toe_1, toe_2 the surface at each toe, away from the weld
    root : joint root; for a bead the middle between its toes
    pores : closed contours
    root_face : (n, 2) root side of a butt weld, or None
    slits : closed contours of the faying line and the like, not fused
    second : a smaller weld on the other side that is not read, or None
    sizes : what was drawn, for the recipe
    """

    family: Family
    face: Array
    fusion: Array
    beside: NDArray[np.intp]
    haz: Array
    members: tuple[Array, ...]
    lines: dict[str, Plane]
    root: Array
    pores: tuple[Array, ...] = ()
    root_face: Array | None = None
    slits: tuple[Array, ...] = ()
    second: "Case | None" = None
    sizes: dict[str, float] = field(default_factory=dict)

    @property
    def weld(self) -> Array:
        """Closed contour of the weld metal."""
        return np.concatenate([self.face, self.fusion[-2:0:-1]])


class Dice:
    """Random sizes that can be held by name."""

    def __init__(self, rng: np.random.Generator, given: dict[str, float]) -> None:
        self.rng, self.given = rng, given

    def size(self, name: str, low: float, high: float, *, unit: float = 1.0, chance: float = 1.0) -> float:
        """As given [mm], else uniform between two shares of `unit` with some chance, else 0."""
        value, lot = float(self.rng.uniform(low, high)) * unit, float(self.rng.uniform())
        return float(self.given.get(name, value if lot < chance else 0.0))

    def spread(self, name: str, low: float, high: float) -> float:
        """As given, else evenly spread over the logarithm."""
        value = float(np.exp(self.rng.uniform(np.log(low), np.log(high))))
        return float(self.given.get(name, value))

    def lot(self, chance: float) -> bool:
        """True with this chance."""
        return bool(self.rng.uniform() < chance)


Maker = Callable[[Dice], Case]


def beside_of(fusion: Array, members: tuple[Array, ...]) -> NDArray[np.intp]:
    """Which member each fusion point lies in; the ends take their neighbours' answer."""
    found = np.zeros(len(fusion), np.intp)
    for number, member in enumerate(members, 1):
        found[contains(member, fusion)] = number
    inner = np.nonzero(found)[0]
    found[: inner[0]], found[inner[-1] + 1 :] = found[inner[0]], found[inner[-1]]
    return found


def haz_widths(dice: Dice, fusion: Array, size: float) -> Array:
    """Width of the HAZ along the fusion line: slowly varying."""
    rng = dice.rng
    width = float(dice.given.get("haz", np.clip(np.exp(rng.uniform(np.log(0.05), np.log(0.32))) * size, 0.3, 4.0)))
    u = np.linspace(0, 1, len(fusion))
    vary = 1 + rng.uniform(0, 0.28) * np.sin(2 * np.pi * (rng.uniform(0.3, 1.4) * u + rng.uniform()))
    vary = vary * (1 + rng.uniform(-0.4, 0.4) * (u - 0.5)) + waves(rng, len(u), rng.uniform(0, 0.04), 10, 30)
    return np.asarray(width * np.clip(vary, 0.35, 2.0))


def pores_in(dice: Dice, face: Array, fusion: Array) -> tuple[Array, ...]:
    """Round to slightly lumpy pores well inside the weld."""
    rng = dice.rng
    count = int(dice.given.get("pores", rng.integers(1, 9) if dice.lot(0.25) else 0))
    size = float(np.ptp(np.concatenate([face, fusion]), axis=0).max())
    edge = np.concatenate([dense(face, 300), dense(fusion, 300)])
    found: list[Array] = []
    for _ in range(40 * count):
        if len(found) == count:
            break
        share, k = rng.uniform(0.15, 0.85), int(rng.integers(20, 280))
        middle = edge[k] + share * (edge[300 + k] - edge[k])
        room = float(np.hypot(*(edge - middle).T).min())
        radius = float(size * np.exp(rng.uniform(np.log(0.006), np.log(0.07))))
        clear = all(np.hypot(*(other - middle).T).min() > 1.4 * radius for other in found)
        if radius < 0.8 * room and clear and contains(np.concatenate([face, fusion[::-1]]), middle)[0]:
            turn = np.linspace(0, 2 * np.pi, 72, endpoint=False)
            lump = radius * (1 + rng.uniform(0, 0.15) * np.cos(2 * turn + rng.uniform(0, 6)))
            found.append(middle + lump[:, None] * np.stack([np.cos(turn), np.sin(turn)], axis=1))
    return tuple(found)


def reach_of(dice: Dice) -> float:
    """How far a plate goes on [mm]: mostly out of any picture, sometimes to a sawn end."""
    return 400.0 if dice.lot(0.6) else float(dice.rng.uniform(6, 45))


def draw_case(family: Family, seed: int, **given: float) -> Case:
    """Invent a section of this family; sizes given by name [mm, °] replace the random ones.

    Names: thickness_1, thickness_2, leg_1, leg_2, bulge (convexity about), skew, depth_1, depth_2, finger,
    root (negative: missed by this much), gap, undercut_1, undercut_2, overlap_1, overlap_2, haz, wave, pores (count),
    angle (tee), second (tee: size of the other side's fillet, share), width, height, depth (bead), root_gap, root_face,
    vee (included angle, 0 for square), root_bead, fused (1 or 0: through to the root), misalignment (butt).
    """
    from etchbook.simulate import beads, fillets, grooves  # each maker imports this module's records

    makers: dict[str, Maker] = {
        "tee": fillets.tee,
        "lap": fillets.lap,
        "corner": fillets.corner,
        "butt": grooves.butt,
        "bead": beads.bead,
    }
    return makers[family](Dice(np.random.default_rng([seed, 71]), dict(given)))
