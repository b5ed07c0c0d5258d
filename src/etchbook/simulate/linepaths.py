"""Where painted indications run, in mm in the joint's own frame."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d
from scipy.spatial import cKDTree

from etchbook.geometry import contains
from etchbook.simulate.cases import Case
from etchbook.simulate.covers import weld_and_air
from etchbook.simulate.curves import Array, dense, run_of
from etchbook.simulate.lines import LineSpec
from etchbook.simulate.placing import Placing

Size = tuple[int, int]
Paths = tuple[tuple[Array, ...], float]
"""Middle lines of one indication, and the free length they were laid into [mm]."""
MARGIN = 6.0


def paths_of(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """Middle lines of an indication; none where the picture has no room for it."""
    maker = _MAKERS.get(spec.kind, _along_plate)
    return maker(spec, case, placing, size, rng)


def member_frame(case: Case, number: int) -> tuple[Array, Array, Array, float]:
    """A point of a member's surface, the direction along it, the unit normal into the metal, and the thickness."""
    top = "top_2" if case.family == "lap" and number == 2 else f"surface_{number}"
    point, way, out = case.lines[top]
    thickness = abs(float((case.lines[f"back_{number}"][0] - point) @ out))
    return point, way, -out, thickness


def depth_fraction(case: Case, number: int, points: Array) -> float:
    """Depth of the middle of some points below the member's surface, over its thickness."""
    point, _, inward, thickness = member_frame(case, number)
    return float(((points - point) @ inward).mean()) / thickness


def _number(spec: LineSpec) -> int:
    return 2 if spec.where == "member_2" else 1


def _wander(spec: LineSpec, run: Array, rng: np.random.Generator) -> Array:
    if spec.waviness <= 0 or len(run) < 3:
        return np.zeros(len(run))
    step = max(float(run[1] - run[0]), 1e-6)
    width = max(0.25 * spec.jagged / step, 0.5)
    field = gaussian_filter1d(rng.standard_normal(len(run)), width, mode="wrap")
    return np.asarray(spec.waviness * (field - field.mean()) / max(float(field.std()), 1e-9))


def _free(spec: LineSpec, case: Case, placing: Placing, size: Size, points: Array) -> NDArray[np.bool_]:
    """Which points of a member the picture shows as metal that the indication may run in."""
    number = _number(spec)
    px = placing.px(points)
    seen = ((px > MARGIN) & (px < np.array(size) - 1 - MARGIN)).all(axis=1)
    good = seen & contains(case.members[number - 1], points)
    welds = [one for one in (case, case.second) if one is not None]
    if spec.fusion == "stops":
        good &= ~contains(weld_and_air(case), points)
        for one in welds[1:]:
            good &= ~contains(one.weld, points)
    if spec.haz == "stops":
        for one in welds:
            away, index = cKDTree(one.fusion).query(points)
            good &= away > one.haz[index]
    return np.asarray(good)


def _longest(good: NDArray[np.bool_]) -> slice:
    edges = np.diff(np.concatenate([[0], good.astype(int), [0]]))
    starts, stops = np.nonzero(edges == 1)[0], np.nonzero(edges == -1)[0]
    if not len(starts):
        return slice(0, 0)
    best = int(np.argmax(stops - starts))
    return slice(int(starts[best]), int(stops[best]))


def _room(spec: LineSpec, case: Case, placing: Placing, size: Size, deep: float) -> Array:
    """Runs along the member [mm], at a depth [mm], of the longest free stretch that the picture shows."""
    point, way, inward, _ = member_frame(case, _number(spec))
    middle = float((placing.centre - point) @ way)
    reach = 1.2 * float(np.hypot(*size)) / placing.px_per_mm
    s = middle + np.arange(-reach, reach, 0.02)
    free = _free(spec, case, placing, size, point + deep * inward + s[:, None] * way)
    return np.asarray(s[_longest(free)])


def _part(room: Array, spec: LineSpec) -> Array:
    length = float(room[-1] - room[0])
    start = room[0] + spec.at * (1 - spec.share) * length
    return np.arange(start, start + spec.share * length, 0.02)


def _along_plate(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    point, way, inward, thickness = member_frame(case, _number(spec))
    lines, free = [], 0.0
    for k in range(spec.count):
        deep = spec.depth_fraction * thickness + (k - (spec.count - 1) / 2) * spec.spacing
        if not 0.02 * thickness < deep < 0.98 * thickness:
            continue
        room = _room(spec, case, placing, size, deep)
        if len(room) < 20:
            continue
        s = _part(room, spec)
        off = deep + (s - s.mean()) * np.tan(np.radians(spec.angle)) + _wander(spec, s, rng)
        lines.append(point + off[:, None] * inward + s[:, None] * way)
        free = max(free, float(room[-1] - room[0]))
    return tuple(lines), free


def _rolled_in(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """From the rolled face slantwise down to the depth, then flat."""
    point, way, inward, thickness = member_frame(case, _number(spec))
    deepest = spec.depth_fraction * thickness
    room = _room(spec, case, placing, size, deepest)
    if len(room) < 20:
        return (), 0.0
    s = _part(room, spec)
    off = np.minimum((s - s[0]) * np.tan(np.radians(spec.angle)), deepest) + np.abs(_wander(spec, s, rng))
    return (point + off[:, None] * inward + s[:, None] * way,), float(room[-1] - room[0])


def _tear(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """Terraces along the plate joined by short walls, beneath the weld."""
    point, way, inward, thickness = member_frame(case, 1)
    room = _room(spec, case, placing, size, spec.depth_fraction * thickness)
    if len(room) < 20:
        return (), 0.0
    under = float((case.fusion.mean(axis=0) - point) @ way)
    half = 0.5 * spec.share * min(float(np.ptp((case.fusion - point) @ way)) * 1.6, float(room[-1] - room[0]))
    middle = float(np.clip(under, room[0] + half, room[-1] - half))
    knots = np.sort(rng.uniform(middle - half, middle + half, max(spec.count - 1, 1)))
    edges = np.concatenate([[middle - half], knots, [middle + half]])
    levels = spec.depth_fraction * thickness + spec.spacing * np.cumsum(rng.choice([-1, 1], len(edges) - 1))
    levels -= levels.mean() - spec.depth_fraction * thickness
    corners = [(s, d) for k, d in enumerate(levels) for s in (edges[k], edges[k + 1])]
    chain = np.array([point + d * inward + s * way for s, d in corners])
    return (dense(chain, max(int(run_of(chain)[-1] / 0.02), 10)),), float(room[-1] - room[0])


def _by_fusion(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """On the fusion line of a member, or beside it in the plate."""
    points = case.fusion[case.beside == _number(spec)]
    if len(points) < 10:
        return (), 0.0
    chain = dense(points, max(int(run_of(points)[-1] / 0.02), 20))
    length = float(run_of(chain)[-1])
    first = int((0.08 + 0.84 * spec.at * (1 - spec.share)) * len(chain))
    chain = chain[first : first + max(int(0.84 * spec.share * len(chain)), 10)]
    slope = gaussian_filter1d(np.gradient(chain, axis=0), 8, axis=0, mode="nearest")
    normal = np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.hypot(*slope.T)[:, None]
    outward = normal if not contains(case.weld, chain + 0.1 * normal).mean() > 0.5 else -normal
    off = spec.spacing + _wander(spec, run_of(chain), rng)
    chain = chain + off[:, None] * outward
    px = placing.px(chain)
    seen = ((px > MARGIN) & (px < np.array(size) - 1 - MARGIN)).all(axis=1)
    part = chain[_longest(seen & contains(case.members[_number(spec) - 1], chain))]
    return ((part,), length) if len(part) > 8 else ((), length)


def _in_weld(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """Up the middle of the weld metal from its root towards its face."""
    face = dense(case.face, 400)
    top = face[200]
    chord = case.face[-1] - case.face[0]
    axis = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
    steps = np.arange(0, 60, 0.02)
    for sign in (1.0, -1.0):
        column = top + sign * steps[:, None] * axis
        inside = contains(case.weld, column)
        inside[:2] = True
        stop = int(np.argmin(inside)) if not inside.all() else len(inside)
        if stop > 15:
            break
    length = stop * 0.02
    first = int(spec.at * (1 - spec.share) * stop)
    column = column[first : first + max(int(spec.share * stop), 5)]
    way = chord / np.hypot(*chord)
    return (column + _wander(spec, steps[: len(column)], rng)[:, None] * way,), length


def _across(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """A straight line over everything, laid out in the picture."""
    long = spec.share * min(size)
    way = np.array([np.cos(np.radians(spec.angle)), np.sin(np.radians(spec.angle))])
    middle = placing.px(case.weld.mean(axis=0))[0] + (spec.at - 0.5) * 0.6 * min(size) * np.array([-way[1], way[0]])
    ends = middle + np.linspace(-long / 2, long / 2, 60)[:, None] * way
    return (placing.mm(ends),), long / placing.px_per_mm


def _downhill(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """From the weld's edge straight down the picture, as what bleeds out runs."""
    start = placing.px(case.face[0] if spec.where == "member_1" else case.face[-1])[0]
    start = start + np.array([(spec.at - 0.5) * 0.3 * size[0], 0.0])
    stop = start + np.array([0.0, spec.share * size[1]])
    chain = start + np.linspace(0, 1, 60)[:, None] * (stop - start)
    return (placing.mm(chain),), float(size[1]) / placing.px_per_mm


def _blobs(spec: LineSpec, case: Case, placing: Placing, size: Size, rng: np.random.Generator) -> Paths:
    """Closed lumpy contours inside the weld metal."""
    low, high = case.weld.min(axis=0), case.weld.max(axis=0)
    rings: list[Array] = []
    for _ in range(60 * spec.count):
        if len(rings) == spec.count:
            break
        middle, turn = rng.uniform(low, high), np.linspace(0, 2 * np.pi, 60, endpoint=False)
        lump = 1 + 0.25 * np.cos(2 * turn + rng.uniform(0, 6)) + 0.12 * np.cos(3 * turn + rng.uniform(0, 6))
        ring = middle + 0.5 * spec.width * lump[:, None] * np.stack([np.cos(turn), np.sin(turn)], axis=1)
        apart = all(np.hypot(*(other.mean(axis=0) - middle)) > 2 * spec.width for other in rings)
        if apart and contains(case.weld, middle + 1.6 * (ring - middle)).all():
            rings.append(ring)
    return tuple(rings), float(np.ptp(case.weld, axis=0).max())


_MAKERS: dict[str, Callable[[LineSpec, Case, Placing, Size, np.random.Generator], Paths]] = {
    "rolled_in": _rolled_in,
    "lamellar_tear": _tear,
    "haz_crack": _by_fusion,
    "lack_of_fusion": _by_fusion,
    "solidification_crack": _in_weld,
    "grain_boundary": _in_weld,
    "scratch": _across,
    "stain": _downhill,
    "slag": _blobs,
}
