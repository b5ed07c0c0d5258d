"""Tee, lap and open outside corner: welds in the angle between two plates."""

import numpy as np

from etchbook.simulate.cases import Case, Dice, Plane, beside_of, haz_widths, pores_in, reach_of
from etchbook.simulate.curves import Array, bulged, crosses, deepened, groove_depth, overlapped, round_fusion, undercut
from etchbook.terms import Family

X, Y, ZERO = np.array([1.0, 0.0]), np.array([0.0, 1.0]), np.zeros(2)
Toes = tuple[Plane, Plane]


def tee(dice: Dice) -> Case:
    """A fillet in the corner x > 0, y > 0 of a plate standing on another."""
    rng = dice.rng
    z1 = dice.spread("leg_1", 2.2, 14)
    z2 = float(dice.given.get("leg_2", z1 * np.exp(rng.normal(0, 0.22))))
    mean = 0.5 * (z1 + z2)
    t1, t2 = (float(np.clip(dice.spread(f"thickness_{k}", 0.7 * mean, 2.6 * mean), 2, 25)) for k in (1, 2))
    angle = np.radians(dice.given.get("angle", rng.uniform(75, 105) if dice.lot(0.12) else 90.0))
    gap = dice.size("gap", 0.03, 1.0, chance=0.4)
    way, out = np.array([np.cos(angle), np.sin(angle)]), np.array([np.sin(angle), -np.cos(angle)])
    foot, lean = gap / way[1], 1 / way[1]
    left, right, high = reach_of(dice), max(reach_of(dice), 1.6 * z1), max(reach_of(dice), 1.6 * z2)
    plate = np.array([[-left - t2, 0], [right, 0], [right, -t1], [-left - t2, -t1]])
    back = np.array([-t2 * lean, 0.0])
    other = np.array([back + foot * way, foot * way, high * way, high * way - t2 * out])
    a, b = z1 * X, z2 * way
    toes: Toes = ((a, X, Y), (b, way, out))
    lines = {
        "surface_1": (a, X, Y), "back_1": (np.array([1.0, -t1]), X, -Y),
        "surface_2": (b, way, out), "back_2": (back, way, -out),
    }  # fmt: skip
    slit = np.array([back, ZERO, foot * way, back + foot * way])
    case = _angle_weld(dice, "tee", toes, (plate, other), lines, (t1, t2), (gap, 400.0), (slit,))
    share = float(dice.given.get("second", rng.uniform(0.4, 0.8) if dice.lot(0.12) else 0.0))
    return case if share == 0 or abs(np.degrees(angle) - 90) > 0.01 else _with_second(dice, case, share, t2)


def _with_second(dice: Dice, case: Case, share: float, t2: float) -> Case:
    """The same plates with a smaller fillet on the far side of the standing plate."""
    legs = {"leg_1": share * case.sizes["leg_1"], "leg_2": share * case.sizes["leg_2"]}
    held = {"thickness_1": case.sizes["thickness_1"], "thickness_2": t2, "gap": case.sizes["gap"], "second": 0.0}
    deep = {"root": share * min(case.sizes["root"], 0.2 * t2), "depth_2": 0.15 * t2, "finger": 0.0, "angle": 90.0}
    far = tee(Dice(dice.rng, legs | held | deep))
    flip = np.array([-1.0, 1.0])
    moved = Case(
        family="tee", face=far.face * flip - [t2, 0], fusion=far.fusion * flip - [t2, 0], beside=far.beside,
        haz=far.haz,        members=case.members, lines={}, root=far.root * flip - [t2, 0], sizes=far.sizes,
    )  # fmt: skip
    return Case(**{name: getattr(case, name) for name in case.__slots__ if name != "second"}, second=moved)


def lap(dice: Dice) -> Case:
    """A fillet against the edge of a plate that lies on another; toe 2 on that edge or over its melted top corner."""
    rng = dice.rng
    z1 = dice.spread("leg_1", 2.0, 13)
    gap = dice.size("gap", 0.02, 0.8, chance=0.4)
    share = float(rng.uniform(0.5, 0.97)) if dice.lot(0.5) else 1.0
    t2 = dice.given.get("thickness_2", float(np.clip(z1 * np.exp(rng.normal(0.0, 0.25)) / share, 1.5, 16)))
    z2 = float(dice.given.get("leg_2", share * (t2 + gap)))
    z2 = min(z2, t2 + gap)
    over = float(rng.uniform(0, 0.3)) * t2 if z2 > t2 + gap - 1e-9 else 0.0
    t1 = float(np.clip(dice.spread("thickness_1", 0.6 * t2, 2.0 * t2), 1.5, 20))
    left, right, far = reach_of(dice), max(reach_of(dice), 1.6 * z1), reach_of(dice)
    plate = np.array([[-left, 0], [right, 0], [right, -t1], [-left, -t1]])
    far = max(far, 1.5 * t2)
    other = np.array([[-far, gap], [0, gap], [0, gap + t2], [-far, gap + t2]])
    a, b = z1 * X, np.array([-over, z2])
    toes: Toes = ((a, X, Y), (b, -X, Y) if over > 0 else (b, Y, X))
    lines = {
        "surface_1": (a, X, Y), "back_1": (np.array([1.0, -t1]), X, -Y),
        "surface_2": (z2 * Y, Y, X), "top_2": (np.array([-1.0, gap + t2]), X, Y),
        "back_2": (np.array([-1.0, gap]), X, -Y),
    }  # fmt: skip
    slit = np.array([[-min(left, far), 0], [0, 0], [0, gap], [-min(left, far), gap]])
    return _angle_weld(dice, "lap", toes, (plate, other), lines, (t1, far), (gap, gap + t2), (slit,))


def corner(dice: Dice) -> Case:
    """Open outside corner: member 1 lies left, member 2 hangs below, inner edges touch at the origin."""
    rng = dice.rng
    t1 = dice.spread("thickness_1", 2.2, 14)
    t2 = float(dice.given.get("thickness_2", t1 * np.exp(rng.normal(0, 0.18))))
    a, b = np.array([-rng.uniform(0.02, 0.4) * t1, t1]), np.array([t2, -rng.uniform(0.02, 0.4) * t2])
    toes: Toes = ((a, -X, Y), (b, -Y, X))
    long1, long2 = max(reach_of(dice), 3 * t1), max(reach_of(dice), 3 * t2)
    one = np.array([[-long1, 0], [0, 0], [0, t1], [-long1, t1]])
    two = np.array([[0, 0], [t2, 0], [t2, -long2], [0, -long2]])
    lines = {
        "surface_1": (a, X, Y), "back_1": (np.array([-1.0, 0.0]), X, -Y),
        "surface_2": (b, Y, X), "back_2": (np.array([0.0, -1.0]), Y, -X),
    }  # fmt: skip
    return _angle_weld(dice, "corner", toes, (one, two), lines, (2.0 * t1, 2.0 * t2), (0.0, t2), ())


def _angle_weld(
    dice: Dice,
    family: Family,
    toes: Toes,
    members: tuple[Array, Array],
    lines: dict[str, Plane],
    room: tuple[float, float],
    ends: tuple[float, float],
    slits: tuple[Array, ...],
) -> Case:
    """Face, fusion line and HAZ of a weld in an angle; `room` is how deep each member may be melted."""
    rng = dice.rng
    a, b = toes[0][0], toes[1][0]
    chord = b - a
    size = float(np.hypot(*chord))
    out = np.array([chord[1], -chord[0]]) / size
    out = out if out @ (a + b) > 0 else -out
    flanks = (Y, X) if family == "corner" else (X, lines["surface_2"][1])
    bis = (flanks[0] + flanks[1]) / np.hypot(*(flanks[0] + flanks[1]))
    low, high = (-0.1, 0.3) if family == "corner" else (-0.13, 0.2)
    bulge = dice.size("bulge", low, high, unit=size)
    skew = dice.size("skew", -0.6, 0.6)
    depths = [min(dice.size(f"depth_{k}", 0.02, 0.26, unit=size), 0.65 * room[k - 1]) for k in (1, 2)]
    root = dice.size("root", -0.13, 0.33 if family != "corner" else 0.16, unit=size)
    root = max(min(root, 0.75 * min(room) / abs(bis).max()), -0.35 * float(min(np.hypot(*a), np.hypot(*b))))
    centre = 0.3 * (a + b) if family != "corner" else 0.32 * np.array([b[0], a[1]])
    cuts = grooves_wanted(dice, size)
    fusion = _fusion(dice, toes, flanks, bis, centre, depths, root, size, room, ends)
    fusion = deepened_at(toes, fusion, cuts, size)
    bare = bulged(rng, a, b, bulge, skew, out)
    if bulge < 0 and crosses(bare[5:-5:4], fusion[5:-5:4]):
        # Too hollow for what was melted: a flat face instead.
        bulge = 0.0
        bare = bulged(rng, a, b, bulge, skew, out)
    face, extra = toed(dice, toes, bare, fusion, size, cuts)
    beside = beside_of(fusion, members)
    named: dict[str, Plane] = lines | {"toe_1": toes[0], "toe_2": toes[1]}
    sizes = {"leg_1": float(a @ flanks[0]), "leg_2": float(b @ flanks[1])} if family != "corner" else {}
    sizes |= {"thickness_1": room[0], "thickness_2": room[1], "bulge": bulge, "root": root, "gap": ends[0], **extra}
    return Case(
        family=family, face=face, fusion=fusion, beside=beside, haz=haz_widths(dice, fusion, size),
        members=members, lines=named, root=ZERO, pores=pores_in(dice, face, fusion), slits=slits, sizes=sizes,
    )  # fmt: skip


def _fusion(
    dice: Dice,
    toes: Toes,
    flanks: tuple[Array, Array],
    bis: Array,
    centre: Array,
    depths: list[float],
    root: float,
    size: float,
    room: tuple[float, float],
    ends: tuple[float, float],
) -> Array:
    rng = dice.rng
    a, b = toes[0][0], toes[1][0]
    inward = [-(bis - (bis @ flank) * flank) for flank in flanks]
    inward = [way / np.hypot(*way) for way in inward]
    places = [float(rng.uniform(0.35, 0.65)) * float(toe @ flank) for toe, flank in zip((a, b), flanks, strict=True)]
    marks = [
        place * flank + depth * way for place, flank, depth, way in zip(places, flanks, depths, inward, strict=True)
    ]
    free, middle = None, [-root * bis]
    if root <= 0.01 * size:
        missed = max(-root, 0.012 * size)
        wide = float(rng.uniform(1.3, 2.2)) * missed
        edges = (wide * flanks[0], wide * flanks[1])
        free, middle = edges, [edges[0], missed * bis, edges[1]]
    tall = dice.size("finger", 0.05, 0.3, unit=size, chance=0.25 if root > 0 else 0.0)
    tall = min(tall, max(0.0, 0.8 * min(room) - max(*depths, root)))
    finger = (tall, float(rng.uniform(0.3, 0.6)), float(rng.uniform(0.05, 0.12)))
    wave = dice.size("wave", 0.0, min(0.08, 0.008 * size))
    rays = ((flanks[0], 500.0), (flanks[1], ends[1]))
    roofs = tuple((point, up) for point, _, up in toes if (point - centre) @ up > 0.02 * size)
    return round_fusion(
        rng,
        centre,
        [a, marks[0], *middle, marks[1], b],
        rays,
        free,
        wave,
        finger,
        roofs,
    )


def grooves_wanted(dice: Dice, size: float) -> tuple[float, float]:
    """Depth of the undercut at toe 1 and toe 2 [mm]; mostly none."""
    low, high = 0.1, max(0.15, min(0.08 * size, 1.2))
    return dice.size("undercut_1", low, high, chance=0.2), dice.size("undercut_2", low, high, chance=0.25)


def deepened_at(toes: Toes, fusion: Array, cuts: tuple[float, float], size: float) -> Array:
    """The fusion line made deep enough beside each toe for the undercut wanted there."""
    for turn, (_, away, up), cut in zip((1, -1), toes, cuts, strict=True):
        if cut > 0:
            fusion = deepened(fusion[::turn], away, up, cut, max(2.5 * cut, 0.12 * size))[::turn]
    return fusion


def toed(
    dice: Dice, toes: Toes, face: Array, fusion: Array, size: float, cuts: tuple[float, float]
) -> tuple[Array, dict[str, float]]:
    """The face with undercut or overlap at its toes, and what came of it; a groove stays well above the fusion line."""
    extra: dict[str, float] = {}
    for toe, (point, away, up), cut in zip(("1", "2"), toes, cuts, strict=True):
        # A toe past a melted corner has no plate in front of it that a lap could lie on.
        open_plate = abs(float((face.mean(axis=0) - point) @ up)) < 0.5 * size and (face.mean(axis=0) - point) @ up > 0
        chance = 0.08 if cut == 0 and open_plate else 0.0
        over = dice.size(f"overlap_{toe}", 0.04, 0.12, unit=size, chance=chance) if open_plate else 0.0
        turned, chain = (face, fusion) if toe == "1" else (face[::-1], fusion[::-1])
        if cut > 0:
            grooved = undercut(turned, chain, away, up, cut)
            fits = not crosses(grooved[:160], chain[1:260])
            turned, cut = (grooved, cut) if fits else (turned, 0.0)
        elif over > 0:
            turned = overlapped(turned, away, up, over)
        extra |= {f"undercut_{toe}": groove_depth(turned, up) if cut > 0 else 0.0, f"overlap_{toe}": over}
        face = turned if toe == "1" else turned[::-1]
    return face, extra
