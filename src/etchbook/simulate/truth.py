"""True dimensions of a case, by its own geometry, in mm, mm², ° and bare ratios. Written apart from the reader on purpose."""

import numpy as np

from etchbook.geometry import area, clip_half_plane, largest_isosceles_height
from etchbook.geometry.lines import Line, through
from etchbook.simulate.cases import Case
from etchbook.simulate.curves import Array
from etchbook.terms import dimensions_of

Truth = dict[str, float | None]


def true_dimensions(case: Case) -> Truth:
    """Every dimension of the case's family; None where the section has none."""
    found = _common(case)
    if case.family in ("tee", "lap"):
        found |= _fillet(case)
    if case.family in ("tee", "lap", "corner"):
        found |= _rooted(case)
    if case.family in ("butt", "bead"):
        found |= _flat(case)
    if case.family == "butt":
        found |= _butt(case)
    return {term.id: found.get(term.id) for term in dimensions_of(case.family)}


def _line(case: Case, name: str, out: bool = True) -> Line:
    """A plate line whose normal points out of the metal (or into it)."""
    point, way, normal = case.lines[name]
    line = Line(x=float(point[0]), y=float(point[1]), heading=float(np.arctan2(way[1], way[0])))
    same = float(line.normal @ normal) > 0
    return line if same == out else Line(x=line.x, y=line.y, heading=line.heading + np.pi)


def _common(case: Case) -> Truth:
    weld = area(case.weld)
    fused = sum(_shared(case.weld, member) for member in case.members)
    found: Truth = {
        "weld_area": weld,
        "fused_plate_area": fused,
        "deposited_area": weld - fused,
        "dilution": fused / weld,
        "pore_area_percent": 100 * sum(np.pi * r * r for _, _, r in case.pores) / weld,
        "throat": None if case.root is None else float(np.hypot(*(_dense(case.face) - case.root).T).min()),
    }
    found |= _thicknesses(case) | _depths(case) | _hazes(case)
    for toe in ("1", "2"):
        found |= _toe(case, toe)
    found["depth_to_width"] = _depth_to_width(case)
    return found


def _dense(chain: Array, count: int = 4000) -> Array:
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(chain, axis=0).T))])
    at = np.linspace(0, run[-1], count)
    return np.stack([np.interp(at, run, chain[:, 0]), np.interp(at, run, chain[:, 1])], axis=1)


def _shared(polygon: Array, member: Array) -> float:
    """Area of a polygon inside a member that is a stack of convex strips; members here are convex or V-edged."""
    middle = member.mean(axis=0)
    hull = member
    part = polygon
    for k in range(len(hull)):
        a, b = hull[k], hull[(k + 1) % len(hull)]
        if np.hypot(*(b - a)) < 1e-9:
            continue
        line = through(a, b)
        if float(line.across(middle)[0]) < 0:
            line = through(b, a)
        part = clip_half_plane(part, line)
        if len(part) < 3:
            return 0.0
    return area(part)


def _thicknesses(case: Case) -> Truth:
    found: Truth = {}
    for member in ("1", "2"):
        top = "top_2" if case.family == "lap" and member == "2" else f"surface_{member}"
        if top in case.lines and f"back_{member}" in case.lines:
            found[f"thickness_{member}"] = abs(float(_line(case, top).across(case.lines[f"back_{member}"][0])[0]))
    return found


def _depths(case: Case) -> Truth:
    fusion = case.fusion
    if case.family == "bead":
        return {"penetration_1": max(0.0, -float(fusion[:, 1].min()))}
    if case.family in ("tee", "lap"):
        upper = fusion[fusion[:, 1] > 0]
        return {"penetration_1": max(0.0, -float(fusion[:, 1].min())), "penetration_2": max(0.0, -float(upper[:, 0].min()))}
    if case.family == "corner":
        one, two = fusion[case.beside == 1], fusion[case.beside == 2]
        return {"penetration_1": max(0.0, -float(one[:, 0].min())), "penetration_2": max(0.0, -float(two[:, 1].min()))}
    return _groove_depths(case)


def _groove_depths(case: Case) -> Truth:
    """Butt: depth of weld metal behind each original end face, square to that face."""
    found: Truth = {}
    for member, polygon in zip(("1", "2"), case.members, strict=True):
        points = case.fusion[case.beside == int(member)]
        faces = [(polygon[1], polygon[2]), (polygon[2], polygon[3])]
        best = 0.0
        for a, b in faces:
            if np.hypot(*(b - a)) < 1e-6:
                continue
            line = through(a, b)
            into = line.across(polygon[[0, -1]].mean(axis=0))[0]
            along = line.along(points)
            beside = points[(along >= 0) & (along <= np.hypot(*(b - a)))]
            if len(beside):
                best = max(best, float((line.across(beside) * np.sign(into)).max()))
        found[f"penetration_{member}"] = best
    return found


def _hazes(case: Case) -> Truth:
    found: Truth = {}
    widths = np.array([np.hypot(*(_dense(case.haz, 1500) - p).T).min() for p in case.fusion])
    step = np.hypot(*np.gradient(case.fusion, axis=0).T)
    for member in (1, 2):
        near = case.beside == member
        if near.sum() > 3:
            found[f"haz_width_{member}"] = float(np.average(widths[near], weights=step[near]))
    found["haz_width_max"] = float(widths[case.beside > 0].max())
    return found


def _toe(case: Case, toe: str) -> Truth:
    name = "surface_1" if case.family == "bead" else f"surface_{toe}"
    line = _line(case, name)
    face = _dense(case.face if toe == "1" else case.face[::-1])
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(face, axis=0).T))])
    other = case.face[-1] if toe == "1" else case.face[0]
    origin = np.zeros(2) if case.family in ("tee", "lap") else other
    away = line.direction if line.direction @ (face[0] - origin) > 0 else -line.direction
    near = run < 0.35 * run[-1]
    cut = 0.0 if case.family == "corner" else max(0.0, -float(line.across(face[near]).min()))
    lap = max(0.0, float(((face[near] - face[0]) @ away).max()))
    start = run < 0.02 * run[-1]
    tangent = face[start][-1] - face[0]
    cosine = float(tangent @ away / np.hypot(*tangent))
    return {f"undercut_{toe}": cut, f"overlap_{toe}": lap, f"toe_angle_{toe}": float(np.degrees(np.arccos(np.clip(cosine, -1, 1))))}


def _fillet(case: Case) -> Truth:
    z1, z2 = float(case.face[0, 0]), float(case.face[-1, 1])
    nominal = largest_isosceles_height(_dense(case.face), z1, z2, np.pi / 2)
    return {
        "leg_1": z1,
        "leg_2": z2,
        "asymmetry": abs(z1 - z2),
        "theoretical_throat": z1 * z2 / float(np.hypot(z1, z2)),
        "nominal_throat": nominal,
    }


def _rooted(case: Case) -> Truth:
    chord = through(case.face[0], case.face[-1])
    away = -chord.across(_dense(case.face)) * np.sign(float(chord.across(np.zeros(2))[0]))
    found: Truth = {"convexity": float(away[int(np.argmax(np.abs(away)))])}
    ring = np.concatenate([case.weld, case.weld[:1]])
    depth = _exit(ring, np.array([-1.0, -1.0]) / np.sqrt(2))
    found["root_penetration"] = max(depth, 0.0)
    found["missed_root"] = max(-depth, 0.0)
    if case.family in ("tee", "lap"):
        z1, z2 = float(case.face[0, 0]), float(case.face[-1, 1])
        found["deep_throat"] = largest_isosceles_height(_dense(case.face), z1, z2, np.pi / 2) + max(depth, 0.0)
    return found


def _exit(ring: Array, way: Array) -> float:
    """Signed run from the origin to the weld's edge along `way`: positive out of it, negative back to where it begins."""
    side = ring @ np.array([-way[1], way[0]])
    ahead = ring @ way
    cut = np.nonzero((side[:-1] <= 0) != (side[1:] <= 0))[0]
    share = side[cut] / (side[cut] - side[cut + 1])
    hits = ahead[cut] + share * (ahead[cut + 1] - ahead[cut])
    deeper = hits[hits >= 0]
    if len(deeper) % 2 == 1:
        return float(deeper.min())
    return float(hits[hits < 0].max()) if (hits < 0).any() else 0.0


def _flat(case: Case) -> Truth:
    a, b = case.face[0], case.face[-1]
    chord = through(a, b)
    return {"weld_width": float(np.hypot(*(b - a))), "excess_weld_metal": max(0.0, float(chord.across(_dense(case.face)).max()))}


def _butt(case: Case) -> Truth:
    one, two = _line(case, "surface_1"), _line(case, "surface_2")
    face = _dense(case.face)
    low = np.minimum(-one.across(face), -two.across(face))
    found: Truth = {
        "misalignment": abs(float(case.lines["surface_1"][0][1] - case.lines["surface_2"][0][1])),
        "incompletely_filled": max(0.0, float(low.max())),
        "root_width": None,
        "excess_penetration": None,
        "root_concavity": None,
    }
    if case.root_face is not None:
        root = _dense(case.root_face)
        first, second = _line(case, "back_1"), _line(case, "back_2")
        heights = np.stack([first.across(root), second.across(root)])
        found["root_width"] = float(np.hypot(*(root[-1] - root[0])))
        found["excess_penetration"] = max(0.0, float(heights.max(axis=0).max()))
        found["root_concavity"] = max(0.0, float((-heights).min(axis=0).max()))
    return found


def _depth_to_width(case: Case) -> float:
    a, b = case.face[0], case.face[-1]
    width = float(np.hypot(*(b - a)))
    axis = np.array([-(b - a)[1], (b - a)[0]]) / width
    middle = (a + b) / 2
    ring = np.concatenate([case.weld, case.weld[:1]]) - middle
    side, ahead = ring @ ((b - a) / width), ring @ axis
    cut = np.nonzero((side[:-1] <= 0) != (side[1:] <= 0))[0]
    share = side[cut] / (side[cut] - side[cut + 1])
    hits = ahead[cut] + share * (ahead[cut + 1] - ahead[cut])
    return float(np.ptp(hits)) / width
