"""The root side of a butt weld."""

import numpy as np

from etchbook.geometry import LineFit, arc_length
from etchbook.picture import Picture
from etchbook.section.arcs import AIR, Arcs
from etchbook.section.edges import Trace
from etchbook.section.strips import Array
from etchbook.section.toeing import find_toe
from etchbook.section.tracing import trace_curve
from etchbook.section.undercutting import carried_on


def trace_root(
    picture: Picture,
    arcs: Arcs,
    lines: dict[str, LineFit],
    fusion: Trace,
    family: str,
    reach: float,
    size: float,
    pixel: float,
) -> Trace | None:
    """Where the weld's contour meets the surroundings again, from root toe 1 to root toe 2; None when it does not."""
    if family != "butt" or any(name not in lines for name in ("back_1", "back_2", "surface_1")):
        return None
    rough = _rough(arcs, lines, size)
    if rough is None:
        return None
    backs: list[LineFit | None] = [lines["back_1"], lines["back_2"]]
    length = float(arc_length(rough)[-1])
    traced = trace_curve(
        picture,
        carried_on(rough, backs, 12.0 * pixel),
        reach=min(reach, max(4.0, 0.3 * length)),
        prior_sd=1.2 * pixel,
        along_px=max(2.0, 0.012 * size),
        stiffness_px=min(0.045 * size, 0.15 * length),
    )
    return _between_toes(traced, lines, rough, fusion, length, pixel)


def _rough(arcs: Arcs, lines: dict[str, LineFit], size: float) -> Array | None:
    """The stretch of the fusion side that lies against the surroundings near the root-side surface."""
    back = lines["back_1"].line
    depth = abs(float(back.across(lines["surface_1"].line.anchor)[0]))
    index = np.nonzero((arcs.beside == AIR) & (np.abs(back.across(arcs.fusion)) < 0.35 * depth))[0]
    if len(index) < 5:
        return None
    rough = arcs.fusion[index[0] : index[-1] + 1]
    return rough if float(arc_length(rough)[-1]) > 0.02 * size + 3 else None


def _between_toes(
    traced: Trace, lines: dict[str, LineFit], rough: Array, fusion: Trace, length: float, pixel: float
) -> Trace:
    middle = len(fusion.points) // 2
    toes = []
    for name, turn, side in (("back_1", 1, fusion.points[:middle][::-1]), ("back_2", -1, fusion.points[middle:])):
        fit = lines[name]
        out = fit.line.normal if fit.line.across(fusion.points[middle // 2])[0] < 0 else -fit.line.normal
        toes.append(
            find_toe(
                fit,
                out,
                traced.points[::turn],
                _from_root(side, rough, turn),
                rough[0 if turn == 1 else -1],
                length,
                pixel,
            )
        )
    points = traced.points
    first, last = (int(np.argmin(np.hypot(*(points - toe.point).T))) for toe in toes)
    if last - first < 6:
        return traced
    keep = slice(first, last + 1)
    chain = points[keep].copy()
    chain[0], chain[-1] = toes[0].point, toes[1].point
    sd = traced.sd[keep].copy()
    sd[0], sd[-1] = toes[0].u_along, toes[1].u_along
    return Trace(points=chain, sd=sd, clarity=traced.clarity[keep], blur=traced.blur)


def _from_root(side: Array, rough: Array, turn: int) -> Array:
    """One half of the fusion line, from its root end upwards."""
    end = rough[0] if turn == 1 else rough[-1]
    start = int(np.argmin(np.hypot(*(side - end).T)))
    return side[start:]
