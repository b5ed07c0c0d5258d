"""Plane motions that carry the points of one picture into another: similarity (also mirrored), affine, perspective."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Matrix = NDArray[np.float64]
Kind = Literal["similarity", "affine", "perspective"]
FREE: dict[Kind, int] = {"similarity": 4, "affine": 6, "perspective": 8}


def moved(matrix: Matrix, points: Points) -> Points:
    """(n, 2) points through a (3, 3) matrix [px]."""
    flat = np.atleast_2d(points)
    out = flat @ matrix[:2, :2].T + matrix[:2, 2]
    return np.asarray(out / (flat @ matrix[2, :2] + matrix[2, 2])[:, None])


def inverse(matrix: Matrix) -> Matrix:
    """The motion back."""
    back = np.asarray(np.linalg.inv(matrix), np.float64)
    return np.asarray(back / back[2, 2], np.float64)


def size_at(matrix: Matrix, point: Points) -> float:
    """Pixels behind the motion per pixel before it, at one point: the root of the area's change."""
    return float(abs(_area(matrix, point)) ** 0.5)


def is_mirrored(matrix: Matrix, point: Points) -> bool:
    """Whether the motion turns left into right."""
    return _area(matrix, point) < 0


def turn_at(matrix: Matrix, point: Points) -> float:
    """Turn of the picture's x axis at one point [°], -180 to 180."""
    step = np.diff(moved(matrix, point + np.array([[-0.5, 0], [0.5, 0]])), axis=0)[0]
    return float(np.degrees(np.arctan2(step[1], step[0])))


def stretch(matrix: Matrix, places: Points) -> float:
    """Largest over smallest lengthening at these places and in any direction there, less one."""
    right, down = np.array([0.5, 0.0]), np.array([0.0, 0.5])
    across = moved(matrix, places + right) - moved(matrix, places - right)
    along = moved(matrix, places + down) - moved(matrix, places - down)
    lengths = np.linalg.svd(np.stack([across, along], axis=2), compute_uv=False)
    return float(lengths.max() / max(float(lengths.min()), 1e-12) - 1)


def _area(matrix: Matrix, point: Points) -> float:
    steps = moved(matrix, point + np.array([[-0.5, 0], [0.5, 0], [0, -0.5], [0, 0.5]]))
    return float(np.linalg.det(np.stack([steps[1] - steps[0], steps[3] - steps[2]])))


def fit(kind: Kind, source: Points, target: Points, weight: Points, *, mirror: bool) -> Matrix:
    """Least squares motion that takes `source` (n, 2) to `target` (n, 2) [px].

    Parameters
    ----------
    weight : (n,) of each pair, 1 over its variance
    mirror : similarity alone: whether left and right are exchanged
    """
    (one, first), (two, second) = _centred(source, weight), _centred(target, weight)
    rows, right = _rows(kind, one, two, mirror)
    root = np.sqrt(np.repeat(weight, 2))
    solved = np.asarray(np.linalg.lstsq(rows * root[:, None], right * root, rcond=None)[0], np.float64)
    inner = _matrix(kind, solved, mirror)
    whole = inverse(second) @ inner @ first
    return np.asarray(whole / whole[2, 2])


def covariance_factor(kind: Kind, source: Points, weight: Points, at: Points, *, mirror: bool) -> Points:
    """(m,) root mean variance of the motion at places `at`, for unit scatter of the targets, both axes together."""
    one, first = _centred(source, weight)
    rows, _ = _rows(kind, one, one, mirror)
    normal = np.linalg.pinv((rows * np.repeat(weight, 2)[:, None]).T @ rows)
    places = moved(first, at)
    back, _ = _rows(kind, places, places, mirror)
    spread = np.einsum("ij,jk,ik->i", back, normal, back).reshape(-1, 2).sum(axis=1) / 2
    # Rows are in centred units; targets share the size of the source's spread.
    return np.asarray(np.sqrt(np.maximum(spread, 0)))


def _centred(points: Points, weight: Points) -> tuple[Points, Matrix]:
    """Points about their middle with a mean distance of one, and the matrix that does it."""
    middle = (points * weight[:, None]).sum(axis=0) / weight.sum()
    size = max(float(np.sqrt((((points - middle) ** 2).sum(axis=1) * weight).sum() / weight.sum())), 1e-9)
    shift = np.array([[1 / size, 0, -middle[0] / size], [0, 1 / size, -middle[1] / size], [0, 0, 1.0]])
    return (points - middle) / size, shift


def _rows(kind: Kind, one: Points, two: Points, mirror: bool) -> tuple[Points, Points]:
    x, y, zero, unit = one[:, 0], one[:, 1], np.zeros(len(one)), np.ones(len(one))
    if kind == "similarity":
        hand = -1.0 if mirror else 1.0
        first, second = [x, -hand * y, unit, zero], [hand * y, x, zero, unit]
    elif kind == "affine":
        first, second = [x, y, unit, zero, zero, zero], [zero, zero, zero, x, y, unit]
    else:
        first = [x, y, unit, zero, zero, zero, -x * two[:, 0], -y * two[:, 0]]
        second = [zero, zero, zero, x, y, unit, -x * two[:, 1], -y * two[:, 1]]
    rows = np.stack([np.stack(first, axis=1), np.stack(second, axis=1)], axis=1).reshape(2 * len(one), -1)
    return rows, np.asarray(two.reshape(-1))


def _matrix(kind: Kind, p: Points, mirror: bool) -> Matrix:
    if kind == "similarity":
        hand = -1.0 if mirror else 1.0
        return np.array([[p[0], -hand * p[1], p[2]], [p[1], hand * p[0], p[3]], [0, 0, 1.0]])
    tail = [p[6], p[7]] if kind == "perspective" else [0.0, 0.0]
    return np.array([[p[0], p[1], p[2]], [p[3], p[4], p[5]], [*tail, 1.0]])
