"""The outer edge of the heat-affected zone."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.measure import find_contours

from etchbook.geometry import arc_length, distances_to_polyline, resample
from etchbook.picture import Picture
from etchbook.section.edges import Trace
from etchbook.section.guess import Guess
from etchbook.section.strips import Array
from etchbook.section.tracing import trace_curve


def trace_haz(
    picture: Picture, near: Guess, fusion: Trace, beside: NDArray[np.intp], reach: float, size: float
) -> dict[str, Trace]:
    """HAZ edge in each member, by member; a member in which none is seen is left out."""
    found = {}
    for member, plate, haz in (("1", 1, 3), ("2", 2, 4)):
        if (beside == int(member)).sum() < 4:
            continue
        rough = _rough_edge(near, plate, haz, fusion.points[beside == int(member)])
        if rough is None or float(arc_length(rough)[-1]) < 0.08 * size:
            continue
        found[member] = trace_curve(
            picture,
            rough,
            reach=1.2 * reach,
            prior_sd=1.8 * near.factor,
            along_px=max(4.0, 0.05 * size),
            stiffness_px=0.14 * size,
        )
    return found


def _rough_edge(near: Guess, plate: int, haz: int, fusion: Array) -> Array | None:
    """Longest contour between this member's HAZ and plate, picture px."""
    changed, sound = near.share[haz], near.share[plate]
    whole = np.maximum(changed + sound, 1e-3)
    margin = ndimage.gaussian_filter((changed - sound) / whole, 0.8)
    metal = ndimage.gaussian_filter(changed + sound, 0.8) > 0.5
    # Beyond this member's metal the margin is noise, full of little rings that cost more than all the rest.
    near_metal = ndimage.binary_dilation(metal, iterations=2)
    rings = find_contours(margin, 0.0, mask=near_metal)
    pieces = [piece for ring in rings for piece in _inside(ring[:, ::-1], metal)]
    pieces = [piece for piece in pieces if len(piece) > 8]
    if not pieces:
        return None
    longest = near.to_picture(max(pieces, key=lambda piece: float(arc_length(piece)[-1])))
    if np.median(distances_to_polyline(longest[::4], fusion)) < 0.6 * near.factor:
        return None
    return resample(longest, near.factor)


def _inside(ring: Array, metal: NDArray[np.bool_]) -> list[Array]:
    """The stretches of a contour that run through this member's metal."""
    at = np.clip(np.round(ring).astype(int), 0, np.array(metal.shape)[::-1] - 1)
    keep = metal[at[:, 1], at[:, 0]]
    if np.array_equal(ring[0], ring[-1]) and keep[0] and not keep.all():
        # A closed ring begins anywhere, often in the middle of the edge: begin where it leaves the metal instead.
        turn = int(np.argmin(keep))
        ring, keep = np.roll(ring[:-1], -turn, axis=0), np.roll(keep[:-1], -turn)
    cuts = np.nonzero(np.diff(keep.astype(int)))[0] + 1
    return [part for part, flag in zip(np.split(ring, cuts), np.split(keep, cuts), strict=True) if flag[0]]
