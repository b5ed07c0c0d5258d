"""What scikit-image's ridge filters and probabilistic Hough find of a line, looking inside the true plates alone."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.feature import canny
from skimage.filters import meijering, sato
from skimage.measure import label, regionprops
from skimage.transform import probabilistic_hough_line

from etchbook.picture import Picture
from etchbook.picture.reduce import grey
from etchbook.simulate import PaintedSection

Mask = NDArray[np.bool_]
Chains = list[NDArray[np.float64]]
SIGMAS = (1.0, 2.0, 3.0)
HIGH = 5.0
"""Standard deviations (from the median absolute deviation in the plate) from which a ridge counts."""
INSET = 6


def plate_of(section: PaintedSection) -> Mask:
    """Plate and HAZ by the truth, a few pixels off every edge."""
    return np.asarray(ndimage.binary_erosion(np.isin(section.labels, (1, 2)), iterations=INSET))


def _ridges(response: NDArray[np.float64], plate: Mask, least: float) -> Chains:
    """Connected ridges that are long and thin enough to be a line."""
    values = response[plate]
    if values.size < 100:
        return []
    spread = 1.4826 * float(np.median(np.abs(values - np.median(values)))) + 1e-9
    marked = label((response > np.median(values) + HIGH * spread) & plate, connectivity=2)
    kept = [part for part in regionprops(marked) if part.axis_major_length >= least]
    return [
        part.coords[:, ::-1].astype(float) for part in kept if part.axis_minor_length < 0.1 * part.axis_major_length
    ]


def by_sato(picture: Picture, plate: Mask, least: float) -> Chains:
    """Sato's filter for dark ridges."""
    return _ridges(sato(grey(picture.rgb), sigmas=SIGMAS, black_ridges=True), plate, least)


def by_meijering(picture: Picture, plate: Mask, least: float) -> Chains:
    """Meijering's filter for dark ridges."""
    return _ridges(meijering(grey(picture.rgb), sigmas=SIGMAS, black_ridges=True), plate, least)


def by_hough(picture: Picture, plate: Mask, least: float) -> Chains:
    """Probabilistic Hough on Canny edges; segments on one straight line are counted once."""
    edges = canny(grey(picture.rgb), sigma=1.5) & plate
    segments = probabilistic_hough_line(
        edges, threshold=20, line_length=max(int(least), 20), line_gap=12, rng=np.random.default_rng(1)
    )
    groups: list[tuple[float, float, Chains]] = []
    for (x0, y0), (x1, y1) in segments:
        turn = float(np.arctan2(y1 - y0, x1 - x0) % np.pi)
        off = float(-np.sin(turn) * x0 + np.cos(turn) * y0)
        count = int(np.hypot(x1 - x0, y1 - y0)) + 2
        chain = np.stack([np.linspace(x0, x1, count), np.linspace(y0, y1, count)], axis=1)
        own = next((each for each in groups if abs(each[0] - turn) < 0.05 and abs(each[1] - off) < 12), None)
        if own is None:
            groups.append((turn, off, [chain]))
        else:
            own[2].append(chain)
    return [np.concatenate(chains) for _, _, chains in groups]


METHODS: dict[str, Callable[[Picture, Mask, float], Chains]] = {
    "Sato": by_sato,
    "Meijering": by_meijering,
    "Hough": by_hough,
}
