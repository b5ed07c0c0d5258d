"""Exact cover of pixels by polygons, and coarse fields brought to full size in register."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Array = NDArray[np.float64]
Cover = NDArray[np.float32]


def cover_of(polygon: Array, width: int, height: int) -> Cover:
    """Share of each pixel that lies inside a closed polygon (px, pixel centres at whole numbers), (height, width).

    Exact for polygons that do not cross themselves: signed areas between each edge and
    the right-hand border are summed along the rows.
    """
    out = np.zeros((height, width), np.float32)
    points: Array = np.asarray(polygon, float) + 0.5
    pieces = _pieces(points, width, height)
    if pieces is None:
        return out
    x0, y0, x1, y1 = pieces
    row = np.floor((y0 + y1) / 2).astype(np.intp)
    column = np.floor((x0 + x1) / 2).astype(np.intp)
    keep = (row >= 0) & (row < height) & (column < width)
    x0, y0, x1, y1 = x0[keep], y0[keep], x1[keep], y1[keep]
    row, column = row[keep], column[keep]
    if len(row) == 0:
        return out
    low, high = int(row.min()), int(row.max()) + 1
    rise = y1 - y0
    left = column < 0
    right_share = np.where(left, 1.0, column + 1 - (x0 + x1) / 2)
    column = np.where(left, 0, column)
    flat = (row - low) * (width + 1) + column
    size = (high - low) * (width + 1)
    sums = (
        np.bincount(flat, rise * right_share, size) + np.bincount(flat + 1, rise * (1 - right_share), size + 1)[:size]
    )
    filled = np.cumsum(sums.reshape(high - low, width + 1), axis=1)[:, :width]
    out[low:high] = np.clip(np.abs(filled), 0, 1)
    return out


def _pieces(points: Array, width: int, height: int) -> tuple[Array, Array, Array, Array] | None:
    """All edges cut at whole coordinates inside the picture, so that each piece lies in one pixel."""
    start, stop = points, np.roll(points, -1, axis=0)
    high, low = np.maximum(start[:, 1], stop[:, 1]), np.minimum(start[:, 1], stop[:, 1])
    near = (high > 0) & (low < height) & (np.minimum(start[:, 0], stop[:, 0]) < width) & (high > low)
    start, stop = start[near], stop[near]
    if len(start) == 0:
        return None
    edges = np.arange(len(start))
    cuts = [(edges, np.zeros(len(start))), (edges, np.ones(len(start)))]
    for axis, limit in ((0, width), (1, height)):
        a, b = start[:, axis], stop[:, axis]
        first = np.clip(np.ceil(np.minimum(a, b)), 0, limit + 1).astype(np.intp)
        count = np.clip(np.floor(np.clip(np.maximum(a, b), -1, limit)).astype(np.intp) - first + 1, 0, None)
        which = np.repeat(edges, count)
        at = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count) + first[which]
        step = b - a
        good = step[which] != 0
        which, at = which[good], at[good]
        cuts.append((which, np.clip((at - a[which]) / step[which], 0, 1)))
    which = np.concatenate([cut[0] for cut in cuts])
    share = np.concatenate([cut[1] for cut in cuts])
    order = np.lexsort((share, which))
    which, share = which[order], share[order]
    at = start[which] + share[:, None] * (stop - start)[which]
    same = which[1:] == which[:-1]
    return at[:-1][same, 0], at[:-1][same, 1], at[1:][same, 0], at[1:][same, 1]


def enlarged(small: NDArray[np.float32], shape: tuple[int, int], step: float) -> Cover:
    """A field known at pixels 0, step, 2 step ... at every pixel, straight between."""
    if step == 1.0 and small.shape == shape:
        return small
    low = 0.5 - 0.5 / step
    box = (low, low, low + shape[1] / step, low + shape[0] / step)
    image = Image.fromarray(np.pad(small.astype(np.float32), ((0, 2), (0, 2)), mode="edge"))
    return np.asarray(image.resize((shape[1], shape[0]), Image.Resampling.BILINEAR, box=box), np.float32)
