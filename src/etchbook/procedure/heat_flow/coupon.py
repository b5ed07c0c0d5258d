"""A finite coupon: the moving source, mirrored in every face, with losses at the surface."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from etchbook.procedure.records import ProcedureError

Numbers = NDArray[np.float64]
NODES = 500
SPREAD = 1.5
"""Standard deviation of the heat's footprint on the plate [mm], as in the published comparison of the research note."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Coupon:
    """The plate, and the bead on it.

    Parameters
    ----------
    length, width, thickness : [mm]; the bead runs along the length
    conductivity : [W/(m·K)]; capacity : ρc [J/(cm³·K)]
    melting, haz_edge : [°C]; nan where the metal shows no such edge
    start : temperature before the bead [°C]
    loss : surface heat loss [W/(m²·K)]
    power : heat into the plate [W]; travel : [mm/s]
    bead_start, bead_length : where the bead begins from the plate's end, and how long it is [mm]
    spread : standard deviation of the heat's footprint [mm]; 0 for a point
    """

    length: float
    width: float
    thickness: float
    conductivity: float
    capacity: float
    melting: float
    haz_edge: float
    start: float
    loss: float
    power: float
    travel: float
    bead_start: float
    bead_length: float
    spread: float = SPREAD

    def __post_init__(self) -> None:
        if min(self.length, self.width, self.thickness, self.power, self.travel, self.bead_length) <= 0:
            raise ProcedureError("a heat-flow reckoning needs a plate, a source and a speed above zero")
        if self.bead_start < 0 or self.bead_start + self.bead_length > self.length * (1 + 1e-9):
            raise ProcedureError(
                f"a bead of {self.bead_length:g} mm does not fit on a plate {self.length:g} mm long"
                f" from {self.bead_start:g} mm on"
            )

    @property
    def diffusivity(self) -> float:
        """[mm²/s]"""
        return self.conductivity / self.capacity

    def but(self, **changes: float) -> "Coupon":
        """The same with something changed."""
        return replace(self, **changes)


def temperatures(coupon: Coupon, times: Numbers, ahead: float, across: Numbers, depth: Numbers) -> Numbers:
    """Temperature of points in one section of the coupon over time.

    Parameters
    ----------
    coupon : plate, source and metal
    times : (t,) seconds since the source passed the section; negative before
    ahead : distance of the section from the plate's end [mm]
    across, depth : (p,) from the bead's centreline, and below the surface [mm]

    Returns
    -------
    (t, p) [°C]
        Conduction only; constant properties; heat of melting left out; losses as one rate for the whole thickness.

    Source: heat kernel of a moving source, integrated over its past, with mirror images at every face
    (Carslaw and Jaeger, method of images; from memory). It meets `thick_temperature` and `thin_temperature`
    in plates far larger than the heat reaches.
    """
    past = _past(coupon)
    drift = 2 * coupon.diffusivity * past
    flat = drift + coupon.spread**2
    rate = 2 * coupon.loss / 1e6 / (coupon.capacity / 1000 * coupon.thickness)
    # The integral over the past runs in its logarithm, hence the factor `past`.
    weight = past * np.exp(-rate * past) * _steps(past)
    strength = coupon.power / (coupon.capacity / 1000)
    along = _along(coupon, np.asarray(times, float), ahead, past, flat)
    middle = coupon.width / 2
    side = _mirrored(middle + np.asarray(across, float), middle, flat, coupon.width)
    down = _mirrored(np.asarray(depth, float), 0.0, drift, coupon.thickness)
    return np.asarray(coupon.start + strength * (along * weight) @ (side * down).T)


def _past(coupon: Coupon) -> Numbers:
    """Ages of the heat, from far below any time that matters to the beginning of the bead and after."""
    oldest = max(coupon.bead_length / coupon.travel + 600.0, 1000.0)
    return np.geomspace(1e-6, oldest, NODES)


def _steps(past: Numbers) -> float:
    return math.log(float(past[-1] / past[0])) / (len(past) - 1)


def _along(coupon: Coupon, times: Numbers, ahead: float, past: Numbers, variance: Numbers) -> Numbers:
    """(t, n): what the heat of each age gives to the section, none from before the arc was lit or after it was out."""
    first, last = coupon.bead_start, coupon.bead_start + coupon.bead_length
    share = _burning(past, times + (ahead - last) / coupon.travel, times + (ahead - first) / coupon.travel)
    source = np.clip(ahead + coupon.travel * (times[:, None] - past), first, last)
    return np.asarray(share * _kernel(ahead, source, variance, coupon.length))


def _burning(past: Numbers, since: Numbers, until: Numbers) -> Numbers:
    """(t, n) share of the span that each age stands for, during which the arc burned.

    Late after a short bead that span is longer than the bead, and a mere yes or no would lose or invent heat.
    """
    half = math.exp(_steps(past) / 2)
    low, high = past / half, past * half
    inside = np.minimum(high, until[:, None]) - np.maximum(low, since[:, None])
    return np.asarray(np.clip(inside / (high - low), 0.0, 1.0))


def _mirrored(at: Numbers, source: float, variance: Numbers, size: float) -> Numbers:
    return _kernel(at[:, None], np.full((1, 1), source), variance, size)


def _kernel(at: Numbers | float, source: Numbers, variance: Numbers, size: float) -> Numbers:
    """Spread of heat between two closed faces, 0 and `size`: images while young, a cosine series when old."""
    young = variance < 0.1 * size**2
    shape = np.broadcast_shapes(np.shape(at), source.shape, variance.shape)
    here, there = np.broadcast_to(at, shape), np.broadcast_to(source, shape)
    found = np.empty(shape)
    found[..., young] = _images(here[..., young], there[..., young], variance[young], size)
    found[..., ~young] = _series(here[..., ~young], there[..., ~young], variance[~young], size)
    return found


def _images(here: Numbers, there: Numbers, variance: Numbers, size: float) -> Numbers:
    total = np.zeros(here.shape)
    for turn in (-1, 0, 1):
        for image in (2 * turn * size + there, 2 * turn * size - there):
            total += np.exp(-((here - image) ** 2) / (2 * variance))
    return total / np.sqrt(2 * np.pi * variance)


def _series(here: Numbers, there: Numbers, variance: Numbers, size: float) -> Numbers:
    total = np.ones(here.shape)
    for order in range(1, 9):
        turn = order * math.pi / size
        total += 2 * np.cos(turn * here) * np.cos(turn * there) * np.exp(-(turn**2) * variance / 2)
    return total / size
