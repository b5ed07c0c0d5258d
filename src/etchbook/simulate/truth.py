"""True dimensions of a case, by dense geometry of its own, in mm, mm² and °. Written apart from the reader."""

from collections.abc import Mapping

import numpy as np

from etchbook.geometry import area, clip_half_plane, contains, largest_isosceles_height
from etchbook.geometry.lines import Line, through
from etchbook.simulate.cases import Case, Plane
from etchbook.simulate.curves import Array, dense, groove_depth, run_of
from etchbook.simulate.hazedge import HazEdge, haz_edge

Values = dict[str, float | None]


def true_dimensions(case: Case) -> Values:
    """What the section's dimensions are by the shared definitions; None (or no entry) where it has no such thing."""
    return true_with_edges(case, {number: haz_edge(case, number) for number in range(1, len(case.members) + 1)})


def true_with_edges(case: Case, edges: Mapping[int, HazEdge]) -> Values:
    """The same where the HAZ edges are at hand already."""
    found = _areas(case) | _thicknesses(case) | _depths(case) | _hazes(edges)
    for toe in ("1", "2"):
        found |= _toe(case, toe)
    if case.family in ("tee", "lap"):
        found |= _fillet(case)
    if case.family in ("tee", "lap", "corner"):
        found |= _rooted(case)
    if case.family in ("butt", "bead"):
        found |= _flat(case)
    if case.family == "butt":
        found |= _butt(case)
    if case.family != "bead":
        found["throat"] = float(np.hypot(*(dense(case.face, 20000) - case.root).T).min())
    return found


def _heights(plane: Plane, points: Array) -> Array:
    """How far points stand out of the metal above a plate line."""
    return np.asarray((points - plane[0]) @ plane[2])


def _areas(case: Case) -> Values:
    weld = area(case.weld)
    fused = sum(shared_area(case.weld, member) for member in case.members)
    return {
        "weld_area": weld,
        "fused_plate_area": fused,
        "deposited_area": weld - fused,
        "dilution": fused / weld,
        "pore_area_percent": 100 * sum(area(pore) for pore in case.pores) / weld,
        "depth_to_width": _depth_to_width(case),
    }


def shared_area(polygon: Array, member: Array) -> float:
    """Area of a polygon inside a convex member."""
    middle, part = member.mean(axis=0), polygon
    for k in range(len(member)):
        a, b = member[k], member[(k + 1) % len(member)]
        if np.hypot(*(b - a)) < 1e-9:
            continue
        line = through(a, b) if through(a, b).across(middle)[0] > 0 else through(b, a)
        part = clip_half_plane(part, line)
        if len(part) < 3:
            return 0.0
    return area(part)


def _thicknesses(case: Case) -> Values:
    found: Values = {}
    for member in range(1, len(case.members) + 1):
        top = "top_2" if case.family == "lap" and member == 2 else f"surface_{member}"
        found[f"thickness_{member}"] = abs(float(_heights(case.lines[top], case.lines[f"back_{member}"][0][None])[0]))
    return found


def _depths(case: Case) -> Values:
    found: Values = {}
    for number in range(1, len(case.members) + 1):
        points = case.fusion[case.beside == number]
        planes = _edges_of(case, number) if case.family in ("corner", "butt") else [case.lines[f"surface_{number}"]]
        # A V edge has two faces; a point's depth is its distance from the nearer one.
        depth = np.min([-_heights(plane, points) for plane in planes], axis=0) if len(points) else np.zeros(1)
        found[f"penetration_{number}"] = max(0.0, float(depth.max()))
    return found


def _edges_of(case: Case, number: int) -> list[Plane]:
    """The original end faces of a member of a corner or butt, with normals out of its metal."""
    member = case.members[number - 1]
    middle, planes = member.mean(axis=0), []
    lines = [case.lines[f"surface_{number}"], case.lines[f"back_{number}"]]
    far = member[np.argmax(np.hypot(*(member - case.root).T))]
    for k in range(len(member)):
        a, b = member[k], member[(k + 1) % len(member)]
        if np.hypot(*(b - a)) < 1e-6 or any(np.abs(_heights(line, np.array([a, b]))).max() < 1e-9 for line in lines):
            continue
        way = (b - a) / np.hypot(*(b - a))
        if abs((far - a) @ np.array([-way[1], way[0]])) < 1e-6:
            continue
        normal = np.array([-way[1], way[0]])
        planes.append((a, way, normal if (middle - a) @ normal < 0 else -normal))
    return planes


def _hazes(edges: Mapping[int, HazEdge]) -> Values:
    """Width where the normal from the fusion line meets the HAZ edge inside the member."""
    found: Values = {}
    widest: list[float] = []
    for number, edge in edges.items():
        if edge.share < 0.25:
            found[f"haz_width_{number}"] = None
            continue
        found[f"haz_width_{number}"] = float(np.average(edge.widths, weights=edge.weights))
        widest.append(float(edge.widths.max()))
    found["haz_width_max"] = max(widest) if widest else None
    return found


def _toe(case: Case, toe: str) -> Values:
    point, away, up = case.lines[f"toe_{toe}"]
    face = dense(case.face if toe == "1" else case.face[::-1], 20000)
    run = run_of(face)
    near = run < 0.35 * run[-1]
    cut, lapped = case.sizes.get(f"undercut_{toe}", 0.0) > 0, case.sizes.get(f"overlap_{toe}", 0.0) > 0
    start = 0
    if lapped:
        start = int(np.argmax((face - point) @ up > 0.02))
    step = min(0.03 * run[-1], 0.15)
    stop = int(np.argmax(run > run[start] + step))
    tangent = face[stop] - face[start]
    angle = float(np.degrees(np.arctan2(tangent @ up, tangent @ away))) % 360
    return {
        f"undercut_{toe}": groove_depth(face, up) if cut else 0.0,
        f"overlap_{toe}": float(((face[near] - point) @ away).max()) if lapped else 0.0,
        f"toe_angle_{toe}": angle,
    }


def _fillet(case: Case) -> Values:
    away = case.lines["surface_2"][1]
    z1, z2 = float(case.face[0, 0]), float(case.face[-1] @ away)
    angle = float(np.arctan2(away[1], away[0]))
    depth = _root_depth(case)
    nominal = largest_isosceles_height(dense(case.face, 20000), z1, z2, angle)
    return {
        "leg_1": z1,
        "leg_2": z2,
        "asymmetry": abs(z1 - z2),
        "theoretical_throat": abs(float(through(case.face[0], case.face[-1]).across(case.root)[0])),
        "nominal_throat": nominal,
        "deep_throat": nominal + max(depth, 0.0),
    }


def _rooted(case: Case) -> Values:
    chord = through(case.face[0], case.face[-1])
    away = -chord.across(dense(case.face, 20000)) * np.sign(float(chord.across(case.root)[0]))
    depth = _root_depth(case)
    return {
        "convexity": float(away[int(np.argmax(np.abs(away)))]),
        "root_penetration": max(depth, 0.0),
        "missed_root": max(-depth, 0.0),
    }


def _root_depth(case: Case) -> float:
    """Run from the root along the bisector to the weld's edge: positive when melted, else minus what is lacking."""
    if case.family == "corner":
        toward = case.lines["surface_1"][2] + case.lines["surface_2"][2]
    else:
        toward = case.lines["surface_1"][1] + case.lines["surface_2"][1]
    toward = toward / np.hypot(*toward)
    melted = bool(contains(case.weld, case.root)[0])
    hits = _hits(case.weld, case.root, -toward if melted else toward)
    return float(hits[0]) * (1 if melted else -1)


def _hits(ring: Array, origin: Array, way: Array) -> Array:
    """Runs from `origin` along `way` at which a closed contour is crossed, ascending."""
    off = np.concatenate([ring, ring[:1]]) - origin
    side, ahead = off @ np.array([-way[1], way[0]]), off @ way
    cut = np.nonzero((side[:-1] <= 0) != (side[1:] <= 0))[0]
    share = side[cut] / (side[cut] - side[cut + 1])
    hits = ahead[cut] + share * (ahead[cut + 1] - ahead[cut])
    return np.sort(hits[hits >= 0])


def _flat(case: Case) -> Values:
    chord: Line = through(case.face[0], case.face[-1])
    rise = chord.across(dense(case.face, 20000))
    rise = rise if chord.across(dense(case.fusion).mean(axis=0))[0] < 0 else -rise
    return {
        "weld_width": float(np.hypot(*(case.face[-1] - case.face[0]))),
        "excess_weld_metal": max(0.0, float(rise.max())),
    }


def _butt(case: Case) -> Values:
    face = dense(case.face, 20000)
    below = np.minimum(*(-_heights(case.lines[f"surface_{k}"], face) for k in (1, 2)))
    one, two = case.lines["surface_1"], case.lines["surface_2"]
    found: Values = {
        "misalignment": abs(float(_heights(one, two[0][None])[0])),
        "incompletely_filled": max(0.0, float(below.max())),
    }
    if case.root_face is not None:
        root = dense(case.root_face, 6000)
        rise = np.stack([_heights(case.lines[f"back_{k}"], root) for k in (1, 2)])
        found["root_width"] = float(np.hypot(*(root[-1] - root[0])))
        found["excess_penetration"] = max(0.0, float(rise.min(axis=0).max()))
        found["root_concavity"] = max(0.0, float((-rise).min(axis=0).max()))
    return found


def _depth_to_width(case: Case) -> float:
    """Along the axis square to the chord through its middle; pores do not count."""
    a, b = case.face[0], case.face[-1]
    width = float(np.hypot(*(b - a)))
    axis = np.array([-(b - a)[1], (b - a)[0]]) / width
    hits = _hits(case.weld, (a + b) / 2 - 1000 * axis, axis)
    return float(hits[-1] - hits[0]) / width
