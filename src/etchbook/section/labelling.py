"""Which pixel is what: the refined outline laid over the first guess."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import rasterise, resample
from etchbook.section.arcs import weld_share
from etchbook.section.draft import Draft
from etchbook.section.guess import Guess
from etchbook.section.outlining import Look
from etchbook.section.records import HAZ, PLATE, SURROUNDINGS, WELD, Reading, Regions
from etchbook.section.strips import Array


def regions_of(draft: Draft | None, seen: Look | None, shape: tuple[int, int], factor: float) -> Regions:
    """Labels on the reduced picture of `shape` (rows, columns)."""
    if seen is None:
        return Regions(labels=np.zeros(shape, np.uint8), factor=factor)
    labels = np.zeros(shape, np.uint8)
    metal, haz = _shares(seen, shape, factor)
    labels[metal > 0.5] = PLATE
    labels[(metal > 0.5) & (haz > 0.5)] = HAZ
    if draft is not None:
        labels = _with_outline(labels, draft, factor)
    return Regions(labels=labels, factor=factor)


def _shares(seen: Look, shape: tuple[int, int], factor: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Chance of metal, and of HAZ or weld within it, on the reduced picture; the close look counts where it reaches."""
    metal, hot = np.zeros(shape), np.zeros(shape)
    for guess in (seen.whole, seen.near):
        rows, columns = _places(guess, shape, factor)
        low_r, high_r, low_c, high_c = _covered(guess, rows, columns)
        grid = np.meshgrid(rows[low_r:high_r], columns[low_c:high_c], indexing="ij")
        air = ndimage.map_coordinates(guess.share[0], grid, order=1, mode="nearest")
        warm = ndimage.map_coordinates(
            guess.share[3] + guess.share[4] + weld_share(guess), grid, order=1, mode="nearest"
        )
        metal[low_r:high_r, low_c:high_c] = 1 - air
        hot[low_r:high_r, low_c:high_c] = warm / np.maximum(1 - air, 0.2)
    return metal, hot


def _places(guess: Guess, shape: tuple[int, int], factor: float) -> tuple[Array, Array]:
    """Window rows and columns of the reduced picture's pixel centres."""
    x = (np.arange(shape[1]) + 0.5) * factor - 0.5
    y = (np.arange(shape[0]) + 0.5) * factor - 0.5
    return (y + 0.5 - guess.top) / guess.factor - 0.5, (x + 0.5 - guess.left) / guess.factor - 0.5


def _covered(guess: Guess, rows: Array, columns: Array) -> tuple[int, int, int, int]:
    height, width = guess.share.shape[1:]
    r = np.nonzero((rows > -0.6) & (rows < height - 0.4))[0]
    c = np.nonzero((columns > -0.6) & (columns < width - 0.4))[0]
    return int(r[0]), int(r[-1]) + 1, int(c[0]), int(c[-1]) + 1


def _with_outline(labels: NDArray[np.uint8], draft: Draft, factor: float) -> NDArray[np.uint8]:
    """Weld and HAZ as traced: inside the weld's contour, and between it and each HAZ edge."""
    shape = labels.shape
    for member, trace in draft.haz.items():
        fusion = draft.fusion.points[draft.beside == int(member)]
        if len(fusion) < 3:
            continue
        band = rasterise(_small(_band(fusion, trace.points), factor), (shape[0], shape[1]))
        near = ndimage.binary_dilation(band, iterations=max(2, round(draft.pixel / factor * 4)))
        labels = np.where(near & (labels == HAZ) & ~band, PLATE, labels)
        labels = np.where(band & (labels == PLATE), HAZ, labels)
    weld = rasterise(
        _small(np.concatenate([draft.face.points, draft.fusion.points[::-1]]), factor), (shape[0], shape[1])
    )
    stray = (labels == WELD) | (~weld & ndimage.binary_dilation(weld, iterations=2) & (labels == SURROUNDINGS))
    labels = np.where(stray & ~weld & (labels == WELD), HAZ, labels)
    return np.where(weld, WELD, labels).astype(np.uint8)


def _band(fusion: Array, edge: Array) -> Array:
    """Closed contour between a fusion line and its HAZ edge."""
    if np.hypot(*(edge[0] - fusion[0])) + np.hypot(*(edge[-1] - fusion[-1])) > np.hypot(
        *(edge[-1] - fusion[0])
    ) + np.hypot(*(edge[0] - fusion[-1])):
        edge = edge[::-1]
    return np.concatenate([fusion, edge[::-1]])


def _small(points: Array, factor: float) -> Array:
    return np.asarray((points + 0.5) / factor - 0.5)


def region_labels(reading: Reading) -> NDArray[np.uint8]:
    """Labels at the size of the photo, (height, width): 0 surroundings, 1 plate, 2 HAZ, 3 weld metal."""
    small, factor = reading.regions.labels, reading.regions.factor
    height, width = reading.picture.height, reading.picture.width
    rows = np.clip(((np.arange(height) + 0.5) / factor).astype(int), 0, small.shape[0] - 1)
    columns = np.clip(((np.arange(width) + 0.5) / factor).astype(int), 0, small.shape[1] - 1)
    labels = small[rows][:, columns]
    for ring in reading.outline.weld:
        weld = rasterise(resample(np.concatenate([ring, ring[:1]]), 1.0), (height, width))
        labels[(labels == WELD) & ~weld] = HAZ
        labels[weld] = WELD
    return np.ascontiguousarray(labels, np.uint8)
