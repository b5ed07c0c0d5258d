"""What the heat leaves in the section: fused width, depth and area, HAZ width, cooling time."""

import math
from dataclasses import dataclass

import numpy as np

from etchbook.procedure.heat_flow.coupon import Coupon, Numbers, temperatures

RAYS, STEPS = 25, 26
CONDUCTION = (
    "conduction only: arc pressure, pool flow, surface tension, mill scale and the heat of melting are left out, "
    "and real changes of wetting are larger in the same direction"
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Fused:
    """The molten and the changed part of the plate at one section.

    Parameters
    ----------
    width, depth : fused width at the surface and depth below it [mm]
    area : fused area below the surface [mm²]
    haz_width : mean width of the visible HAZ [mm]; nan where the metal shows none
    t85 : cooling time from 800 to 500 °C at the centre of the surface [s]; nan where it was never so hot
    through : whether the whole thickness melts
    """

    width: float
    depth: float
    area: float
    haz_width: float
    t85: float
    through: bool


def fused(coupon: Coupon, ahead: float | None = None) -> Fused:
    """Fused width, depth and area, HAZ width and t8/5 of a bead on plate, by conduction.

    Parameters
    ----------
    coupon : plate, source and metal
    ahead : where the section lies, from the plate's end [mm]; None for the middle of the bead

    Returns
    -------
    Fused
        Valid for conduction only; see `CONDUCTION`.

    Source: highest temperature over time at each point, out of `temperatures`.
    """
    place = coupon.bead_start + coupon.bead_length / 2 if ahead is None else ahead
    times = times_for(coupon)
    angles = np.linspace(0, math.pi / 2, RAYS)
    peak, away = _peaks(coupon, times, place, angles)
    molten = _reached(peak, away, coupon.melting, coupon.start)
    haz = _mean_haz(coupon, peak, away, angles, molten)
    edge = _edge(coupon, angles)
    return Fused(
        width=2 * float(molten[0]),
        depth=float(molten[-1]),
        area=float(np.trapezoid(molten**2, angles)),
        haz_width=haz,
        t85=t85(coupon, place),
        through=bool(molten[-1] >= edge[-1] * (1 - 1e-6)),
    )


def times_for(coupon: Coupon) -> Numbers:
    """Seconds since the arc passed at which the peak of any point is looked for, (t,)."""
    lead = 3 * coupon.spread / coupon.travel
    return np.concatenate([np.linspace(-lead, 0.02, 8), np.geomspace(0.03, 400, 130)])


def _edge(coupon: Coupon, angles: Numbers) -> Numbers:
    """How far a ray from the bead's foot runs before it leaves the plate."""
    down = coupon.thickness / np.maximum(np.sin(angles), 1e-12)
    side = coupon.width / 2 / np.maximum(np.cos(angles), 1e-12)
    return np.minimum(down, side)


def _peaks(coupon: Coupon, times: Numbers, place: float, angles: Numbers) -> tuple[Numbers, Numbers]:
    """Highest temperature along rays from the bead's foot: (rays, steps), with the distances."""
    # Far enough that even the edge of the HAZ of the fast, thick-plate source lies inside.
    low = coupon.haz_edge if math.isfinite(coupon.haz_edge) else coupon.melting
    line_energy = coupon.power / coupon.travel
    thick = math.sqrt(2 * line_energy / (math.pi * math.e * coupon.capacity / 1000 * max(low - coupon.start, 1.0)))
    thin = line_energy / (math.sqrt(2 * math.pi * math.e) * coupon.capacity / 1000 * coupon.thickness)
    reach = 1.6 * max(thick, thin / max(low - coupon.start, 1.0)) + 2 * coupon.spread
    share = np.linspace(0.01, 1, STEPS)
    away = np.minimum(reach, _edge(coupon, angles))[:, None] * share
    across, depth = away * np.cos(angles)[:, None], away * np.sin(angles)[:, None]
    found = temperatures(coupon, times, place, across.ravel(), depth.ravel())
    return highest(found).reshape(away.shape), away


def highest(found: Numbers) -> Numbers:
    """(p,) peak over time of (t, p) temperatures, by a parabola through the three highest."""
    top = np.clip(found.argmax(axis=0), 1, len(found) - 2)
    column = np.arange(found.shape[1])
    left, middle, right = found[top - 1, column], found[top, column], found[top + 1, column]
    bend = left - 2 * middle + right
    rise = (left - right) ** 2 / (8 * np.maximum(-bend, 1e-9))
    return np.asarray(middle + np.where(bend < -1e-6, rise, 0.0))


def _reached(peak: Numbers, away: Numbers, level: float, start: float) -> Numbers:
    """(rays,) distance to where the peak falls to a level, 0 where it is never reached, the ray's end where all is."""
    found = np.empty(len(peak))
    for row, (heat, far) in enumerate(zip(peak, away, strict=True)):
        if heat[0] < level:
            found[row] = 0.0
        elif heat.min() >= level:
            found[row] = far[-1]
        else:
            last = int(np.argmax(heat < level))
            # Peaks fall about as a power of the distance: interpolate in the logarithms.
            high, low = math.log(heat[last - 1] - start), math.log(heat[last] - start)
            share = (high - math.log(level - start)) / (high - low)
            found[row] = math.exp((1 - share) * math.log(far[last - 1]) + share * math.log(far[last]))
    return found


def _mean_haz(coupon: Coupon, peak: Numbers, away: Numbers, angles: Numbers, molten: Numbers) -> float:
    if not math.isfinite(coupon.haz_edge) or coupon.haz_edge <= coupon.start:
        return math.nan
    changed = _reached(peak, away, coupon.haz_edge, coupon.start)
    whole = (changed < away[:, -1] * (1 - 1e-9)) & (molten > 0)
    return float((changed - molten)[whole].mean()) if whole.any() else math.nan


def t85(coupon: Coupon, ahead: float) -> float:
    """Cooling time from 800 to 500 °C at the surface, on the centreline [s]; nan where it was never so hot.

    Source: out of `temperatures`.
    """
    times = np.geomspace(0.05, 580, 400)
    heat = temperatures(coupon, times, ahead, np.zeros(1), np.zeros(1))[:, 0]
    after = int(heat.argmax())
    late, cold = times[after:], heat[after:]
    if cold[0] < 800 or cold.min() > 500:
        return math.nan
    fall = [float(np.interp(-level, -cold, late)) for level in (800.0, 500.0)]
    return fall[1] - fall[0]
