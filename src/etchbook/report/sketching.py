"""Pencil work: hatching of the weld metal along its solidification direction, dots for the HAZ."""

import numpy as np

from etchbook.geometry import arc_length, contains, normals, resample
from etchbook.report.svg import Points
from etchbook.section import Outline

_LENGTHS = (1.0, 0.62, 0.86, 0.5)


def fusion_chains(outline: Outline) -> list[Points]:
    """The fusion lines, (n, 2) each, turned so that the second goes on where the first ends."""
    found = [outline.boundaries.get(name) for name in ("fusion_line_1", "fusion_line_2")]
    parts = [np.asarray(part.points, float) for part in found if part is not None and len(part.points) > 1]
    if len(parts) < 2:
        return parts
    first, second = parts
    ways = [[a, b] for a in (first, first[::-1]) for b in (second, second[::-1])]
    return min(ways, key=lambda pair: float(np.hypot(*(pair[0][-1] - pair[1][0]))))


def hatching(outline: Outline, step: float) -> list[Points]:
    """Curves that grow square from the fusion line and bend up towards the weld's axis, as the metal froze.

    Parameters
    ----------
    outline : in the unit that `step` is in
    step : distance of neighbouring curves on the fusion line

    Returns
    -------
    list of (k, 2)
        Of four neighbouring curves only one runs nearly to the axis, so that they do not crowd there.
    """
    face, chains = outline.boundaries.get("weld_face"), fusion_chains(outline)
    if face is None or not chains or len(face.points) < 2:
        return []
    middle = _middle(np.asarray(face.points, float))
    deep = _middle(chains[0]) if len(chains) == 1 else (chains[0][-1] + chains[1][0]) / 2
    grown = [curve for part in chains if np.ptp(part, axis=0).max() > 0 for curve in _grown(part, step, deep, middle)]
    kept = [_within(curve, outline.weld) for curve in grown]
    return [curve for curve in kept if len(curve) > 1]


def _within(curve: Points, weld: tuple[Points, ...]) -> Points:
    """A curve up to where it would leave the weld metal, as it may where the weld face is hollow."""
    if not weld:
        return curve
    inside = np.any([contains(ring, curve[1:]) for ring in weld], axis=0)
    return curve if inside.all() else curve[: int(np.argmin(inside)) + 1]


def _grown(fusion: Points, step: float, deep: Points, middle: Points) -> list[Points]:
    roots = resample(fusion, step)
    targets = _targets(roots, deep, middle)
    ways = normals(roots)
    # Square to the fusion line, on the side where the weld metal lies.
    ways *= np.sign(((targets - roots) * ways).sum(axis=1, keepdims=True))
    rows = list(zip(roots, ways, targets, strict=True))[1:-1]
    return [_curve(*row, 0.92 * _LENGTHS[index % len(_LENGTHS)]) for index, row in enumerate(rows)]


def _targets(roots: Points, deep: Points, middle: Points) -> Points:
    """Where each curve is heading: the point of the axis somewhat nearer to the face than its own start."""
    axis = middle - deep
    share = np.clip((roots - deep) @ axis / max(float(axis @ axis), 1e-9), 0.0, 1.0)
    return np.asarray(deep + (0.5 + 0.5 * share)[:, None] * axis)


def _middle(chain: Points) -> Points:
    run = arc_length(chain)
    half = run[-1] / 2
    return np.array([np.interp(half, run, chain[:, 0]), np.interp(half, run, chain[:, 1])])


def _curve(root: Points, way: Points, target: Points, share: float) -> Points:
    reach = float(np.hypot(*(target - root)))
    end = root + share * (target - root)
    bend = root + 0.45 * share * reach * way
    t = np.linspace(0, 1, 9)[:, None]
    return np.asarray((1 - t) ** 2 * root + 2 * t * (1 - t) * bend + t**2 * end)


def haz_bands(outline: Outline) -> list[Points]:
    """Closed contours of the HAZ, (n, 2) each: as read, or between fusion line and HAZ edge."""
    if outline.haz:
        return [np.asarray(ring, float) for ring in outline.haz]
    bands = []
    for member in ("1", "2"):
        edge, fusion = outline.boundaries.get(f"haz_edge_{member}"), outline.boundaries.get(f"fusion_line_{member}")
        if edge is None or fusion is None or len(edge.points) < 2 or len(fusion.points) < 2:
            continue
        inner, outer = np.asarray(fusion.points, float), np.asarray(edge.points, float)
        if np.hypot(*(outer[0] - inner[0])) + np.hypot(*(outer[-1] - inner[-1])) < np.hypot(
            *(outer[-1] - inner[0])
        ) + np.hypot(*(outer[0] - inner[-1])):
            outer = outer[::-1]
        bands.append(np.concatenate([inner, outer]))
    return bands


def stipple(band: Points, step: float, weld: list[Points]) -> Points:
    """Dots in staggered rows inside a closed contour and outside the weld metal, (n, 2)."""
    low, high = band.min(axis=0), band.max(axis=0)
    # Whole multiples of the step, so that the dots of neighbouring bands stand in one pattern.
    rows = np.arange(np.floor(low[1] / step), np.ceil(high[1] / step) + 1)
    columns = np.arange(np.floor(low[0] / step), np.ceil(high[0] / step) + 1)
    x, y = np.meshgrid(columns, rows)
    points = np.stack([(x + 0.5 * (y % 2)) * step, y * step], axis=2).reshape(-1, 2)
    points = points[contains(band, points)]
    for ring in weld:
        points = points[~contains(ring, points)]
    return points
