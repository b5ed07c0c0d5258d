"""Where along the weld the sections lie."""

from collections.abc import Sequence
from itertools import pairwise

from etchbook.preparation.coupon import CutRule, CuttingError, CutWish

TINY = 1e-6


def stations(wish: CutWish, rule: CutRule) -> tuple[float, ...]:
    """Places of the sections along the weld, in order [mm].

    Those through a stop and start and those asked for lie where they are told; the rest is placed as evenly as
    they allow. CuttingError, one sentence, where the coupon is too short for them.
    """
    if rule.place == "end_section":
        return (_end_section(wish, rule),)
    _long_enough(wish, rule)
    low, high = _reach(wish, rule)
    fixed = _fixed(wish, rule)
    for place in fixed:
        if not low - TINY <= place <= high + TINY:
            raise CuttingError(
                f"a section at {place:g} mm cannot be cut: with {rule.discard:g} mm discarded at each end and the "
                f"other half kept, sections lie between {low:.1f} and {high:.1f} mm"
            )
    free = rule.sections - len(fixed)
    if rule.place == "end" and not fixed:
        return tuple(high - n * _pitch(wish) for n in reversed(range(free)))
    # Whole millimetres, because a rule is read to them; what the pieces need is seen to afterwards.
    evenly = [float(round(place)) for place in _even(fixed, free, (rule.discard, wish.length - rule.discard))]
    return _spread_out(sorted((*fixed, *evenly)), fixed, wish, (low, high))


def shortest(wish: CutWish, rule: CutRule) -> float:
    """Shortest coupon that holds all sections, their other halves and what is discarded [mm]."""
    ends = 2 * rule.discard + (2 * wish.kerf if rule.discard else 0.0)
    return ends + rule.sections * _pitch(wish) + _last(wish)


def _last(wish: CutWish) -> float:
    """What follows the last section: its own piece is cut off by the end cut, so one cut less is made than pitches."""
    return -wish.kerf if wish.slice else wish.reserve


def _pitch(wish: CutWish) -> float:
    """Least distance of two sections [mm]: the other half, its cut, the piece and its back cut."""
    back = wish.slice + wish.kerf if wish.slice else 0.0
    return wish.reserve + wish.kerf + back


def _reach(wish: CutWish, rule: CutRule) -> tuple[float, float]:
    """First and last place that a section can have [mm]."""
    end_cut = wish.kerf if rule.discard else 0.0
    low = rule.discard + end_cut + wish.reserve + wish.kerf + wish.allowance
    high = wish.length - rule.discard - end_cut - (wish.slice or wish.reserve) + wish.allowance
    return low, high


def _long_enough(wish: CutWish, rule: CutRule) -> None:
    least = shortest(wish, rule)
    if wish.length < least - TINY:
        count = "one section" if rule.sections == 1 else f"{rule.sections} sections"
        raise CuttingError(
            f"the coupon is too short: {rule.title} with {count}, {rule.discard:g} mm discarded at each end and "
            f"{wish.kerf:g} mm saw cuts needs at least {least:.0f} mm, not {wish.length:g} mm"
        )


def _end_section(wish: CutWish, rule: CutRule) -> float:
    if rule.sections != 1 or wish.at:
        raise CuttingError(f"{rule.title} takes its one section at the cut end of an end piece; plan others as own")
    least = 2 * rule.discard + 2 * wish.kerf + 100.0
    if wish.length < least:
        raise CuttingError(
            f"the coupon is too short: {rule.title} with two end pieces of {rule.discard:g} mm and about 100 mm "
            f"between needs at least {least:.0f} mm, not {wish.length:g} mm"
        )
    return rule.discard - wish.allowance


def _fixed(wish: CutWish, rule: CutRule) -> tuple[float, ...]:
    """Places that are told: through stops first, then those asked for."""
    if rule.through_stop > len(wish.start_stops):
        raise CuttingError(
            f"{rule.title} asks for a section through a stop and start: say where it lies, in mm from "
            "the start (start_stops)"
        )
    told = tuple(dict.fromkeys((*wish.start_stops[: rule.through_stop], *wish.at)))
    if len(told) > rule.sections:
        raise CuttingError(f"{len(told)} places are told for {rule.sections} sections: leave some out or ask for more")
    return tuple(sorted(told))


def _even(fixed: Sequence[float], free: int, ends: tuple[float, float]) -> list[float]:
    """Free places, each in the widest gap that is left; an end of the coupon counts as half a gap."""
    walls = [ends[0], *fixed, ends[1]]
    counts = [0] * (len(walls) - 1)
    for _ in range(free):
        steps = [_step(walls, gap, count + 1) for gap, count in enumerate(counts)]
        counts[max(range(len(counts)), key=lambda gap: steps[gap])] += 1
    return [place for gap, count in enumerate(counts) for place in _inside(walls, gap, count)]


def _step(walls: Sequence[float], gap: int, count: int) -> float:
    """Distance of neighbours when `count` places share a gap."""
    before = 0.5 if gap == 0 else 1.0
    after = 0.5 if gap == len(walls) - 2 else 1.0
    return (walls[gap + 1] - walls[gap]) / (count - 1 + before + after)


def _inside(walls: Sequence[float], gap: int, count: int) -> list[float]:
    if not count:
        return []
    step = _step(walls, gap, count)
    first = walls[gap] + step * (0.5 if gap == 0 else 1.0)
    return [first + n * step for n in range(count)]


def _spread_out(
    places: Sequence[float], fixed: Sequence[float], wish: CutWish, reach: tuple[float, float]
) -> tuple[float, ...]:
    """The places, moved no more than their pieces need; those that are told stay."""
    pitch, moved = _pitch(wish), list(places)
    for n, place in enumerate(moved):
        if place not in fixed:
            moved[n] = max(place, reach[0] if n == 0 else moved[n - 1] + pitch)
    for n in reversed(range(len(moved))):
        if moved[n] not in fixed:
            moved[n] = min(moved[n], reach[1] if n == len(moved) - 1 else moved[n + 1] - pitch)
    gaps = [after - before for before, after in pairwise(moved)]
    if moved[0] < reach[0] - TINY or moved[-1] > reach[1] + TINY or any(gap < pitch - TINY for gap in gaps):
        raise CuttingError(
            f"sections at {', '.join(f'{place:.0f}' for place in places)} mm lie too close: each needs {pitch:g} mm, "
            "with its other half and the saw cuts; move them apart or make the pieces thinner"
        )
    return tuple(moved)
