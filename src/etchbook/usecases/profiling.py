"""The grey profile across an indication, with the bar that was fitted to it, for pages that show it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import normals, resample
from etchbook.picture import NoScale, Picture, Scale
from etchbook.picture.reduce import grey
from etchbook.quantity import Absent, Measured
from etchbook.section import Indication
from etchbook.section.indications.profiles import RISE, bar, fit_profile
from etchbook.section.indications.traces import cubic
from etchbook.section.records import Points

MOST_PROFILES = 600
LEAST_LENGTH = 8.0
USUAL_BLUR = 1.2


@dataclass(frozen=True, kw_only=True, slots=True)
class SeenProfile:
    """A profile across a line.

    Parameters
    ----------
    across : (n,) places across the line [mm], or [px] where there is no scale
    light : (n,) grey over the grey beside the line
    fitted : (n,) the same by the fitted bar behind the picture's blur
    unit : of `across`
    profiles : how many were averaged
    """

    across: Points
    light: Points
    fitted: Points
    unit: str
    profiles: int


def profile_across(picture: Picture, found: Indication, scale: Scale | NoScale) -> SeenProfile | Absent:
    """The mean grey profile across the dark stretches of a line.

    Parameters
    ----------
    picture : the photo that was read
    found : the line; its picture's sharpest edge gives the blur
    scale : for the places in mm

    Returns
    -------
    SeenProfile or Absent
        Blobs and very short lines have none.
    """
    if found.kind == "blob" or len(found.points) < 2:
        return Absent(reason="a blob has no profile across")
    curve = resample(found.points, 1.0)
    if len(curve) < LEAST_LENGTH:
        return Absent(reason="the line is too short for a profile across it")
    blur = found.sharpest_rise.value / RISE if isinstance(found.sharpest_rise, Measured) else USUAL_BLUR
    px_per_mm = 1.0 if isinstance(scale, NoScale) else scale.px_per_mm
    wide = found.width.value * px_per_mm if isinstance(found.width, Measured) and px_per_mm != 1.0 else 0.0
    x = np.arange(-_reach(wide, blur), _reach(wide, blur) + 0.25, 0.5)
    places = _places(found, curve)
    sampled = curve[places, None, :] + x[None, :, None] * normals(curve)[places, None, :]
    light = cubic(grey(picture.rgb), sampled.reshape(-1, 2)).reshape(len(places), len(x)).mean(axis=0)
    fit = fit_profile(x, light, blur, free_blur=True)
    beside = fit.level + fit.slope * x
    fitted = beside - fit.depth * bar(x - fit.place, fit.width, fit.blur)
    return SeenProfile(
        across=(x - fit.place) / px_per_mm,
        light=light / fit.level,
        fitted=fitted / fit.level,
        unit="px" if isinstance(scale, NoScale) else "mm",
        profiles=len(places),
    )


def _reach(wide: float, blur: float) -> float:
    return float(np.clip(2.0 * wide + 5.0 * blur + 6.0, 12.0, 80.0))


def _places(found: Indication, curve: Points) -> NDArray[np.intp]:
    """Places on the curve that lie in a dark piece, at most `MOST_PROFILES` of them."""
    share = len(curve) / max(len(found.points), 1)
    inside = np.zeros(len(curve), bool)
    for start, stop in found.pieces or ((0, len(found.points)),):
        inside[int(start * share) : max(int(stop * share), int(start * share) + 1)] = True
    on = np.nonzero(inside)[0]
    return np.asarray(on[:: max(1, len(on) // MOST_PROFILES)], np.intp)
