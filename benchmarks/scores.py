"""Small figures of merit."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

HAZ, WELD = 2, 3


def overlap(found: NDArray[np.generic], true: NDArray[np.generic], label: int) -> float | None:
    """Intersection over union of one class, None where neither has it."""
    one, other = found == label, true == label
    union = int((one | other).sum())
    return float((one & other).sum() / union) if union else None


def median(values: Sequence[float | None]) -> float | None:
    """Median of what is there."""
    return percentile(values, 50)


def percentile(values: Sequence[float | None], share: float) -> float | None:
    """Percentile of what is there, None where nothing is."""
    there = [value for value in values if value is not None]
    return float(np.percentile(there, share)) if there else None


def share(flags: Sequence[bool]) -> float | None:
    """Share that is true."""
    return float(np.mean(flags)) if len(flags) else None
