"""How strongly the blocks of JPEG compression show."""

import numpy as np
from numpy.typing import NDArray

BLOCK = 8


def blockiness(light: NDArray[np.float32]) -> float:
    """Median step at the borders of 8-pixel blocks over that inside them, the larger of both directions.

    Parameters
    ----------
    light : (h, w) grey, at the picture's own size; a cropped picture's blocks may begin anywhere

    Returns
    -------
    About 1 for an uncompressed picture; grows with compression.
    """
    ratios = [_ratio(np.abs(np.diff(light, axis=axis)), axis) for axis in (0, 1)]
    return min(ratios)


def _ratio(steps: NDArray[np.float32], axis: int) -> float:
    """Second differences would be finer, but plain steps hold out against grinding marks."""
    along = steps.mean(axis=1 - axis)
    count = len(along) // BLOCK * BLOCK
    if count < 4 * BLOCK:
        return 1.0
    typical = np.median(along[:count].reshape(-1, BLOCK), axis=0)
    best = int(np.argmax(typical))
    rest = np.delete(typical, best)
    return float(typical[best] / max(float(np.median(rest)), 1e-9))
