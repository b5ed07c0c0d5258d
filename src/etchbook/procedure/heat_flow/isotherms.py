"""Lines of equal temperature, and the temperature of a point over time."""

import math
from dataclasses import dataclass

import numpy as np

from etchbook.procedure.heat_flow.coupon import Coupon, Numbers, temperatures
from etchbook.procedure.heat_flow.molten import highest, times_for


@dataclass(frozen=True, kw_only=True, slots=True)
class Isotherm:
    """One temperature [°C] with its lines, (n, 2) each [mm]."""

    level: float
    lines: tuple[Numbers, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class History:
    """Temperature of one point over time.

    Parameters
    ----------
    across, depth : of the point from the bead's centreline and below the surface [mm]
    seconds : (n,) since the arc passed
    temperatures : (n,) [°C]
    """

    across: float
    depth: float
    seconds: Numbers
    temperatures: Numbers

    @property
    def peak(self) -> float:
        """Highest temperature [°C]."""
        return float(self.temperatures.max())


def plan_isotherms(coupon: Coupon, levels: tuple[float, ...]) -> tuple[Isotherm, ...]:
    """Isotherms on the surface of the coupon while the arc is at the middle of the bead.

    Parameters
    ----------
    coupon : plate, source and metal
    levels : [°C]

    Returns
    -------
    tuple of Isotherm
        x runs along the bead from the arc, negative behind it; y runs across it. Only what lies on the plate.

    Source: `temperatures`.
    """
    arc = coupon.bead_start + coupon.bead_length / 2
    tail = min(arc, 30 * coupon.travel)
    along = np.concatenate([np.linspace(-tail, -4, 70)[:-1], np.linspace(-4, min(20, coupon.length - arc), 50)])
    across = _from_middle(min(coupon.width / 2, 40.0), 61)
    rows = [
        temperatures(coupon, np.array([-x / coupon.travel]), arc + x, across, np.zeros(len(across)))[0] for x in along
    ]
    half = np.stack(rows)
    whole = np.concatenate([half[:, :0:-1], half], axis=1)
    return _contours(whole, along, np.concatenate([-across[:0:-1], across]), levels)


def section_isotherms(coupon: Coupon, levels: tuple[float, ...]) -> tuple[Isotherm, ...]:
    """Lines of equal peak temperature in the section at the middle of the bead.

    Parameters
    ----------
    coupon : plate, source and metal
    levels : [°C]

    Returns
    -------
    tuple of Isotherm
        x runs across the bead, y downwards from the surface.

    Source: `temperatures`, the highest over time at each point.
    """
    across, depth = _from_middle(min(coupon.width / 2, 25.0), 45), np.linspace(0, coupon.thickness, 30)
    x, y = np.meshgrid(across, depth, indexing="ij")
    place = coupon.bead_start + coupon.bead_length / 2
    peak = highest(temperatures(coupon, times_for(coupon), place, x.ravel(), y.ravel())).reshape(x.shape)
    whole = np.concatenate([peak[:0:-1], peak])
    return _contours(whole, np.concatenate([-across[:0:-1], across]), depth, levels)


def history(coupon: Coupon, across: float, depth: float, until: float = 60.0) -> History:
    """Temperature over time of one point in the section at the middle of the bead.

    Parameters
    ----------
    coupon : plate, source and metal
    across, depth : of the point [mm]
    until : how long after the arc passed [s]

    Returns
    -------
    History

    Source: `temperatures`.
    """
    lead = min(5.0, coupon.bead_length / 2 / coupon.travel)
    seconds = np.concatenate([np.linspace(-lead, 0, 40)[:-1], np.linspace(0, 2, 80)[:-1], np.geomspace(2, until, 120)])
    place = coupon.bead_start + coupon.bead_length / 2
    found = temperatures(coupon, seconds, place, np.array([across]), np.array([depth]))[:, 0]
    return History(across=across, depth=depth, seconds=seconds, temperatures=found)


def _from_middle(reach: float, count: int) -> Numbers:
    """Places from the centreline outwards, closer together where the temperature is steep."""
    return reach * np.linspace(0, 1, count) ** 1.5


def _contours(field: Numbers, x: Numbers, y: Numbers, levels: tuple[float, ...]) -> tuple[Isotherm, ...]:
    from skimage.measure import find_contours

    found = []
    for level in levels:
        chains = find_contours(field, level) if math.isfinite(level) else []
        lines = tuple(
            np.stack([np.interp(chain[:, 0], range(len(x)), x), np.interp(chain[:, 1], range(len(y)), y)], axis=1)
            for chain in chains
        )
        found.append(Isotherm(level=level, lines=lines))
    return tuple(found)
