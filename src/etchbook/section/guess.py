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
    # Threads that spin while they wait take the time that other programs on this machine want.
    options.add_session_config_entry("session.intra_op.allow_spinning", "0")
    # Every window has its own size, so a plan of memory kept for each would only take room.
    options.enable_mem_pattern = False
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
    classes, heat, joint = _session().run(None, {"picture": seen[None], "joint": told})
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
    y = (top + factor * (np.arange(rows, dtype=float) + 0.5)) / small_factor - 0.5
    x = (left + factor * (np.arange(columns, dtype=float) + 0.5)) / small_factor - 0.5
    soft = 0.42 * ratio if ratio > 1.3 else 0.0
    first, part = _part(small, y, x, int(4 * soft) + 3)
    channels = [np.ascontiguousarray(part[..., k]) for k in range(3)]
    if soft:
        channels = [ndimage.gaussian_filter(channel, soft, mode="nearest") for channel in channels]
    return np.stack([on_grid(channel, y - first[0], x - first[1]) for channel in channels])


def _part(small: NDArray[np.float32], y: Array, x: Array, margin: int) -> tuple[tuple[int, int], NDArray[np.float32]]:
    """First row and column, and the part of a picture round these places; where it is cut it is cut far enough away."""
    cuts = [
        (max(0, int(at[0]) - margin), min(size, int(at[-1]) + margin + 2))
        for at, size in zip((y, x), small.shape, strict=False)
    ]
    (top, bottom), (left, right) = cuts
    return (top, left), small[top:bottom, left:right]


def on_grid(values: NDArray[np.float32], y: Array, x: Array) -> NDArray[np.float32]:
    """Values of an (h, w) map at rows y and columns x by straight interpolation; it goes on unchanged beyond."""
    low_y, high_y, share_y = _between(y, values.shape[0])
    low_x, high_x, share_x = _between(x, values.shape[1])
    rows = values[low_y] * (1 - share_y)[:, None] + values[high_y] * share_y[:, None]
    return np.asarray(rows[:, low_x] * (1 - share_x) + rows[:, high_x] * share_x, np.float32)


def _between(at: Array, count: int) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.float32]]:
    """Places before and behind, and the share of the one behind."""
    at = np.clip(at, 0, count - 1)
    low = at.astype(np.intp)
    return low, np.minimum(low + 1, count - 1), (at - low).astype(np.float32)
