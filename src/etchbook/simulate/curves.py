"""Curves that sections are made of; all in mm."""

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.ndimage import gaussian_filter1d

Array = NDArray[np.float64]


def run_of(chain: Array) -> Array:
    """Distance run along a chain up to each of its points, (n,)."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(chain, axis=0).T))])


def dense(chain: Array, count: int = 3000) -> Array:
    """`count` points at equal distances along a chain."""
    run = run_of(chain)
    at = np.linspace(0, run[-1], count)
    return np.stack([np.interp(at, run, chain[:, 0]), np.interp(at, run, chain[:, 1])], axis=1)


def spline(points: list[Array], count: int = 60) -> Array:
    """A smooth chain of `count` points through a few."""
    knots = np.array(points, float)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(knots, axis=0).T) ** 0.6)])
    return np.asarray(CubicSpline(run, knots)(np.linspace(0, run[-1], count)))


def normals(chain: Array) -> Array:
    """Unit normals, a quarter turn on from the running direction, (n, 2)."""
    slope = np.gradient(chain, axis=0)
    return np.asarray(np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.maximum(np.hypot(*slope.T), 1e-9)[:, None])


def waves(rng: np.random.Generator, count: int, size: float, low: float = 4, high: float = 25) -> Array:
    """Smooth random numbers of standard deviation `size` that die out at both ends."""
    field = gaussian_filter1d(rng.standard_normal(count + 200), rng.uniform(low, high))[100:-100]
    return np.asarray(field * size / max(float(field.std()), 1e-9) * np.sin(np.linspace(0, np.pi, count)) ** 0.5)


def bulged(rng: np.random.Generator, a: Array, b: Array, bulge: float, skew: float, out: Array) -> Array:
    """Weld face from `a` to `b` standing about `bulge` out of its chord: rounder or flatter, one-sided, rippled."""
    u = np.linspace(0, 1, 400)
    hump = 4 * u * (1 - u)
    power = float(rng.uniform(0.75, 1.6)) if bulge >= 0 else float(rng.uniform(0.9, 1.3))
    hump = hump**power * (1 + skew * (u - 0.5))
    length = float(np.hypot(*(b - a)))
    height = bulge * hump
    if rng.uniform() < 0.2:
        runs = int(rng.integers(2, 5))
        height = height + rng.uniform(0.005, 0.02) * length * np.abs(np.sin(np.pi * runs * u)) * hump
    if rng.uniform() < 0.4:
        height = height + waves(rng, 400, rng.uniform(0.001, 0.008) * length, 12, 40) * hump
    return np.asarray(a + (b - a) * u[:, None] + height[:, None] * out)


def deepened(fusion: Array, away: Array, up: Array, cut: float, reach: float) -> Array:
    """A fusion line that leaves its first point steeply enough for an undercut of depth `cut` inside the weld."""
    if _depth_below(fusion, fusion[0], away, up, np.array([0.8 * cut]))[0] > 1.9 * cut:
        return fusion
    run = run_of(fusion)
    below = -(fusion - fusion[0]) @ up
    wanted = 2.2 * cut * (1 - np.exp(-run / (0.35 * cut + 1e-9))) * np.exp(-((run / reach) ** 2))
    return np.asarray(fusion - np.maximum(wanted - np.maximum(below, 0), 0)[:, None] * up)


def undercut(face: Array, fusion: Array, away: Array, up: Array, depth: float) -> Array:
    """The face with a groove beside its first point, always kept well above the fusion line.

    Parameters
    ----------
    face, fusion : (n, 2) from this toe on
    away, up : unit vectors along the plate away from the weld, and out of the metal
    depth : wanted depth of the groove [mm]
    """
    length, run, toe = float(np.hypot(*(face[-1] - face[0]))), run_of(face), face[0]
    wide = min(0.3 * length, max(2.6 * depth, 0.05 * length))
    near = int(np.argmax(run > wide))
    run, near = np.concatenate([np.linspace(0, wide, 120), run[near:]]), 120
    face = _at(face, run)
    share = np.clip(run / wide, 0, 1)
    inward, height = -(face - toe) @ away, (face - toe) @ up
    bowl = depth * np.sin(np.pi * share**0.8)
    room = _depth_below(fusion, toe, away, up, inward[:near])
    bowl[:near] = np.minimum(bowl[:near], 0.55 * room)
    height = height * np.where(share < 1, share**2 * (3 - 2 * share), 1) - np.where(share < 1, bowl, 0)
    return np.asarray(toe - inward[:, None] * away + height[:, None] * up)


def crosses(first: Array, second: Array) -> bool:
    """Whether two chains cut each other."""

    def sides(chain: Array, other: Array) -> Array:
        way = np.diff(chain, axis=0)[:, None]
        off = other[None] - chain[:-1, None]
        side = way[..., 0] * off[..., 1] - way[..., 1] * off[..., 0]
        return np.asarray(side[:, :-1] * side[:, 1:])

    return bool(((sides(first, second) < 0) & (sides(second, first).T < 0)).any())


def groove_depth(face: Array, up: Array) -> float:
    """Depth of the first hollow of a face below its first point; 0 when it only rises, or only falls away."""
    height = (face - face[0]) @ up
    rising = np.nonzero(np.diff(height) > 1e-9)[0]
    return max(0.0, -float(height[rising[0]])) if len(rising) else 0.0


def _at(chain: Array, run: Array) -> Array:
    own = run_of(chain)
    return np.stack([np.interp(run, own, chain[:, k]) for k in (0, 1)], axis=1)


def _depth_below(fusion: Array, toe: Array, away: Array, up: Array, inward: Array) -> Array:
    """Depth of the fusion line at distances inward from the toe."""
    along, deep = -(fusion - toe) @ away, -(fusion - toe) @ up
    # The line may bulge outward beneath the toe and come back; the shallowest of its crossings counts.
    a, b = along[None, :-1] - inward[:, None], along[None, 1:] - inward[:, None]
    cut = (a * b <= 0) & (a != b)
    share = np.where(cut, a / np.where(cut, a - b, 1.0), 0.0)
    depth = np.where(cut, deep[:-1] + share * np.diff(deep), np.inf)
    depth[:, : max(1, len(along) // 100)] = np.where(inward[:, None] < 1e-6, 0.0, depth[:, : max(1, len(along) // 100)])
    return np.asarray(np.clip(np.where(np.isfinite(depth.min(axis=1)), depth.min(axis=1), 0.0), 0, None))


def overlapped(face: Array, away: Array, up: Array, overlap: float) -> Array:
    """The face with a lap of this length [mm] that lies unfused on the plate beyond its first point."""
    length, run = float(np.hypot(*(face[-1] - face[0]))), run_of(face)
    join = int(np.argmax(run > max(0.15 * length, 1.2 * overlap)))
    # A hair of air under the lap keeps the contour from touching itself.
    foot = face[0] + 0.94 * overlap * away + 0.004 * up
    nose = face[0] + overlap * away + 0.25 * overlap * up
    bent = spline([foot, nose, face[join], face[join + 6]])
    return np.concatenate([face[:1], bent[:-1], face[join + 6 :]])


def wedge_reach(centre: Array, ways: Array, rays: tuple[tuple[Array, float], ...]) -> Array:
    """How far from `centre` along unit `ways` (n, 2) the first of some rays from the origin lies; 0 where none does."""
    best = np.full(len(ways), np.inf)
    for ray, stop in rays:
        cross = ways[:, 0] * ray[1] - ways[:, 1] * ray[0]
        with np.errstate(divide="ignore", invalid="ignore"):
            reach = (centre[1] * ray[0] - centre[0] * ray[1]) / cross
            along = (centre + reach[:, None] * ways) @ ray
        good = np.isfinite(reach) & (reach > 0) & (along >= 0) & (along <= stop)
        best = np.where(good & (reach < best), reach, best)
    return np.where(np.isfinite(best), best, 0.0)


def round_fusion(
    rng: np.random.Generator,
    centre: Array,
    through: list[Array],
    rays: tuple[tuple[Array, float], ...],
    free: tuple[Array, Array] | None,
    wave: float,
    finger: tuple[float, float, float] = (0.0, 0.5, 0.1),
    roofs: tuple[tuple[Array, Array], ...] = (),
    count: int = 500,
) -> Array:
    """A fusion line seen from a point inside the weld: it never crosses itself and always lies in the plate.

    Parameters
    ----------
    through : points from toe 1 to toe 2
    rays : original plate surfaces from the joint root, each with its length [mm]
    free : two points between which it need not reach the plate (root missed), or None
    finger : height [mm], place (0 to 1 along the line) and width of a deep finger
    roofs : plate surfaces (a point, the normal out of the metal) beyond the original corner that it stays under
    """
    points = np.array(through)
    angles = np.unwrap(np.arctan2(*(points - centre).T[::-1]))
    sense = np.sign(angles[-1] - angles[0])
    keep = [0]
    for k in range(1, len(angles) - 1):
        if sense * (angles[k] - angles[keep[-1]]) > 0.03 and sense * (angles[-1] - angles[k]) > 0.03:
            keep.append(k)
    keep.append(len(angles) - 1)
    radii = np.hypot(*(points - centre).T)
    phi = np.linspace(angles[0], angles[-1], count)
    r = PchipInterpolator(sense * angles[keep], radii[keep])(sense * phi)
    u = np.linspace(0, 1, count)
    r = r + finger[0] * np.exp(-(((u - finger[1]) / finger[2]) ** 2))
    ways = np.stack([np.cos(phi), np.sin(phi)], axis=1)
    plate = wedge_reach(centre, ways, rays)
    dip = 0.03 * float(radii.mean()) * np.sin(np.pi * u)
    bound = np.ones(count, bool)
    if free is not None:
        ends = np.unwrap([angles[0], *[np.arctan2(*(p - centre)[::-1]) for p in free]])[1:]
        inside = (sense * phi > sense * ends[0]) & (sense * phi < sense * ends[1])
        bound = ~inside
        dip = dip * np.clip(np.minimum(np.abs(phi - ends[0]), np.abs(phi - ends[1])) / 0.15, 0, 1)
    r = np.where(bound, np.maximum(r, plate + dip), r)
    r = r + waves(rng, count, wave) * (1 if free is None else bound)
    r[3:-3] = gaussian_filter1d(r, 2.5)[3:-3]
    from_end = np.minimum(np.abs(phi - phi[0]), np.abs(phi - phi[-1]))
    for point, up in roofs:
        rise = ways @ up
        limit = ((point - centre) @ up) / np.where(rise > 1e-6, rise, 1e-6)
        r = np.minimum(r, limit * (1 - 0.3 * np.clip(from_end, 0, 0.2)))
    chain = centre + r[:, None] * ways
    chain[0], chain[-1] = points[0], points[-1]
    return np.asarray(chain)


def pool(count: int, finger: float, shoulder: float, power: float) -> tuple[Array, Array]:
    """Half width (0 to 1) of a melted pool over its depth (0 to 1); `finger`: share of the width that goes deep."""
    v = 1 - (1 - np.linspace(0, 1, count)) ** 2
    dish = np.sqrt(np.clip(1 - np.minimum(v / shoulder, 1) ** power, 0, None))
    deep = np.sqrt(np.clip(1 - v ** (1.2 + 2 * power), 0, None))
    half = (1 - finger) * dish + finger * deep
    half[:-2] = gaussian_filter1d(half, 0.012 * count, mode="nearest")[:-2]
    half[0], half[-1] = 1.0, 0.0
    return v, np.maximum.accumulate(half[::-1])[::-1]
