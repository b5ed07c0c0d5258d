"""What the picture itself answers: from the measured fields of an indication to observations of the tables."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scipy.special import ndtr

from etchbook.evidence import Answer
from etchbook.picture import NoScale
from etchbook.quantity import Measured, Quantity, spoken
from etchbook.section import Indication, Reading
from etchbook.usecases.bead_axis import along_axis

PICTURE = "the picture"
SURE = 0.8
"""An answer is given only where the measured value says so with this chance; between, nothing is said."""
MANY = 5
"""More lines than this are a family through the thickness; up to this many may be streaks of one segregation."""
ON_FUSION_LINE = 0.6
SHARP_PX = 3.0
SHARP_MM = 0.025
BLACK = 0.5
JAGGED_MM = 0.03


@dataclass(frozen=True, kw_only=True, slots=True)
class Seen:
    """What the picture tells of one indication.

    Parameters
    ----------
    table : lines or weld_marks
    gate : place by which causes are let through
    answers : observations that the picture answers; those it cannot answer are left out
    """

    table: str
    gate: str
    answers: tuple[Answer, ...]


def observe(reading: Reading, indication: Indication) -> Seen:
    """What the picture tells of one indication.

    Parameters
    ----------
    reading : the reading that holds it
    indication : with its measured fields; an absent field answers nothing

    Returns
    -------
    Seen
        A state is given only where value and u together leave at most one chance in five for another one.
    """
    if indication.kind == "blob" and indication.where == "weld_metal":
        return Seen(table="weld_marks", gate="weld", answers=tuple(_of_a_mark(reading, indication)))
    gate = _gate(indication)
    return Seen(table="lines", gate=gate, answers=tuple(_of_a_line(reading, indication, gate)))


def inside(value: Quantity, least: float = -math.inf, most: float = math.inf) -> float | None:
    """Chance that a measured value lies between two bounds; None where it was not measured."""
    if not isinstance(value, Measured):
        return None
    if value.u == 0:
        return float(least <= value.value <= most)
    high, low = ((bound - value.value) / value.u for bound in (most, least))
    return float(ndtr(high) - ndtr(low))


def _gate(indication: Indication) -> str:
    where = indication.where
    if where.startswith("member"):
        return "plate_many" if indication.kind == "family" and indication.count > MANY else "plate"
    if where.startswith(("haz", "fusion_line")):
        return "haz"
    return "weld" if where == "weld_metal" else "anywhere"


def _of_a_line(reading: Reading, found: Indication, gate: str) -> Iterator[Answer]:
    for look in (*ANYWHERE, *(IN_WELD if gate == "weld" else IN_PLATE)):
        answer = look(reading, found)
        if answer is not None:
            yield answer


def _of_a_mark(reading: Reading, found: Indication) -> Iterator[Answer]:
    shape = found.roundness
    yield from _told("outline", (("round", inside(shape, 0.8)), ("irregular", inside(shape, most=0.6))), shape)
    answer = _bead(reading, found)
    if answer is not None:
        yield _say("bead_shape", "deep" if answer.state == "yes" else "wide", answer.words)


def _told(name: str, chances: tuple[tuple[str, float | None], ...], value: Quantity) -> Iterator[Answer]:
    for state, chance in chances:
        if chance is not None and chance >= SURE:
            yield _say(name, state, spoken(value))
            return


def _first(name: str, chances: tuple[tuple[str, float | None], ...], value: Quantity) -> Answer | None:
    return next(_told(name, chances, value), None)


def _say(name: str, state: str, words: str) -> Answer:
    return Answer(observation=name, state=state, by=PICTURE, words=words)


def _yes_no(chance: float | None) -> tuple[tuple[str, float | None], ...]:
    return (("yes", chance), ("no", None if chance is None else 1 - chance))


def _parallel(reading: Reading, found: Indication) -> Answer | None:
    angle = found.angle_to_surface
    return _first("parallel", _yes_no(inside(angle, -2, 2)), angle)


def _depth(reading: Reading, found: Indication) -> Answer | None:
    depth = found.depth_fraction
    middle = inside(depth, 0.45, 0.55)
    if middle is None:
        return None
    near = 1 - (inside(depth, 0.15, 0.85) or 0.0)
    return _first("depth", (("middle", middle), ("near_face", near), ("between", 1 - middle - near)), depth)


def _many(reading: Reading, found: Indication) -> Answer | None:
    # That only one line was found is no "no": bands hardly stand out of the grain, and the others may be too faint.
    if found.kind != "family" or found.count <= MANY:
        return None
    return _first("many_lines", (("yes", inside(found.spacing, 0.02, 0.1)),), found.spacing)


def _continuous(reading: Reading, found: Indication) -> Answer | None:
    whole = inside(found.continuity, 0.9)
    if found.kind != "line" or whole is None or whole < SURE or len(found.pieces) > 1:
        return None
    return _first("continuous", (("yes", inside(found.length, 10.0)),), found.length)


def _members(reading: Reading, found: Indication) -> Answer | None:
    if found.meets.match:
        return _say("members", "both_matching", f"like {found.meets.match} in the other member")
    # Where two plates lie on each other a line belongs to both of them, and to neither.
    if reading.joint.members == 2 and found.where.startswith("member") and not found.meets.faying:
        return _say("members", "one_only", "no line at that depth in the other member")
    return None


def _fusion(reading: Reading, found: Indication) -> Answer | None:
    meets = found.meets
    if meets.along_fusion >= ON_FUSION_LINE:
        return _say("to_fusion_line", "follows", f"{meets.along_fusion:.0%} of it lies on the fusion line")
    if meets.fusion == "passes":
        return _say("to_fusion_line", "passes", "crosses the fusion line")
    if meets.fusion == "stops" and meets.haz in ("passes", "unknown") and found.where.startswith("member"):
        return _say("to_fusion_line", "stops", "stops at the fusion line")
    beside = inside(found.fusion_distance, 0.1, 1.0)
    jagged = inside(found.straightness, JAGGED_MM)
    if found.where.startswith("haz") and beside is not None and jagged is not None and min(beside, jagged) >= SURE:
        return _say("to_fusion_line", "beside", f"{spoken(found.fusion_distance)} from the fusion line, not straight")
    return None


def _faying(reading: Reading, found: Indication) -> Answer | None:
    return _say("faying_surface", "yes", "the joint has two plates on each other there") if found.meets.faying else None


def _thin(reading: Reading, found: Indication) -> Answer | None:
    thin = inside(found.width, most=0.010)
    if thin is None and isinstance(found.width_limit, Measured) and found.width_limit.value <= 0.010:
        thin = 1.0
    if thin is None or thin < SURE or len(found.pieces) < 3:
        return None
    return _say("thin_dashed", "yes", f"{len(found.pieces)} pieces")


def _edges(reading: Reading, found: Indication) -> Answer | None:
    """Sharp or soft beside the picture's own sharpest true edge; an unsharp picture answers nothing."""
    rise, best = found.edge_rise, found.sharpest_rise
    if not (isinstance(rise, Measured) and isinstance(best, Measured)) or not _sharp_picture(reading, best.value):
        return None
    words = f"edge {spoken(rise)}, the picture's sharpest {spoken(best)}"
    black = inside(found.contrast, BLACK)
    if rise.value + rise.u <= 1.3 * best.value and black is not None and black >= SURE:
        return _say("edges", "sharp_black", words)
    if rise.value - rise.u >= 2 * best.value and _band_wide(reading, found):
        return _say("edges", "wide_soft", words)
    return None


def _sharp_picture(reading: Reading, rise_px: float) -> bool:
    fine = not isinstance(reading.scale, NoScale) and rise_px / reading.scale.px_per_mm <= SHARP_MM
    return fine or rise_px <= SHARP_PX


def _band_wide(reading: Reading, found: Indication) -> bool:
    chance = inside(found.width, 0.02, 0.3)
    return chance is not None and chance >= SURE


def _scratches(reading: Reading, found: Indication) -> Answer | None:
    angle = found.meets.scratch_angle
    return _first("along_scratches", _yes_no(inside(angle, -3, 3)), angle)


def _bead(reading: Reading, found: Indication) -> Answer | None:
    if found.where != "weld_metal":
        return None
    deep = reading.dimensions.get("depth_to_width")
    hollow = reading.dimensions.get("convexity")
    answer = None if deep is None else _first("deep_bead", _yes_no(inside(deep, 1.0)), deep)
    if hollow is not None and (inside(hollow, most=0.0) or 0.0) >= SURE and isinstance(hollow, Measured):
        return _say("deep_bead", "yes", f"concave face, {spoken(hollow)}")
    return answer


def _mid_bead(reading: Reading, found: Indication) -> Answer | None:
    lies = along_axis(reading.outline, found.points)
    if lies is None:
        return None
    words = "along the middle of the bead" if lies else "not along the middle of the bead"
    return _say("mid_bead", "yes" if lies else "no", words)


Look = Callable[[Reading, Indication], Answer | None]
ANYWHERE: tuple[Look, ...] = (_continuous, _thin, _edges, _scratches, _bead)
IN_WELD: tuple[Look, ...] = (_mid_bead,)
IN_PLATE: tuple[Look, ...] = (_parallel, _depth, _members, _fusion, _faying, _many)
