"""A fitted response over two settings as contour lines, with the beads that were welded."""

from collections.abc import Mapping, Sequence

import numpy as np
from skimage.measure import find_contours

from etchbook.report.plots import Curve, Mark, Plot, plot_svg
from etchbook.report.svg import Points
from etchbook.trials.designs import Surface, contours

LINES = 8


def contour_svg(
    surface: Surface,
    first: str,
    second: str,
    held: Mapping[str, float],
    *,
    response: str,
    beads: Sequence[tuple[Mapping[str, float], float]] = (),
    next_bead: Mapping[str, float] | None = None,
) -> str:
    """Contour lines of a fitted response, as a whole SVG document.

    Parameters
    ----------
    surface : the fitted response
    first, second : settings along x and y
    held : values of the others; their middle where missing
    response : its name
    beads : settings and response of each bead, drawn as points
    next_bead : the setting to try next, marked in words
    """
    across, up, values, spread = contours(surface, first, second, held)
    curves = [curve for level in _levels(values) for curve in _at(level, across, up, values)]
    marks = [Mark(x=at[first], y=at[second]) for at, _ in beads]
    if next_bead is not None:
        marks.append(Mark(x=next_bead[first], y=next_bead[second], words="next to try", ring=True))
    units = {factor.name: f"{factor.name.replace('_', ' ')}, {factor.unit}" for factor in surface.factors}
    others = [
        f"{factor.name.replace('_', ' ')} {held.get(factor.name, factor.real(0.0)):.3g} {factor.unit}".rstrip()
        for factor in surface.factors
        if factor.name not in (first, second)
    ]
    notes = (
        f"{response.replace('_', ' ')} in {surface.unit}; u of the fitted mean {spread.min():.2g} to "
        f"{spread.max():.2g}; "
        f"single beads scatter by {surface.scatter:.2g} besides.",
        *((f"Held: {', '.join(others)}.",) if others else ()),
        "Points: beads that were welded, all of them seen from above, whatever the other settings were.",
    )
    return plot_svg(
        Plot(title=f"{response[0].upper()}{response[1:]}".replace("_", " "), x_words=units[first],
             y_words=units[second], curves=tuple(curves), marks=tuple(marks), notes=notes)
    )  # fmt: skip


def _levels(values: Points) -> list[float]:
    """Round levels, about LINES of them."""
    low, high = float(values.min()), float(values.max())
    if high - low < 1e-9:
        return []
    power = 10.0 ** np.floor(np.log10((high - low) / LINES))
    step = next(size * power for size in (1.0, 2.0, 2.5, 5.0, 10.0) if size * power * LINES >= high - low)
    first = np.ceil(low / step + 1e-9) * step
    return [float(level) for level in np.arange(first, high, step)]


def _at(level: float, across: Points, up: Points, values: Points) -> list[Curve]:
    told = []
    for run in find_contours(values, level):
        x = np.interp(run[:, 1], np.arange(len(across)), across)
        y = np.interp(run[:, 0], np.arange(len(up)), up)
        middle = len(run) // 2
        words = f"{level:.3g}".replace("-", "−") if len(run) > 6 else ""
        told.append(Curve(points=np.stack([x, y], axis=1), words=words, weight=0.3,
                          spot=(float(x[middle]), float(y[middle]))))  # fmt: skip
    return told
