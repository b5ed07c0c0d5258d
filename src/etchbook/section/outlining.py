"""From what was seen of a picture to the draft of an outline: traces, lines, toes."""

from dataclasses import replace

import numpy as np

from etchbook.geometry import LineFit, arc_length, distances_to_polyline
from etchbook.picture import Picture
from etchbook.section import plates
from etchbook.section.arcs import Arcs
from etchbook.section.draft import Draft, ToeFit
from etchbook.section.edges import Trace
from etchbook.section.hazing import trace_haz
from etchbook.section.looking import ALIKE, Look
from etchbook.section.overlapping import with_overlaps
from etchbook.section.pores import find_pores
from etchbook.section.rooting import trace_root
from etchbook.section.seaming import seamed
from etchbook.section.strips import Array
from etchbook.section.toeing import find_toe
from etchbook.section.tracing import codes_along, trace_curve
from etchbook.section.undercutting import carried_on, groove_wall
from etchbook.terms import Family

GROOVED = 2.5
"""Standard deviation of a toe beyond a groove along the surface [pixels of the first guess]; tuned as `toeing` is."""

TWO_WELDS = ("weld metal", "two looks at this picture do not see the same weld")


def make_draft(picture: Picture, seen: Look, family: Family) -> Draft:
    """Trace everything that the looks show."""
    arcs, pixel = seen.arcs, seen.near.factor
    size = float(arc_length(arcs.face)[-1])
    reach = max(4.0 * pixel, 6.0)
    rims, lines = plates.trace_plates(picture, seen, family, reach, size)
    lines, flaws = plates.checked(lines, family)
    surfaces = [lines.get("surface_1" if family == "bead" else f"surface_{toe}") for toe in ("1", "2")]
    walls = _walls(surfaces, rims, seen, family, size, pixel)
    crown = trace_curve(
        picture,
        carried_on(arcs.face, surfaces, 16.0 * pixel, walls),
        reach=reach,
        prior_sd=1.3 * pixel,
        along_px=max(2.0, 0.012 * size),
        stiffness_px=0.045 * size,
    )
    fusion = trace_curve(
        picture,
        arcs.fusion,
        reach=1.3 * reach,
        prior_sd=1.5 * pixel,
        along_px=max(3.0, 0.02 * size),
        stiffness_px=0.05 * size,
    )
    fusion = seamed(
        picture, fusion, arcs.fusion, reach=1.3 * reach, along_px=max(3.0, 0.02 * size), stiffness_px=0.05 * size
    )
    crown, fusion = _weighed(crown, seen, "face", pixel), _weighed(fusion, seen, "fusion", pixel)
    toes = _toes(surfaces, walls, crown, fusion, seen, family, size, pixel)
    face, fusion = _joined(crown, toes), _joined(fusion, toes)
    beside = codes_along(fusion.points, arcs.fusion, arcs.beside)
    open_to_lap = _open_to_lap(surfaces, walls, arcs, family)
    face, fusion, beside, toes = with_overlaps(face, fusion, beside, toes, open_to_lap, pixel)
    haz = trace_haz(picture, seen.near, fusion, beside, reach, size)
    root_face = trace_root(picture, arcs, lines, fusion, family, reach, size, pixel)
    return Draft(
        family=family,
        face=face,
        fusion=fusion,
        beside=beside,
        toes=toes,
        rims=rims,
        lines=lines,
        haz=haz,
        root_face=root_face,
        pores=find_pores(seen.near, size),
        sharpness=arcs.sharpness,
        pixel=pixel,
        flaws=flaws if seen.alike >= ALIKE else (*flaws, TWO_WELDS),
    )


def _walls(
    surfaces: list[LineFit | None], rims: dict[str, Trace], seen: Look, family: str, size: float, pixel: float
) -> tuple[Array | None, Array | None]:
    """Walls of the grooves beside both toes, None where there is no groove."""
    found: list[Array | None] = []
    for toe, surface, guess in zip(("1", "2"), surfaces, (seen.arcs.face[0], seen.arcs.face[-1]), strict=True):
        rim = rims.get(f"near_{toe}")
        found.append(
            None
            if surface is None
            else groove_wall(surface.line, plates.out_of(surface.line, family, seen.arcs), rim, guess, size, pixel)
        )
    return found[0], found[1]


def _open_to_lap(
    surfaces: list[LineFit | None], walls: tuple[Array | None, Array | None], arcs: Arcs, family: str
) -> tuple[tuple[LineFit, Array] | None, tuple[LineFit, Array] | None]:
    """Surfaces on which weld metal may lie unfused: not over a corner's edge, up a lapped edge or across a groove."""
    found = [
        None if line is None or wall is not None else (line, plates.out_of(line.line, family, arcs))
        for line, wall in zip(surfaces, walls, strict=True)
    ]
    return None if family == "corner" else found[0], None if family in ("corner", "lap") else found[1]


def _toes(
    surfaces: list[LineFit | None],
    walls: tuple[Array | None, Array | None],
    crown: Trace,
    fusion: Trace,
    seen: Look,
    family: str,
    size: float,
    pixel: float,
) -> tuple[ToeFit, ToeFit]:
    found: list[ToeFit] = []
    arcs = seen.arcs
    for index, (line, wall, turn) in enumerate(zip(surfaces, walls, (1, -1), strict=True)):
        guess = arcs.face[-index]
        if line is None:
            found.append(ToeFit(point=guess, u_along=2.0 * pixel, u_across=1.0 * pixel))
            continue
        out = plates.out_of(line.line, family, arcs)
        if wall is not None:
            at = float(line.line.along(wall[-1])[0])
            found.append(ToeFit(point=line.line.at(at), u_along=GROOVED * pixel, u_across=line.u_across(at)))
            continue
        toe_fit = find_toe(line, out, crown.points[::turn], fusion.points[::turn], guess, size, pixel)
        # Where the two looks put the toe in different places, neither is to be believed to the pixel.
        apart = max(0.0, float(np.hypot(*(guess - seen.first.face[-index]))) - 2.0 * seen.whole.factor)
        found.append(replace(toe_fit, u_along=float(np.hypot(toe_fit.u_along, 0.3 * apart))))
    return found[0], found[1]


def _weighed(traced: Trace, seen: Look, part: str, pixel: float) -> Trace:
    """A trace whose standard deviation also tells how far it lies from what each look at the picture had seen.

    Two looks and one trace are three tries at the same boundary; where they agree it is well known.
    """
    sd2 = traced.sd**2
    for arcs, share in ((seen.arcs, 0.35), (seen.first, 0.15)):
        away = distances_to_polyline(traced.points, arcs.face if part == "face" else arcs.fusion)
        sd2 = sd2 + (share * np.clip(away - 0.5 * pixel, 0.0, None)) ** 2
    return replace(traced, sd=np.sqrt(sd2))


def _joined(traced: Trace, toes: tuple[ToeFit, ToeFit]) -> Trace:
    """A trace from toe to toe: what overshoots is cut off, and the toes themselves become its ends."""
    points = traced.points
    first = int(np.argmin(np.hypot(*(points - toes[0].point).T)))
    last = int(np.argmin(np.hypot(*(points - toes[1].point).T)))
    if last - first < 8:
        first, last = 0, len(points) - 1
    keep = slice(first, last + 1)
    points = points[keep].copy()
    return Trace(points=_bent_to(points, toes), sd=traced.sd[keep], clarity=traced.clarity[keep], blur=traced.blur)


def _bent_to(points: Array, toes: tuple[ToeFit, ToeFit]) -> Array:
    """The ends of a chain led into the toes over a short stretch."""
    run = arc_length(points)
    fade = max(0.04 * float(run[-1]), 2.0)
    start = np.exp(-run / fade)[:, None] * (toes[0].point - points[0])
    stop = np.exp(-(run[-1] - run) / fade)[:, None] * (toes[1].point - points[-1])
    return np.asarray(points + start + stop)
