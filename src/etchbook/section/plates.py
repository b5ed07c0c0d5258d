"""The members beside the weld: their surface lines, far sides and ends."""

from typing import TYPE_CHECKING

import numpy as np

from etchbook.geometry import Line, LineFit, angle_between, arc_length, normals, resample
from etchbook.picture import Picture
from etchbook.picture.reduce import sample
from etchbook.section import shape
from etchbook.section.arcs import Arcs
from etchbook.section.edges import Trace
from etchbook.section.guess import Guess
from etchbook.section.lapped import lap_lines
from etchbook.section.rims import far_side, parallel_cluster, rim_rings, straight_run, walk_from
from etchbook.section.strips import Array
from etchbook.section.tracing import trace_straight, two_sided

if TYPE_CHECKING:
    from etchbook.section.looking import Look

TWIN_NEAR, TWIN_FAR = 8.0, 20.0
"""Where the light beside a traced face is compared [px]."""
TWIN_LIKE, TWIN_DIP = 0.04, 0.08
"""Light that is one metal on both sides, and the light that a line between loses, as shares."""
Parts = tuple[dict[str, Trace], dict[str, LineFit]]


def out_of(line: Line, family: str, arcs: Arcs) -> Array:
    """Unit normal of a plate surface, out of the metal."""
    return shape.out_of(line, arcs.face, arcs.fusion, before=family in ("tee", "lap"))


def trace_plates(picture: Picture, seen: "Look", family: str, reach: float, size: float) -> Parts:
    """Surface lines beside both toes and the far sides, as far as the picture shows them."""
    rims: dict[str, Trace] = {}
    lines: dict[str, LineFit] = {}
    along = max(3.0, 0.02 * size)
    rings = rim_rings(seen.near)
    walks = {toe: _walk(seen.near, seen.arcs, toe, rings) for toe in ("1", "2")}
    for toe, walk in walks.items():
        if len(walk) > 4:
            rims[f"near_{toe}"] = _rough_rim(seen.near.to_picture(walk[:60]), seen.near.factor)
    if family == "lap":
        _surface(picture, seen.near, walks["1"], "1", rims, lines, reach, along)
        lap_lines(picture, seen, walks["2"], rims, lines, reach, along)
    else:
        for toe in ("1", "2"):
            _surface(picture, seen.near, walks[toe], toe, rims, lines, reach, along)
    if family == "bead":
        line = two_sided([rims[name] for name in ("beside_1", "beside_2") if name in rims], along)
        lines = {} if line is None else {"surface_1": line}
    members = ("1",) if family == "bead" else ("1", "2")
    for member in members:
        if f"surface_{member}" in lines and not (family == "lap" and member == "2"):
            _far(picture, seen, family, member, rims, lines, reach, along)
    return rims, lines


def _rough_rim(points: Array, pixel: float) -> Trace:
    """The rim beside a toe as the first guess has it: coarse, but it follows a groove as no straight trace can."""
    count = len(points)
    return Trace(points=points, sd=np.full(count, 0.7 * pixel), clarity=np.full(count, 5.0), blur=pixel)


def _walk(near: Guess, arcs: Arcs, toe: str, rings: list[Array]) -> Array:
    end = arcs.face[0] if toe == "1" else arcs.face[-1]
    middle = arcs.face[len(arcs.face) // 2]
    return walk_from(rings, near.to_window(end), near.to_window(middle))


def _surface(
    picture: Picture,
    near: Guess,
    walk: Array,
    toe: str,
    rims: dict[str, Trace],
    lines: dict[str, LineFit],
    reach: float,
    along: float,
) -> None:
    run = straight_run(walk)
    found = trace_straight(picture, near.to_picture(run), reach=reach, along_px=along) if len(run) else None
    if found is not None:
        rims[f"beside_{toe}"], lines[f"surface_{toe}"] = found


def _far(
    picture: Picture,
    seen: "Look",
    family: str,
    member: str,
    rims: dict[str, Trace],
    lines: dict[str, LineFit],
    reach: float,
    along: float,
) -> None:
    """The far side of a member, looked for in the near view first and in the whole picture after that."""
    line = lines[f"surface_{member}"].line
    inward = -out_of(line, family, seen.arcs)
    names = ("beside_1", "beside_2") if family == "bead" else (f"beside_{member}",)
    surface = np.concatenate([rims[name].points for name in names if name in rims])
    for guess in (seen.near, seen.whole):
        rough = guess.to_picture(far_side(guess, guess.to_window(surface), inward))
        rough = parallel_cluster(rough, line, 3.0 * guess.factor)
        if len(rough) < max(6, 0.15 * min(80, len(surface))):
            continue
        order = np.argsort(line.along(rough))
        found = trace_straight(picture, rough[order], reach=max(reach, 4 * guess.factor), along_px=along)
        if found is not None and twin_sided(picture, found[0].points):
            # A dark line with the same metal on both its sides is no face; no thickness is better than a wrong one.
            return
        if found is not None and abs(np.sin(found[1].line.heading - line.heading)) < 0.12:
            rims[f"far_{member}"], lines[f"back_{member}"] = found
            return


def twin_sided(picture: Picture, points: Array) -> bool:
    """Whether a traced face has the same light and colour on both its sides and a dark line between them."""
    curve = resample(points, max(1.0, float(arc_length(points)[-1]) / 150))
    across = normals(curve)
    offsets = np.concatenate(
        [np.arange(-TWIN_FAR, -TWIN_NEAR, 2.0), np.arange(-5.0, 5.5), np.arange(TWIN_NEAR, TWIN_FAR, 2.0)]
    )
    light = np.stack([np.median(sample(picture, curve + off * across), axis=0) for off in offsets])
    one, other = light[offsets <= -TWIN_NEAR].mean(axis=0), light[offsets >= TWIN_NEAR].mean(axis=0)
    beside = np.minimum(one, other)
    alike = np.abs(one - other).max() < TWIN_LIKE * max(float(beside.mean()), 0.05)
    dip = float(light[np.abs(offsets) <= 5.0].mean(axis=1).min())
    return bool(alike and dip < (1 - TWIN_DIP) * float(beside.mean()))


Flaws = tuple[tuple[str, str], ...]


def checked(lines: dict[str, LineFit], family: str) -> tuple[dict[str, LineFit], Flaws]:
    """The lines, less a pair that cannot be the two plates of this joint; and what does not fit together."""
    pair = ("back_1", "back_2") if family == "corner" else ("surface_1", "surface_2")
    if family in ("butt", "bead") or any(name not in lines for name in pair):
        return lines, ()
    first, second = lines[pair[0]].line, lines[pair[1]].line
    angle = angle_between(first.direction, second.direction)
    if min(angle, 180 - angle) < 50:
        rest = {name: fit for name, fit in lines.items() if name not in pair}
        return rest, (
            (
                "plate surfaces",
                f"the two surfaces found meet at {min(angle, 180 - angle):.0f}°, which no {family} does",
            ),
        )
    return lines, ()
