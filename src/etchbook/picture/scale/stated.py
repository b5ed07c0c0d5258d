"""Scales that a person states."""

import math

from etchbook.picture.records import Scale

USUAL_RELATIVE_U = 0.005
"""What a scale without a stated uncertainty is trusted to: half a per cent, a cautious assumption of this program
(a reference 0.5 mm out of the plane of the face at 100 mm distance makes that much)."""
CLICK_PX = 1.0
"""Standard uncertainty of a point set by hand on a picture [px]; an assumption of this program."""


def given(px_per_mm: float, u: float | None = None) -> Scale:
    """A scale that is known from elsewhere.

    Parameters
    ----------
    px_per_mm : pixels per millimetre [px/mm]
    u : its standard uncertainty [px/mm]; None takes half a per cent of the scale

    Returns
    -------
    Scale
    """
    if not (math.isfinite(px_per_mm) and px_per_mm > 0):
        raise ValueError(f"the scale must be more than 0 pixels per millimetre, not {px_per_mm:g}")
    if u is not None and not (math.isfinite(u) and u >= 0):
        raise ValueError(f"the uncertainty of the scale must be 0 or more, not {u:g}")
    spread = USUAL_RELATIVE_U * px_per_mm if u is None else u
    return Scale(px_per_mm=float(px_per_mm), u=float(spread), origin="given")


def from_two_points(
    p: tuple[float, float],
    q: tuple[float, float],
    length_mm: float,
    u_px: float = CLICK_PX,
    u_mm: float = 0.0,
) -> Scale:
    """A scale from two points whose distance is known.

    Parameters
    ----------
    p, q : points (x, y) [px]
    length_mm : their distance [mm]
    u_px : standard uncertainty of each point along the line that joins them [px]
    u_mm : standard uncertainty of the distance [mm]

    Returns
    -------
    Scale
        u covers both points and the distance.

    Source: JCGM 100:2008 (GUM), 5.1.2, for s = d / L.
    """
    numbers = (*p, *q, length_mm, u_px, u_mm)
    if not all(math.isfinite(number) for number in numbers):
        raise ValueError("the two points and their distance must be finite numbers")
    distance = math.dist(p, q)
    if distance == 0:
        raise ValueError("the two points of the scale are one and the same")
    if length_mm <= 0 or u_px < 0 or u_mm < 0:
        raise ValueError("the distance of the two points must be more than 0 mm and uncertainties 0 or more")
    relative = math.hypot(math.sqrt(2) * u_px / distance, u_mm / length_mm)
    scale = distance / length_mm
    return Scale(px_per_mm=scale, u=scale * relative, origin="two points")
