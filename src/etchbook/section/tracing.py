"""Tracing each boundary on the full picture, starting from the first guess."""

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import LineFit, arc_length, fit_line, resample
from etchbook.picture import Picture
from etchbook.section.edges import Trace, trace
from etchbook.section.strips import Array, take_strip

MOST_PLACES = 420
"""Profiles along one boundary; more only cost time, since neighbours share their grain."""


def trace_curve(
    picture: Picture,
    rough: Array,
    *,
    reach: float,
    prior_sd: float,
    along_px: float,
    stiffness_px: float,
) -> Trace:
    """Trace a curved boundary near a rough one."""
    length = float(arc_length(rough)[-1])
    step = max(1.0, length / MOST_PLACES)
    curve = softened(resample(rough, step), max(1.5, reach / step / 3))
    spacing = max(0.5, reach / 40)
    strip = take_strip(picture.rgb, curve, reach, spacing)
    return trace(strip, prior_sd=prior_sd, along_px=along_px, stiffness_px=stiffness_px)


def softened(curve: Array, width: float) -> Array:
    """A curve with its small steps rubbed away; its ends stay."""
    if len(curve) < 5:
        return curve
    width = min(width, len(curve) / 6)
    pad = int(4 * width) + 1
    head = 2 * curve[0] - curve[min(pad, len(curve) - 1) : 0 : -1]
    tail = 2 * curve[-1] - curve[-2 : -min(pad, len(curve) - 1) - 2 : -1]
    whole = ndimage.gaussian_filter1d(np.concatenate([head, curve, tail]), width, axis=0)
    return np.asarray(whole[len(head) : len(head) + len(curve)])


def trace_straight(picture: Picture, points: Array, *, reach: float, along_px: float) -> tuple[Trace, LineFit] | None:
    """Trace a plate surface near rough points and fit its line; None when there is too little of it."""
    if len(points) < 6:
        return None
    rough = fit_line(points, 1.0).line
    run = rough.along(points)
    ends = np.stack([rough.at(float(run.min())), rough.at(float(run.max()))])
    if (points[-1] - points[0]) @ (ends[1] - ends[0]) < 0:
        ends = ends[::-1]
    if float(np.hypot(*(ends[1] - ends[0]))) < 8:
        return None
    curve = resample(ends, max(1.0, float(np.hypot(*(ends[1] - ends[0]))) / MOST_PLACES))
    strip = take_strip(picture.rgb, curve, reach, max(0.5, reach / 40))
    found = trace(strip, prior_sd=reach / 3, along_px=along_px, stiffness_px=6 * along_px)
    fit = fit_line(found.points, np.maximum(found.sd, 0.05))
    return found, honest(fit, found, along_px)


def honest(fit: LineFit, found: Trace, along_px: float) -> LineFit:
    """The fit with its uncertainty enlarged: neighbouring profiles share their grain, and the plate is no ruler."""
    places = len(found.points)
    step = float(arc_length(found.points)[-1]) / max(places - 1, 1)
    shared = max(1.0, 2.0 * along_px / max(step, 1e-6))
    grow = float(np.sqrt(min(shared, places / 3)))
    floor = 0.03 + 0.1 * found.blur
    return LineFit(
        line=fit.line,
        u_shift=float(np.hypot(fit.u_shift * grow, floor)),
        u_turn=float(np.hypot(fit.u_turn * grow, floor / max(arc_length(found.points)[-1], 1.0))),
        rms=fit.rms,
        used=fit.used,
    )


def two_sided(pieces: list[Trace], along_px: float) -> LineFit | None:
    """One line through the plate surface on both sides of a bead."""
    pieces = [piece for piece in pieces if len(piece.points) >= 4]
    if not pieces:
        return None
    points = np.concatenate([piece.points for piece in pieces])
    sd = np.concatenate([np.maximum(piece.sd, 0.05) for piece in pieces])
    return honest(fit_line(points, sd), Trace(points=points, sd=sd, clarity=sd, blur=pieces[0].blur), along_px)


def codes_along(points: Array, rough: Array, codes: NDArray[np.intp]) -> NDArray[np.intp]:
    """Codes of a rough curve carried over to a traced one by the share of length run."""
    here, there = arc_length(points), arc_length(rough)
    at = np.searchsorted(there / max(there[-1], 1e-9), here / max(here[-1], 1e-9))
    return np.asarray(codes[np.clip(at, 0, len(codes) - 1)])
