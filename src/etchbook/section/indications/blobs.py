"""Pores and slag: dark spots in the weld metal that are no lines."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.measure import find_contours

from etchbook.geometry import arc_length, area, resample
from etchbook.quantity import Measured
from etchbook.section.indications.describing import NO_FUSION, millimetres
from etchbook.section.indications.scene import Scene
from etchbook.section.records import Indication

Array = NDArray[np.float64]
Map = NDArray[np.float32]
MOST_PIXELS = 1_500_000
LEAST_LOSS = 0.22
"""Light lost over the weld metal round about that a spot must have."""
LEAST_MM, LEAST_PX = 0.12, 7.0
ABOVE_GRAIN = 4.5
LONGEST = 3.5
"""A spot longer than this many times its breadth is a line."""
MOST = 60


def blobs(scene: Scene) -> list[Indication]:
    """Every pore and slag spot that stands out of the weld metal's grain, largest first."""
    if not scene.outline.weld:
        return []
    ring = scene.outline.weld[0]
    low = np.maximum(np.floor(ring.min(axis=0)).astype(int), 0)
    high = np.minimum(np.ceil(ring.max(axis=0)).astype(int) + 1, [scene.light.shape[1], scene.light.shape[0]])
    if (high - low).min() < 24:
        return []
    part = scene.light[low[1] : high[1], low[0] : high[0]]
    factor = max(1, int(np.ceil(np.sqrt(part.size / MOST_PIXELS))))
    rows, columns = part.shape[0] // factor, part.shape[1] // factor
    part = part[: rows * factor, : columns * factor].reshape(rows, factor, columns, factor).mean(axis=(1, 3))
    y, x = np.mgrid[0:rows, 0:columns]
    places = np.stack([x, y], axis=2) * float(factor) + (low + 0.5 * (factor - 1))
    margin = int(np.ceil((2.0 * scene.blur + scene.regions.factor) / factor)) + 1
    weld = ndimage.binary_erosion(scene.in_weld(places.reshape(-1, 2)).reshape(rows, columns), iterations=margin)
    if weld.sum() < 400:
        return []
    loss = _loss(part, weld)
    rings = find_contours(np.where(weld, loss, 0.0), _level(loss, weld))
    found = [_told(scene, each[:, ::-1] * factor + low + 0.5 * (factor - 1), loss, each) for each in rings]
    kept = [one for one in found if one is not None]
    return sorted(kept, key=lambda one: -one.strength)[:MOST]


def _loss(part: Map, weld: NDArray[np.bool_]) -> Map:
    """Light lost over the middle of the weld metal's light round about."""
    share = ndimage.uniform_filter(weld.astype(np.float32), 61)
    level = float(np.median(part[weld]))
    # Dark spots pull a mean down: they are lifted to the usual level before it is taken.
    lifted = np.where(weld, np.maximum(part, 0.75 * level), 0.0).astype(np.float32)
    around = ndimage.uniform_filter(lifted, 61) / np.maximum(share, 1e-3)
    return np.asarray(1 - ndimage.gaussian_filter(part, 1.0) / np.maximum(around, 0.02), np.float32)


def _level(loss: Map, weld: NDArray[np.bool_]) -> float:
    values = loss[weld]
    spread = 1.4826 * float(np.median(np.abs(values - np.median(values))))
    return max(LEAST_LOSS, float(np.median(values)) + ABOVE_GRAIN * spread)


def _told(scene: Scene, ring: Array, loss: Map, small: Array) -> Indication | None:
    if len(ring) < 6 or np.hypot(*(ring[0] - ring[-1])) > 3:
        return None
    size = area(ring)
    if size < np.pi / 4 * max(LEAST_MM * scene.mm, LEAST_PX) ** 2:
        return None
    smooth = resample(ring, 1.0)
    around = float(arc_length(np.concatenate([smooth, smooth[:1]]))[-1])
    long, broad = _axes(ring)
    if long > LONGEST * broad:
        return None
    deep = _deepest(loss, small)
    if deep < LEAST_LOSS:
        return None
    roundness = min(4 * np.pi * size / around**2, 1.0)
    return Indication(
        where="weld_metal", kind="blob", points=ring, sd=np.full(len(ring), 0.5 * scene.blur),
        length=millimetres(scene, long, scene.blur), width=millimetres(scene, broad, scene.blur),
        roundness=Measured(value=roundness, u=0.03 + scene.blur / max(long, 1.0) * 0.3, unit=""),
        contrast=Measured(value=min(deep, 1.0), u=0.03, unit=""),
        fusion_distance=NO_FUSION if scene.fusion is None else millimetres(
            scene, float(scene.from_fusion(ring).min()), 1.0 + scene.blur
        ),
        strength=float(deep * np.sqrt(size)),
    )  # fmt: skip


def _axes(ring: Array) -> tuple[float, float]:
    """Longest way across and the breadth square to it."""
    off = ring - ring.mean(axis=0)
    _, _, axes = np.linalg.svd(off, full_matrices=False)
    return float(np.ptp(off @ axes[0])), max(float(np.ptp(off @ axes[1])), 1.0)


def _deepest(loss: Map, ring: Array) -> float:
    """Light lost in the middle of a spot; a light spot on dark ground gives little or less."""
    low = np.maximum(np.floor(ring.min(axis=0)).astype(int), 0)
    high = np.ceil(ring.max(axis=0)).astype(int) + 1
    inner = loss[low[0] : high[0], low[1] : high[1]]
    middle = inner[inner.shape[0] // 4 : inner.shape[0] - inner.shape[0] // 4, :]
    return float(np.percentile(middle, 75)) if middle.size else 0.0
