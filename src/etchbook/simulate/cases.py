"""Invented sections: members, weld, HAZ, in mm in the joint's own frame (x right, y up)."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from etchbook.simulate.curves import Array, beyond, bulged, spline, wavy, with_toe
from etchbook.terms import Family

FAR = 150.0
X, Y = np.array([1.0, 0.0]), np.array([0.0, 1.0])
Line = tuple[Array, Array, Array]
"""A point on it, unit direction, unit normal out of the metal."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One section before it is painted, in mm.

    Parameters
    ----------
    face, fusion : (n, 2) from toe 1 to toe 2
    beside : (n,) member that lies outside each fusion point, 0 for none
    haz : (n, 2) HAZ edge opposite each fusion point
    members : closed original outlines
    lines : surface_1, surface_2, back_1, back_2 (top_2 in a lap)
    root : joint root, None for a bead
    pores : x, y, radius
    root_face : (n, 2) root side of a butt weld, or None
    sizes : what was drawn, for the recipe
    """

    family: Family
    face: Array
    fusion: Array
    beside: NDArray[np.intp]
    haz: Array
    members: tuple[Array, ...]
    lines: dict[str, Line]
    root: Array | None
    pores: tuple[tuple[float, float, float], ...] = ()
    root_face: Array | None = None
    sizes: dict[str, float] = field(default_factory=dict)

    @property
    def weld(self) -> Array:
        """Closed contour of the weld metal."""
        return np.concatenate([self.face, self.fusion[::-1]])


def draw_case(family: Family, seed: int, **given: float) -> Case:
    """Invent a section of this family; sizes given by name replace the random ones.

    Names (mm, °): thickness_1, thickness_2, leg_1, leg_2, bulge, skew, depth_1, depth_2, root (negative when it
    was missed), gap, undercut_1, undercut_2, overlap_1, overlap_2, haz, wave, angle, pores, width, height, depth,
    root_gap, root_bead, misalignment.
    """
    rng = np.random.default_rng([seed, 71])
    makers = {"tee": _fillet, "lap": _fillet, "corner": _corner, "butt": _butt, "bead": _bead}
    return makers[family](family, rng, given)


def _pick(rng: np.random.Generator, given: dict[str, float], name: str, low: float, high: float, chance: float = 1.0) -> float:
    """A size: as given, else uniform between two bounds with some chance, else 0. Always draws, so seeds stay aligned."""
    value, lot = float(rng.uniform(low, high)), float(rng.uniform())
    return float(given.get(name, value if lot < chance else 0.0))


def _toes(rng: np.random.Generator, given: dict[str, float], size: float) -> dict[str, float]:
    found = {}
    for toe in ("1", "2"):
        found[f"undercut_{toe}"] = _pick(rng, given, f"undercut_{toe}", 0.1, min(0.12 * size, 1.2), 0.2)
        found[f"overlap_{toe}"] = _pick(rng, given, f"overlap_{toe}", 0.03 * size, 0.1 * size, 0.06)
    return found


def _toed(face: Array, extra: dict[str, float], away: tuple[Array, Array], up: tuple[Array, Array]) -> Array:
    face = with_toe(face, away[0], up[0], extra["undercut_1"], extra["overlap_1"])
    return with_toe(face[::-1], away[1], up[1], extra["undercut_2"], extra["overlap_2"])[::-1]


def _pores(rng: np.random.Generator, given: dict[str, float], face: Array, fusion: Array) -> tuple[tuple[float, float, float], ...]:
    count = int(given.get("pores", rng.integers(1, 8) if rng.uniform() < 0.25 else 0))
    size = float(np.ptp(np.concatenate([face, fusion]), axis=0).max())
    found = []
    for _ in range(count):
        k = int(rng.integers(40, 200))
        a = face[int(k * (len(face) - 1) / 239)]
        b = fusion[int(k * (len(fusion) - 1) / 239)]
        middle = a + rng.uniform(0.25, 0.75) * (b - a)
        room = 0.22 * float(np.hypot(*(b - a)))
        found.append((float(middle[0]), float(middle[1]), float(min(rng.uniform(0.006, 0.05) * size, room))))
    return tuple(found)


def _fillet(family: Family, rng: np.random.Generator, given: dict[str, float]) -> Case:
    """Tee and lap: a fillet in the corner x > 0, y > 0."""
    t1, t2 = _pick(rng, given, "thickness_1", 3, 20), _pick(rng, given, "thickness_2", 3, 16)
    z1 = _pick(rng, given, "leg_1", 2.5, 12)
    z2 = given.get("leg_2", z1 * float(rng.uniform(0.65, 1.5)))
    if family == "lap":
        t2 = given.get("thickness_2", z2 * float(rng.uniform(1.0, 1.6)))
    size = float(np.hypot(z1, z2))
    bulge = _pick(rng, given, "bulge", -0.13, 0.22) * (1.0 if "bulge" in given else size)
    skew = _pick(rng, given, "skew", -0.6, 0.6)
    p1, p2 = _pick(rng, given, "depth_1", 0.04, 0.3), _pick(rng, given, "depth_2", 0.03, 0.22)
    p1, p2 = (p1 if "depth_1" in given else p1 * size, p2 if "depth_2" in given else p2 * size)
    p1, p2 = min(p1, 0.7 * t1), min(p2, 0.7 * t2)
    root = _pick(rng, given, "root", -0.12, 0.35) * (1.0 if "root" in given else size)
    root = min(root, 0.8 * t1)
    gap = _pick(rng, given, "gap", 0.02, 0.6, 0.5)
    extra = _toes(rng, given, size)
    a, b = np.array([z1, 0.0]), np.array([0.0, z2])
    out = np.array([z2, z1]) / size
    face = _toed(bulged(a, b, bulge, skew, out), extra, (X, Y), (Y, X))
    dip = (-root * 0.7071, -root * 0.7071)
    low = min(-p1, dip[1] * 0.8) if root > 0 else -p1
    left = min(-p2, dip[0] * 0.7) if root > 0 else -p2
    fusion = spline([(z1, 0), (z1 * 0.86, low * 0.55), (z1 * 0.45, low), dip, (left, z2 * 0.45), (left * 0.55, z2 * 0.86), (0, z2)])
    if root < 0.03 * size:
        fusion = np.concatenate([
            spline([(z1, 0), (z1 * 0.86, -p1 * 0.55), (z1 * 0.5, -p1), (max(-root * 1.6, 0.02 * size), -0.004 * size)], 110)[:-1],
            spline([(max(-root * 1.6, 0.02 * size), -0.004 * size), dip, (-0.004 * size, max(-root * 1.6, 0.02 * size))], 20)[:-1],
            spline([(-0.004 * size, max(-root * 1.6, 0.02 * size)), (-p2, z2 * 0.5), (-p2 * 0.55, z2 * 0.86), (0, z2)], 112),
        ])
    fusion = wavy(fusion, _pick(rng, given, "wave", 0.0, 0.006) * (1.0 if "wave" in given else size), rng)
    haz_width = _pick(rng, given, "haz", 0.06, 0.3) * (1.0 if "haz" in given else size)
    haz = beyond(fusion, (a + b) / 3, haz_width, rng)
    plate = np.array([[-FAR, 0], [FAR, 0], [FAR, -t1], [-FAR, -t1]])
    if family == "tee":
        other = np.array([[-t2, gap], [0, gap], [0, FAR], [-t2, FAR]])
        lines = {"surface_2": (b, Y, X), "back_2": (np.array([-t2, 1.0]), Y, -X)}
    else:
        other = np.array([[-FAR, gap], [0, gap], [0, gap + t2], [-FAR, gap + t2]])
        lines = {"surface_2": (b, Y, X), "top_2": (np.array([-1.0, gap + t2]), X, Y), "back_2": (np.array([-1.0, gap]), X, -Y)}
    lines |= {"surface_1": (a, X, Y), "back_1": (np.array([1.0, -t1]), X, -Y)}
    beside = np.where(fusion[:, 1] > 0, 2, 1)
    return Case(
        family=family, face=face, fusion=fusion, beside=beside, haz=haz, members=(plate, other), lines=lines,
        root=np.zeros(2), pores=_pores(rng, given, face, fusion),
        sizes={"thickness_1": t1, "thickness_2": t2, "leg_1": z1, "leg_2": z2, "bulge": bulge, "root": root, "gap": gap, **extra},
    )  # fmt: skip


def _corner(family: Family, rng: np.random.Generator, given: dict[str, float]) -> Case:
    """Open outside corner: member 1 lies left, member 2 stands below, inner edges touch at the origin."""
    t1, t2 = _pick(rng, given, "thickness_1", 2.5, 15), 0.0
    t2 = given.get("thickness_2", t1 * float(rng.uniform(0.6, 1.5)))
    wide1, wide2 = rng.uniform(0.0, 0.25) * t1, rng.uniform(0.0, 0.25) * t2
    a, b = np.array([-wide1, t1]), np.array([t2, -wide2])
    size = float(np.hypot(*(b - a)))
    out = np.array([b[1] - a[1], a[0] - b[0]]) / size
    out = out if out.sum() > 0 else -out
    bulge = _pick(rng, given, "bulge", -0.12, 0.3) * (1.0 if "bulge" in given else size)
    extra = {key: 0.0 for key in ("undercut_1", "undercut_2", "overlap_1", "overlap_2")}
    face = _toed(bulged(a, b, bulge, _pick(rng, given, "skew", -0.4, 0.4), out), extra, (-X, -Y), (Y, X))
    p1, p2 = rng.uniform(0.08, 0.3) * t1, rng.uniform(0.08, 0.3) * t2
    root = _pick(rng, given, "root", -0.12, 0.14) * (1.0 if "root" in given else size)
    if root > 0.02 * size:
        fusion = np.concatenate([
            spline([a, (-max(p1, wide1), t1 * 0.5), (-p1 * 0.9, t1 * 0.15), (-root * 1.1, 0)], 110)[:-1],
            spline([(-root * 1.1, 0), (-root * 0.72, -root * 0.72), (0, -root * 1.1)], 24)[:-1],
            spline([(0, -root * 1.1), (t2 * 0.15, -p2 * 0.9), (t2 * 0.5, -max(p2, wide2)), b], 110),
        ])
        beside = np.repeat([1, 0, 2], [109, 24, 109])
    else:
        m = max(-root, 0.015 * size)
        fusion = np.concatenate([
            spline([a, (-max(p1, wide1), t1 * 0.55), (-p1 * 0.5, t1 * 0.25), (0, m * 1.4)], 110)[:-1],
            spline([(0, m * 1.4), (m * 0.72, m * 0.72), (m * 1.4, 0)], 24)[:-1],
            spline([(m * 1.4, 0), (t2 * 0.25, -p2 * 0.5), (t2 * 0.55, -max(p2, wide2)), b], 110),
        ])
        beside = np.repeat([1, 0, 2], [109, 24, 109])
    fusion = wavy(fusion, rng.uniform(0, 0.005) * size, rng)
    haz = beyond(fusion, (a + b) / 2, _pick(rng, given, "haz", 0.06, 0.3) * (1.0 if "haz" in given else size), rng)
    one = np.array([[-FAR, 0], [0, 0], [0, t1], [-FAR, t1]])
    two = np.array([[0, 0], [t2, 0], [t2, -FAR], [0, -FAR]])
    lines = {"surface_1": (a, X, Y), "back_1": (np.array([-1.0, 0.0]), X, -Y), "surface_2": (b, Y, X), "back_2": (np.array([0.0, -1.0]), Y, -X)}
    return Case(
        family=family, face=face, fusion=fusion, beside=beside, haz=haz, members=(one, two), lines=lines, root=np.zeros(2),
        pores=_pores(rng, given, face, fusion), sizes={"thickness_1": t1, "thickness_2": t2, "bulge": bulge, "root": root},
    )  # fmt: skip


def _butt(family: Family, rng: np.random.Generator, given: dict[str, float]) -> Case:
    """Butt, single sided, square or V: root side at y = 0, face side at y = t."""
    t1 = _pick(rng, given, "thickness_1", 2, 16)
    t2 = given.get("thickness_2", t1 * (1.0 if rng.uniform() < 0.7 else float(rng.uniform(0.8, 1.2))))
    off = _pick(rng, given, "misalignment", -0.15, 0.15, 0.4) * (1.0 if "misalignment" in given else t1)
    gap = _pick(rng, given, "root_gap", 0.0, 0.25) * (1.0 if "root_gap" in given else t1)
    vee = rng.uniform() < 0.5
    half = rng.uniform(0.35, 0.7) if vee else 0.0
    land = rng.uniform(0.0, 0.3) * t1 if vee else t1
    top1, top2 = t1, off + t2
    w1 = gap / 2 + half * max(t1 - land, 0) + rng.uniform(0.15, 0.5) * t1 + 0.5
    w2 = gap / 2 + half * max(t1 - land, 0) + rng.uniform(0.15, 0.5) * t1 + 0.5
    a, b = np.array([-w1, top1]), np.array([w2, top2])
    size = w1 + w2
    chord = (b - a) / np.hypot(*(b - a))
    out = np.array([-chord[1], chord[0]])
    bulge = _pick(rng, given, "bulge", -0.06, 0.22) * (1.0 if "bulge" in given else size)
    extra = _toes(rng, given, size)
    face = _toed(bulged(a, b, bulge, _pick(rng, given, "skew", -0.4, 0.4), out), extra, (-X, X), (Y, Y))
    through = rng.uniform() < 0.75 if "root_bead" not in given else given["root_bead"] > -90
    bead = _pick(rng, given, "root_bead", -0.08, 0.25) * (1.0 if "root_bead" in given else t1)
    r1, r2 = gap / 2 + rng.uniform(0.05, 0.25) * t1, gap / 2 + rng.uniform(0.05, 0.25) * t1
    root_face = None
    low2 = off
    if through:
        left = spline([a, (-(0.55 * w1 + 0.45 * r1), 0.6 * t1), (-(0.15 * w1 + 0.85 * r1), 0.2 * t1), (-r1, 0)], 100)
        right = spline([(r2, low2), (0.15 * w2 + 0.85 * r2, low2 + 0.2 * t2), (0.55 * w2 + 0.45 * r2, low2 + 0.6 * t2), b], 100)
        root_face = spline([left[-1], ((r2 - r1) / 2, low2 / 2 - bead), right[0]], 40)
        fusion = np.concatenate([left, root_face[1:-1], right])
        beside = np.repeat([1, 0, 2], [100, 38, 100])
        fusion_wavy = wavy(fusion, rng.uniform(0, 0.005) * size, rng)
        fusion = np.where((beside == 0)[:, None], fusion, fusion_wavy)
        root_face = fusion[99:139]
    else:
        depth = rng.uniform(0.45, 0.9) * t1
        fusion = spline([a, (-0.75 * w1, t1 - 0.5 * depth), (0, t1 - depth), (0.75 * w2, t1 - 0.5 * depth), b])
        fusion = wavy(fusion, rng.uniform(0, 0.005) * size, rng)
        beside = np.where(fusion[:, 0] < 0, 1, 2)
    haz = beyond(fusion, np.array([0.0, 0.6 * t1]), _pick(rng, given, "haz", 0.05, 0.25) * (1.0 if "haz" in given else size), rng)
    edge = gap / 2 + half * max(t1 - land, 0)
    one = np.array([[-FAR, 0], [-gap / 2, 0], [-gap / 2, land], [-edge, t1], [-FAR, t1]])
    two = np.array([[FAR, off], [gap / 2, off], [gap / 2, off + min(land, t2)], [edge, off + t2], [FAR, off + t2]])
    lines = {
        "surface_1": (a, X, Y), "surface_2": (b, X, Y),
        "back_1": (np.array([-w1, 0.0]), X, -Y), "back_2": (np.array([w2, off]), X, -Y),
    }  # fmt: skip
    return Case(
        family=family, face=face, fusion=fusion, beside=beside, haz=haz, members=(one, two), lines=lines,
        root=np.array([0.0, off / 2]), pores=_pores(rng, given, face, fusion), root_face=root_face,
        sizes={"thickness_1": t1, "thickness_2": t2, "gap": gap, "bulge": bulge, "root_bead": bead, "misalignment": off, **extra},
    )  # fmt: skip


def _bead(family: Family, rng: np.random.Generator, given: dict[str, float]) -> Case:
    """Bead on plate: dish, finger or keyhole."""
    t1 = _pick(rng, given, "thickness_1", 3, 25)
    width = _pick(rng, given, "width", 2, 14)
    height = _pick(rng, given, "height", 0.04, 0.5) * (1.0 if "height" in given else width)
    depth = _pick(rng, given, "depth", 0.1, 0.7) * (1.0 if "depth" in given else width)
    if rng.uniform() < 0.2 and "depth" not in given:
        depth = float(rng.uniform(0.8, 1.9)) * width
    depth = min(depth, 0.85 * t1) if rng.uniform() < 0.9 else depth
    t1 = max(t1, depth * 1.1)
    a, b = np.array([-width / 2, 0.0]), np.array([width / 2, 0.0])
    extra = _toes(rng, given, width)
    u = np.linspace(0, 1, 240)
    round_share = rng.uniform(0, 1)
    hump = round_share * np.sqrt(np.clip(1 - (2 * u - 1) ** 2, 0, None)) + (1 - round_share) * 4 * u * (1 - u)
    face = a + (b - a) * u[:, None] + height * hump[:, None] * Y
    face = _toed(face, extra, (-X, X), (Y, Y))
    tilt = rng.uniform(-0.12, 0.12) * width
    finger = float(np.clip(rng.uniform(0.0, 1.1) if depth < 0.8 * width else rng.uniform(0.55, 1.0), 0, 1))
    shoulder = (1 - finger) * depth * 0.8 + finger * min(depth * 0.45, 0.25 * width)
    waist = width * (0.42 - 0.2 * finger)
    if depth >= 0.8 * width and rng.uniform() < 0.6:
        shoulder, waist = 0.5 * depth, width * rng.uniform(0.33, 0.45)
    fusion = spline([a, (-waist + tilt * 0.4, -shoulder), (tilt, -depth), (waist + tilt * 0.4, -shoulder), b])
    fusion = wavy(fusion, rng.uniform(0, 0.008) * width, rng)
    haz = beyond(fusion, np.array([0.0, -0.1 * depth]), _pick(rng, given, "haz", 0.05, 0.3) * (1.0 if "haz" in given else width), rng)
    plate = np.array([[-FAR, 0], [FAR, 0], [FAR, -t1], [-FAR, -t1]])
    lines = {"surface_1": (a, X, Y), "back_1": (np.array([0.0, -t1]), X, -Y)}
    return Case(
        family=family, face=face, fusion=fusion, beside=np.ones(len(fusion), np.intp), haz=haz, members=(plate,),
        lines=lines, root=None, pores=_pores(rng, given, face, fusion),
        sizes={"thickness_1": t1, "width": width, "height": height, "depth": depth, **extra},
    )  # fmt: skip
