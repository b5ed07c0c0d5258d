"""Butt welds, single sided, square or V: root side at y = 0, face side at y = t."""

import numpy as np
from scipy.interpolate import PchipInterpolator

from etchbook.simulate.cases import Case, Dice, Plane, beside_of, haz_widths, pores_in, reach_of
from etchbook.simulate.curves import Array, bulged, waves
from etchbook.simulate.fillets import Toes, X, Y, deepened_at, grooves_wanted, toed


def butt(dice: Dice) -> Case:
    """A butt weld: fused through with a flush, proud or hollow root, or with its root left open."""
    rng = dice.rng
    t1 = dice.spread("thickness_1", 2, 18)
    t2 = float(dice.given.get("thickness_2", t1 * (1.0 if dice.lot(0.75) else rng.uniform(0.8, 1.25))))
    off = dice.size("misalignment", -0.15, 0.15, unit=t1, chance=0.4)
    vee = float(dice.given.get("vee", rng.uniform(40, 75) if dice.lot(0.55) and t1 > 3 else 0.0))
    land = dice.size("root_face", 0.0, min(2.0, 0.4 * t1)) if vee > 0 else max(t1, t2)
    gap = dice.size("root_gap", 0.0, 0.22 if vee == 0 else 0.3, unit=min(t1, 9), chance=0.75)
    slope = float(np.tan(np.radians(vee / 2)))
    edges = [gap / 2 + slope * max(t - land, 0.0) for t in (t1, t2)]
    more = rng.uniform(0.12, 0.45) * t1 + 0.4
    w1, w2 = (edge + more * rng.uniform(0.75, 1.25) for edge in edges)
    a, b = np.array([-w1, t1]), np.array([w2, off + t2])
    size = w1 + w2
    through = bool(dice.given.get("fused", dice.lot(0.75)))
    fusion, root_face = _walls(dice, (t1, t2), off, (w1, w2), gap, land, slope, through)
    chord = (b - a) / np.hypot(*(b - a))
    out = np.array([-chord[1], chord[0]])
    bulge = dice.size("bulge", -0.07, 0.22, unit=size)
    toes: Toes = ((a, -X, Y), (b, X, Y))
    cuts = grooves_wanted(dice, size)
    fusion = deepened_at(toes, fusion, cuts, size)
    face, extra = toed(
        dice,
        toes,
        bulged(rng, a, b, bulge, dice.size("skew", -0.4, 0.4), out),
        fusion,
        size,
        cuts,
    )
    long1, long2 = max(reach_of(dice), 2.5 * w1), max(reach_of(dice), 2.5 * w2)
    one = np.array([[-long1, 0], [-gap / 2, 0], [-gap / 2, min(land, t1)], [-edges[0], t1], [-long1, t1]])
    two = np.array(
        [[long2, off], [gap / 2, off], [gap / 2, off + min(land, t2)], [edges[1], off + t2], [long2, off + t2]]
    )
    lines: dict[str, Plane] = {
        "surface_1": (a, X, Y), "surface_2": (b, X, Y), "toe_1": toes[0], "toe_2": toes[1],
        "back_1": (np.array([-w1, 0.0]), X, -Y), "back_2": (np.array([w2, off]), X, -Y),
    }  # fmt: skip
    members = (one, two)
    beside = beside_of(fusion, members)
    slit = np.array(
        [[-gap / 2, min(0, off)], [gap / 2, min(0, off)], [gap / 2, max(t1, off + t2)], [-gap / 2, max(t1, off + t2)]]
    )
    sizes = {"thickness_1": t1, "thickness_2": t2, "gap": gap, "vee": vee, "bulge": bulge, "misalignment": off, **extra}
    sizes |= {"root_face": land} if vee > 0 else {}
    return Case(
        family="butt", face=face, fusion=fusion, beside=beside, haz=haz_widths(dice, fusion, size),
        members=members,        lines=lines, root=np.array([0.0, off / 2]),
        pores=pores_in(dice, face, fusion), root_face=root_face,
        slits=(slit,), sizes=sizes,
    )  # fmt: skip


def _walls(
    dice: Dice,
    thick: tuple[float, float],
    off: float,
    half: tuple[float, float],
    gap: float,
    land: float,
    slope: float,
    through: bool,
) -> tuple[Array, Array | None]:
    """Fusion line from toe 1 down one wall, over the root, up the other wall; and the root face when it is open."""
    rng = dice.rng
    lowest = 0.0 if through else float(rng.uniform(0.12, 0.55))
    wave = dice.size("wave", 0.0, min(0.08, 0.008 * sum(half)))
    sides: list[Array] = []
    for t, w, base, sign in ((thick[0], half[0], 0.0, -1.0), (thick[1], half[1], off, 1.0)):
        v = np.linspace(lowest, 1, 240)
        groove = gap / 2 + slope * np.clip(v * t - land, 0, None)
        foot = gap / 2 + float(rng.uniform(0.06, 0.3)) * min(t, 8)
        melt = PchipInterpolator(
            [0, 0.35, 0.7, 1],
            [foot, foot + rng.uniform(-0.05, 0.3) * (w - foot), foot + rng.uniform(0.3, 0.7) * (w - foot), w],
        )
        x = np.maximum(melt(v), groove + np.minimum(0.08 * t * np.clip((1 - v) * 6, 0, 1), 0.6))
        x = x + waves(rng, len(v), wave)
        if not through:
            x = x * np.sqrt(np.clip(1 - (1 - (v - lowest) / (1 - lowest)) ** 6, 0, 1))
        sides.append(np.stack([sign * x, base + v * t], axis=1))
    left, right = sides
    left[-1], right[-1] = [-half[0], thick[0]], [half[1], off + thick[1]]
    if not through:
        bottom = (left[0] + right[0]) / 2
        return np.concatenate([left[:2:-1], [bottom], right[3:]]), None
    bead = dice.size("root_bead", -0.1, 0.25, unit=min(thick[0], 8))
    u = np.linspace(0, 1, 60)
    hump = (4 * u * (1 - u)) ** float(rng.uniform(0.7, 1.3))
    root_face = left[0] + (right[0] - left[0]) * u[:, None] - bead * hump[:, None] * Y
    return np.concatenate([left[:0:-1], root_face, right[1:]]), root_face
