"""How a picture blurs what lies near a line: told from the metal's own straight edges there, halo and all."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from scipy.special import ndtr

from etchbook.picture import Picture
from etchbook.picture.sharpness import OFFSETS, Edge, edges_at, half_way
from etchbook.section.indications.profiles import NO_HALO, RISE, Halo
from etchbook.section.records import SURROUNDINGS, Regions

Array = NDArray[np.float64]
MOST = 72
"""Places on the metal's rim that are looked at."""
FEWEST, ENOUGH = 5, 14
ALONG_DEGREES = 20.0
BLURS = np.geomspace(0.4, 6.0, 40)
REACHES = (1.0, 1.5, 2.2, 3.2)
LEAST_HALO, LARGEST_HALO, HALO_PRICE = 0.05, 1.6, 2e-6
NEAR = 10.0
"""How far to each side an edge is fitted [px]."""
LEAST_SHARE = 0.04
"""No blur is known better than this share of itself; planning value, from painted edges."""
BLACK, BURNT = 0.02, 0.95
UNKNOWN_SHARE = 0.3
SOFTEST = 1.35
"""An edge softer than this many times the usual one near by is soft by nature."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Kernel:
    """The picture's blur near a line.

    Parameters
    ----------
    blur : standard deviation [px]; u : its standard uncertainty
    halo : what sharpening has added: its share and how much further it reaches [px]
    """

    blur: float
    u: float
    halo: Halo = NO_HALO


def rim_edges(picture: Picture, regions: Regions) -> list[Edge]:
    """Clear straight edges along the rim of the metal: nothing printed over the picture is among them."""
    metal = regions.labels != SURROUNDINGS
    rim = metal & ~ndimage.binary_erosion(metal, border_value=1)
    row, column = np.nonzero(rim)
    places = (np.stack([column, row], axis=1) + 0.5) * regions.factor - 0.5
    size = np.array([picture.width, picture.height])
    places = places[((places > 30) & (places < size - 31)).all(axis=1)]
    few = places[:: max(1, len(places) // MOST)]
    return edges_at(picture, [(round(x), round(y)) for x, y in few])


def honest(edges: Sequence[Edge]) -> list[Edge]:
    """Edges that show the blur: light burnt out, or dark run to black, cuts an edge off and makes it look sharper."""
    return [edge for edge in edges if edge.low > BLACK and edge.high < BURNT]


def usual_blur(edges: Sequence[Edge], share: float = 0.25) -> float | None:
    """Standard deviation of the blur of the sharper edges [px]; None where there are too few."""
    rises = [edge.rise for edge in honest(edges)]
    return float(np.quantile(rises, share)) / RISE if len(rises) >= FEWEST else None


def kernel_near(edges: Sequence[Edge], points: Array, otherwise: Kernel) -> Kernel:
    """The blur near a line, from edges that run its way where there are any: a shake of the hand blurs one way only.

    Parameters
    ----------
    edges : of the metal's rim
    points : (n, 2) of the line [px]
    otherwise : what to take where too few edges tell
    """
    way = points[-1] - points[0]
    way = way / max(float(np.hypot(*way)), 1e-9)
    edges = honest(edges)
    along = [edge for edge in edges if abs(float(edge.normal @ way)) < np.sin(np.radians(ALONG_DEGREES))]
    near = _nearest(along, points) if len(along) >= FEWEST else _nearest(edges, points)
    if len(near) < FEWEST:
        return otherwise
    rises = np.array([edge.rise for edge in near])
    sharp = [edge for edge in near if edge.rise <= SOFTEST * float(np.quantile(rises, 0.25))]
    blur, halo = _fitted(np.median([_aligned(edge.profile) for edge in sharp], axis=0))
    rises = np.array([edge.rise for edge in sharp])
    scatter = 1.4826 * float(np.median(np.abs(rises / np.median(rises) - 1))) / np.sqrt(len(sharp))
    # A halo as strong as any that is tried is no halo: the edges have a shape that this model does not know.
    unknown = UNKNOWN_SHARE if halo[0] >= LARGEST_HALO else 0.0
    return Kernel(blur=blur, u=blur * float(np.linalg.norm([scatter, LEAST_SHARE, unknown])), halo=halo)


def _nearest(edges: list[Edge], points: Array) -> list[Edge]:
    few = points[:: max(1, len(points) // 40)]
    away = [float(np.hypot(*(few - edge.at).T).min()) for edge in edges]
    return [edges[k] for k in np.argsort(away, kind="stable")[:ENOUGH]]


def _fitted(profile: Array) -> tuple[float, Halo]:
    """Blur and halo that tell an edge best: on a coarse grid first, then on a fine one about the best of it."""
    near = np.abs(OFFSETS) <= NEAR
    x, light = OFFSETS[near], profile[near]
    _, blur, (_, reach) = _best(x, light, BLURS, np.array(REACHES))
    _, blur, halo = _best(x, light, blur * np.linspace(0.93, 1.07, 9), reach * np.linspace(0.75, 1.3, 7))
    return blur, halo if halo[0] > LEAST_HALO else NO_HALO


def _best(x: Array, light: Array, blurs: Array, reaches: Array) -> tuple[float, float, Halo]:
    """What is left, blur and halo of the best on a grid; all else follows by least squares."""
    best = (np.inf, float(blurs[0]), (0.0, float(reaches[0])))
    for blur in blurs:
        plain, slope = ndtr(x / blur), np.exp(-0.5 * (x / blur) ** 2)
        for reach in reaches:
            over = plain - ndtr(x / np.hypot(blur, reach))
            told = _solved(np.stack([np.ones_like(x), plain, over, slope], axis=1), light)
            share = float(np.clip(told[2] / max(told[1], 1e-6), 0.0, LARGEST_HALO))
            matrix = np.stack([np.ones_like(x), plain + share * over, slope], axis=1)
            left = float(((light - matrix @ _solved(matrix, light)) ** 2).mean()) + HALO_PRICE * share
            if left < best[0]:
                best = (left, float(blur), (share, float(reach)))
    return best


def _solved(matrix: Array, light: Array) -> Array:
    square = matrix.T @ matrix + 1e-9 * np.eye(matrix.shape[1])
    return np.asarray(np.linalg.solve(square, matrix.T @ light))


def _aligned(profile: Array) -> Array:
    """A profile moved so that it passes half of its step at 0."""
    return np.asarray(np.interp(OFFSETS, OFFSETS - half_way(profile), profile))
