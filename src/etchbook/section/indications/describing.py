"""From a traced line to an indication with all its fields, each with its uncertainty."""

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import LineFit, angle_between, fit_line
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section.indications.candidates import Candidate
from etchbook.section.indications.kernels import Kernel, kernel_near
from etchbook.section.indications.meeting import at_fusion, at_haz
from etchbook.section.indications.members import Member
from etchbook.section.indications.nearfaces import with_near_faces
from etchbook.section.indications.profiles import RISE
from etchbook.section.indications.scene import Scene
from etchbook.section.indications.widths import Width, width_of
from etchbook.section.records import HAZ, WELD, Indication, Meeting

Array = NDArray[np.float64]
NO_SCALE = Absent(reason="there is no scale")
NO_MEMBER = Absent(reason="it lies in no plate whose two faces are known")
NO_FUSION = Absent(reason="the fusion line was not traced")
ON_FUSION_MM = 0.2
LEAST_PX = 0.15
"""No place of a line is claimed to be known better than this [px]; a planning value, common practice."""


def described(scene: Scene, found: Candidate) -> Indication:
    """Everything that the definition of an indication names, for one line."""
    trace = found.trace
    member = found.member or member_at(scene, trace.points)
    near = None if member is None else with_near_faces(scene, member, trace.points)
    fit = fit_line(trace.points[:: max(1, len(trace.points) // 400)], 0.3)
    plain = Kernel(blur=scene.blur, u=scene.u_blur)
    width = width_of(trace, kernel_near(scene.edges, trace.points, plain))
    on_fusion = _on_fusion(scene, trace.points)
    resolved = millimetres(scene, width.value, width.u)
    return Indication(
        where=place_of(scene, trace.points, member, on_fusion),
        kind="line",
        points=trace.points,
        sd=trace.sd,
        pieces=trace.pieces,
        length=millimetres(scene, trace.length, 1.5 + 0.5 * scene.blur),
        width=resolved if width.resolved else _too_fine(scene, width),
        width_limit=millimetres(scene, width.limit, width.u),
        depth_fraction=_depth(near, trace.points),
        fusion_distance=_from_fusion(scene, trace.points),
        angle_to_surface=_angle(near, fit, trace.length),
        straightness=millimetres(scene, fit.rms, max(LEAST_PX, float(np.median(trace.sd)) / 3)),
        continuity=_share(trace.continuity, len(trace.pieces), trace.length, scene),
        contrast=_contrast(found),
        edge_rise=Measured(value=trace.profile.rise, u=0.1 * trace.profile.rise, unit="px"),
        sharpest_rise=Measured(value=RISE * scene.blur, u=RISE * scene.u_blur, unit="px"),
        meets=Meeting(
            haz=at_haz(scene, trace), fusion=at_fusion(scene, trace), along_fusion=on_fusion,
            faying=_faying(scene, trace.points),
        ),
        strength=found.height or found.score,
    )  # fmt: skip


def member_at(scene: Scene, points: Array) -> Member | None:
    """The member that most of some points lie in."""
    best, share = None, 0.5
    for member in scene.members:
        held = float(member.holds(points).mean())
        if held > share:
            best, share = member, held
    return best


def millimetres(scene: Scene, pixels: float, u: float) -> Quantity:
    """A length in mm, its u with the scale's part."""
    if not scene.scaled:
        return NO_SCALE
    return Measured(value=pixels / scene.mm, u=float(np.hypot(u, pixels * scene.relative)) / scene.mm, unit="mm")


def place_of(scene: Scene, points: Array, member: Member | None, on_fusion: float) -> str:
    """member_1, haz_1, fusion_line_1 (or 2) or weld_metal."""
    label = scene.label(points)
    number = "1" if member is None else member.name[-1]
    if on_fusion > 0.6:
        return f"fusion_line_{number}"
    if (label == WELD).mean() > 0.5:
        return "weld_metal"
    return f"haz_{number}" if (label == HAZ).mean() > 0.8 else f"member_{number}"


def _on_fusion(scene: Scene, points: Array) -> float:
    if scene.fusion is None:
        return 0.0
    return float((scene.from_fusion(points) < max(ON_FUSION_MM * scene.mm, 4.0)).mean())


def _too_fine(scene: Scene, width: Width) -> Absent:
    if not scene.scaled:
        return NO_SCALE
    return Absent(reason=f"it is narrower than the picture resolves: below {width.limit / scene.mm:.3f} mm")


def _depth(member: Member | None, points: Array) -> Quantity:
    if member is None:
        return NO_MEMBER
    deep, height = member.depth(points), member.height(points)
    if height is None or member.back is None:
        return NO_MEMBER
    thick = float((deep + height).mean())
    middle = points.mean(axis=0)
    faces = [fit.u_across(float(fit.line.along(middle)[0])) for fit in (member.surface, member.back)]
    u = float(np.sqrt(sum(np.hypot(one, 0.3) ** 2 for one in faces) / 2 + LEAST_PX**2)) / thick
    return Measured(value=float((deep / (deep + height)).mean()), u=u, unit="")


def _from_fusion(scene: Scene, points: Array) -> Quantity:
    if scene.fusion is None:
        return NO_FUSION
    parts = [part.sd for name, part in scene.outline.boundaries.items() if name.startswith("fusion_line")]
    return millimetres(scene, float(scene.from_fusion(points).min()), float(np.median(np.concatenate(parts))) + 0.5)


def _angle(member: Member | None, fit: LineFit, length: float) -> Quantity:
    if member is None:
        return Absent(reason="it lies in no plate whose surface is known")
    angle = angle_between(fit.line.direction, member.surface.line.direction)
    u = float(np.hypot(np.hypot(fit.u_turn, member.surface.u_turn), LEAST_PX / max(length, 1.0)))
    return Measured(value=min(angle, 180 - angle), u=float(np.degrees(u)), unit="°")


def _share(share: float, pieces: int, length: float, scene: Scene) -> Quantity:
    u = float(np.sqrt(2 * pieces)) * (1.0 + scene.blur) / max(length, 1.0)
    return Measured(value=min(share, 1.0), u=u, unit="")


def _contrast(found: Candidate) -> Quantity:
    profile = found.trace.profile
    u = float(np.hypot(profile.noise / max(profile.level, 1e-3), 0.03 * profile.seen))
    return Measured(value=profile.seen, u=u, unit="")


def _faying(scene: Scene, points: Array) -> bool:
    """Whether the drawing has two plates on each other there."""
    return bool(np.median(from_faying(scene, points)) < max(0.5 * scene.mm, 8.0))


def from_faying(scene: Scene, points: Array) -> Array:
    """Distance from where two members lie or stand on each other by the kind of joint, (n,) [px]."""
    lines = scene.outline.lines
    if scene.family not in ("tee", "lap") or "surface_1" not in lines:
        return np.full(len(points), 1e6)
    away = np.abs(lines["surface_1"].line.across(points))
    second = next((member for member in scene.members if member.name == "member_2"), None)
    if second is None or scene.family == "lap":
        return np.asarray(away)
    beneath = second.depth(points) > -0.3 * scene.mm
    height = second.height(points)
    if height is not None:
        beneath &= height > -0.3 * scene.mm
    return np.where(beneath, away, 1e6)
