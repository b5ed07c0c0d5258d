"""Bead on plate: dish, finger or keyhole below, low or tall above."""

import numpy as np

from etchbook.simulate.cases import Case, Dice, Plane, beside_of, haz_widths, pores_in, reach_of
from etchbook.simulate.curves import Array, bulged, pool, waves
from etchbook.simulate.fillets import Toes, X, Y, deepened_at, grooves_wanted, toed


def bead(dice: Dice) -> Case:
    """A bead on one plate, surface at y = 0."""
    rng = dice.rng
    width = dice.spread("width", 1.6, 16)
    ratio = float(np.exp(rng.uniform(np.log(0.12), np.log(0.75)))) if dice.lot(0.75) else float(rng.uniform(0.7, 1.8))
    depth = float(dice.given.get("depth", ratio * width))
    height = dice.size("height", 0.02, 0.45, unit=width)
    t1 = float(dice.given.get("thickness_1", np.clip(depth * rng.uniform(1.12, 5), 2, 25)))
    t1 = max(t1, 1.08 * depth)
    a, b = -0.5 * width * X, 0.5 * width * X
    fusion = _fusion(dice, width, depth)
    toes: Toes = ((a, -X, Y), (b, X, Y))
    cuts = grooves_wanted(dice, width)
    fusion = deepened_at(toes, fusion, cuts, width)
    face, extra = toed(
        dice,
        toes,
        bulged(rng, a, b, height, dice.size("skew", -0.4, 0.4), Y),
        fusion,
        width,
        cuts,
    )
    long1, long2 = max(reach_of(dice), 1.2 * width), max(reach_of(dice), 1.2 * width)
    plate = np.array([[-long1, 0], [long2, 0], [long2, -t1], [-long1, -t1]])
    lines: dict[str, Plane] = {
        "surface_1": (a, X, Y), "back_1": (np.array([0.0, -t1]), X, -Y), "toe_1": toes[0], "toe_2": toes[1],
    }  # fmt: skip
    beside = beside_of(fusion, (plate,))
    size = 0.5 * (width + depth)
    return Case(
        family="bead", face=face, fusion=fusion, beside=beside, haz=haz_widths(dice, fusion, size),
        members=(plate,),        lines=lines, root=np.zeros(2), pores=pores_in(dice, face, fusion),
        sizes={"thickness_1": t1, "width": width, "height": height, "depth": depth, **extra},
    )  # fmt: skip


def _fusion(dice: Dice, width: float, depth: float) -> Array:
    rng = dice.rng
    narrow = depth > 0.65 * width
    finger = float(rng.uniform(0.3, 0.95) if narrow else rng.uniform(0.2, 0.8)) if dice.lot(0.7) else 0.0
    shoulder = float(rng.uniform(0.2, 0.7)) if finger > 0 else 1.0
    power = float(rng.uniform(1.2, 3.0))
    count = 260
    wave = dice.size("wave", 0.0, min(0.08, 0.01 * width))
    lean, shift = float(rng.normal(0, 0.05)) * width, float(rng.normal(0, 0.03)) * width
    sides: list[Array] = []

    def side_shoulder(share: float) -> float:
        return share if finger == 0 else float(np.clip(share * rng.uniform(0.85, 1.15), 0.15, 1))

    for sign in (-1.0, 1.0):
        v, half = pool(count, finger, side_shoulder(shoulder), power)
        x = sign * half * (width / 2 + waves(rng, count, wave)) + lean * v + shift * np.sin(np.pi * v)
        sides.append(np.stack([x, -depth * v], axis=1))
    nose = (sides[0][-1] + sides[1][-1]) / 2
    return np.concatenate([sides[0][:-1], [nose], sides[1][-2::-1]])
