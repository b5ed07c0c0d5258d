"""The first guess: a small net, trained on painted sections, says which pixel is what and where the toes are.

The net only has to be roughly right; every boundary is traced again on the full picture.
"""

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.section.strips import Array
from etchbook.tables.model import first_guess_model
from etchbook.terms import FAMILIES, Family

if TYPE_CHECKING:
    from onnxruntime import InferenceSession

LONG_SIDE = 512
"""Longer side of what the net looks at [px]; it was trained at this size."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Guess:
    """What the net says of a window of the picture.

    Parameters
    ----------
    share : (6, h, w) probabilities of surroundings, plate 1, plate 2, HAZ 1, HAZ 2, weld metal
    heat : (4, h, w) toe 1, toe 2, joint root, pore; 0 to 1
    joint : probability of each family, in the order of `FAMILIES`
    left, top, factor : picture x = left + factor * (column + 0.5) - 0.5, likewise y
    """

    share: NDArray[np.float32]
    heat: NDArray[np.float32]
    joint: dict[Family, float]
    left: float
    top: float
    factor: float

    def to_picture(self, points: Array) -> Array:
        """Window (column, row) to picture (x, y)."""
        return np.asarray(np.array([self.left, self.top]) + self.factor * (np.asarray(points, float) + 0.5) - 0.5)

    def to_window(self, points: Array) -> Array:
        """Picture (x, y) to window (column, row)."""
        return np.asarray((np.asarray(points, float) + 0.5 - np.array([self.left, self.top])) / self.factor - 0.5)


@cache
def _session() -> "InferenceSession":
    import onnxruntime  # 85 ms, wanted only when a picture is read

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 2
    options.log_severity_level = 3
    return onnxruntime.InferenceSession(first_guess_model(), options, providers=["CPUExecutionProvider"])


def first_guess(
    small: NDArray[np.float32], small_factor: float, window: tuple[float, float, float, float], family: Family | None
) -> Guess:
    """Let the net look at a window of the picture.

    Parameters
    ----------
    small : (h, w, 3) reduced picture, 0 to 1
    small_factor : picture pixels per pixel of `small`
    window : left, top, right, bottom in picture pixels (edges, not centres)
    family : the joint to expect, None when it is not known
    """
    left, top, right, bottom = window
    factor = max(right - left, bottom - top) / LONG_SIDE
    columns = _rounded_up((right - left) / factor)
    rows = _rounded_up((bottom - top) / factor)
    seen = _resampled(small, small_factor, left, top, factor, rows, columns)
    told = np.zeros((1, len(FAMILIES)), np.float32)
    if family is not None:
        told[0, FAMILIES.index(family)] = 1.0
    classes, heat, joint = _session().run(None, {"picture": seen.transpose(2, 0, 1)[None], "joint": told})
    chance = _softmax(joint[0])
    return Guess(
        share=_softmax(classes[0]),
        heat=1.0 / (1.0 + np.exp(-heat[0])),
        joint={name: float(chance[i]) for i, name in enumerate(FAMILIES)},
        left=left,
        top=top,
        factor=factor,
    )


def _rounded_up(length: float) -> int:
    return int(np.ceil(round(length, 6) / 32)) * 32


def _softmax(score: NDArray[np.float32]) -> NDArray[np.float32]:
    grown = np.exp(score - score.max(axis=0, keepdims=True))
    return np.asarray(grown / grown.sum(axis=0, keepdims=True), np.float32)


def _resampled(
    small: NDArray[np.float32], small_factor: float, left: float, top: float, factor: float, rows: int, columns: int
) -> NDArray[np.float32]:
    """The window at the net's size; softened first where that shrinks the picture."""
    ratio = factor / small_factor
    if ratio > 1.3:
        small = np.stack(
            [ndimage.gaussian_filter(small[..., k], 0.42 * ratio, mode="nearest") for k in range(3)], axis=2
        )
    y = (top + factor * (np.arange(rows, dtype=float) + 0.5)) / small_factor - 0.5
    x = (left + factor * (np.arange(columns, dtype=float) + 0.5)) / small_factor - 0.5
    return _grid_bilinear(small, y, x)


def _grid_bilinear(small: NDArray[np.float32], y: Array, x: Array) -> NDArray[np.float32]:
    y = np.clip(y, 0, small.shape[0] - 1.0001)
    x = np.clip(x, 0, small.shape[1] - 1.0001)
    row, column = y.astype(int), x.astype(int)
    fy, fx = (y - row)[:, None, None].astype(np.float32), (x - column)[None, :, None].astype(np.float32)
    next_row, next_column = np.minimum(row + 1, small.shape[0] - 1), np.minimum(column + 1, small.shape[1] - 1)
    upper = small[row][:, column] * (1 - fx) + small[row][:, next_column] * fx
    lower = small[next_row][:, column] * (1 - fx) + small[next_row][:, next_column] * fx
    return np.ascontiguousarray(upper * (1 - fy) + lower * fy, np.float32)
