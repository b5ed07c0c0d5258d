"""The scale from the graduations of a rule in the picture."""

import math
from dataclasses import dataclass, replace

import numpy as np

from etchbook.picture.records import NoScale, Picture, Scale
from etchbook.picture.scale.comb import Strip, aligned, leaned, straightened
from etchbook.picture.scale.pattern import Pattern, agrees, read_pattern
from etchbook.picture.scale.seeds import Level, Seed, find_seeds, levels_of
from etchbook.picture.scale.ticks import Ticks, find_ticks

WIDE_REACH = 16.0
FINE_PITCH = 16.0
"""Pitch from which on finer graduations between would be seen [px]."""
GRADUATION = (0.45, 15.0)
"""Length of graduations on any rule [pitches]; common practice."""
UPRIGHT = 0.01
"""Leaning less than this shortens the step by less than 0.005 %."""
FLOOR = 2e-4
"""Relative uncertainty that no counting of graduations gets below: the rule itself, and the eye of the camera."""
SHOWS = {
    "millimetres": "every fifth or tenth graduation longer, as on millimetres",
    "half millimetres": "half millimetres",
    "halved inch": "an inch halved again and again",
    "every second": "every second graduation longer",
}
INSTEAD = "give the scale, or two points and their distance"
ASK = "say how far apart neighbouring graduations are, for example rule=1mm, rule=0.5mm or rule=1/64in"


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """A rule in the picture.

    Parameters
    ----------
    pitch : step of graduations at the middle of the rule [px of the full picture]
    relative : its relative standard uncertainty
    count : graduations seen
    pattern : what their lengths say
    finer : whether finer graduations stand between them
    strict : whether they are so many and clear that even equal lengths prove a rule
    """

    pitch: float
    relative: float
    count: int
    pattern: Pattern
    finer: bool
    strict: bool


def find_rule(picture: Picture, pitch_mm: float | None = None) -> Scale | NoScale:
    """Find a rule at any angle and count its graduations.

    Parameters
    ----------
    picture : the picture
    pitch_mm : distance of neighbouring graduations [mm], None to tell it from which of them are longer

    Returns
    -------
    Scale or NoScale
        At the middle of the rule. u covers the placing of the graduations and the change of
        scale along the rule; not that the rule may lie above or below the face: put them level.
    """
    if pitch_mm is not None and not (math.isfinite(pitch_mm) and pitch_mm > 0):
        raise ValueError(f"the distance of neighbouring graduations must be more than 0 mm, not {pitch_mm:g}")
    rules = [rule for rule in _rules(picture) if not rule.finer]
    if not rules:
        return NoScale(reason=f"no rule was found in the picture; {INSTEAD}")
    return _told(rules) if pitch_mm is None else _stated(rules, pitch_mm)


def _rules(picture: Picture) -> list[Found]:
    levels = levels_of(picture)
    found: list[Found] = []
    for seed in find_seeds(levels):
        got = _measured(levels[seed.level], seed)
        if got is None:
            # Thin graduations repeat as strongly at half their step; what was seen may have been that.
            seed = replace(seed, pitch=2 * seed.pitch)
            got = _measured(levels[seed.level], seed)
        if got is None:
            continue
        finest = _promoted(levels, seed, got.pitch / levels[seed.level].factor)
        better = _measured(levels[finest.level], finest, WIDE_REACH) if finest is not None else got
        if better is not None and better.pattern.kind != "ragged" and not any(_same(better, other) for other in found):
            found.append(better)
        if len(found) == 3 or any(rule.strict and rule.pattern.pitch_mm is not None for rule in found):
            break
    return found


def _same(one: Found, two: Found) -> bool:
    return abs(one.pitch / two.pitch - 1) < 0.004 and one.pattern == two.pattern


def _promoted(levels: list[Level], seed: Seed, pitch: float) -> Seed | None:
    """The seed in the level in which finer graduations would be seen."""
    best = seed.level
    size = pitch
    while best > 0 and size < FINE_PITCH:
        best, size = best - 1, size * 2
    ratio = levels[seed.level].factor / levels[best].factor
    x, y = (seed.x + 0.5) * ratio - 0.5, (seed.y + 0.5) * ratio - 0.5
    return replace(seed, level=best, x=x, y=y, pitch=pitch * ratio)


def _measured(level: Level, seed: Seed, reach: float = 9.0) -> Found | None:
    turned = aligned(level, seed)
    for _ in range(3):
        if turned is None:
            return None
        strip, _, column = straightened(level, turned, reach)
        ticks = find_ticks(strip, column)
        if ticks is None:
            return None
        if abs(ticks.lean) < UPRIGHT:
            return _fitted(level, strip, ticks)
        turned = leaned(turned, ticks.lean)
    return None


def _fitted(level: Level, strip: Strip, ticks: Ticks) -> Found | None:
    """Step of the graduations by a curve through their places; tilt makes it change along the rule."""
    k = ticks.index - (ticks.index[0] + ticks.index[-1]) / 2
    keep = np.ones(len(k), bool)
    for _ in range(3):
        curve = np.polyfit(k[keep], ticks.place[keep], 2)
        rest = ticks.place - np.polyval(curve, k)
        spread = 1.4826 * float(np.median(np.abs(rest[keep]))) + 0.01
        keep = np.abs(rest) < 4 * spread
    n = int(keep.sum())
    if n < 8:
        return None
    rms = float(np.sqrt((rest[keep] ** 2).mean())) * math.sqrt(n / (n - 3)) + 0.02
    slope_u = rms / math.sqrt(float((k[keep] ** 2).sum()))
    step = float(curve[1])
    # The scale changes by 2c a graduation: half of its change over the rule, taken as evenly likely;
    # of the bend itself only what stands out of the scatter counts.
    bend_u = rms / math.sqrt(float(((k[keep] ** 2 - (k[keep] ** 2).mean()) ** 2).sum()))
    bend = math.sqrt(max(0.0, float(curve[0]) ** 2 - bend_u**2))
    change = bend * (k[-1] - k[0]) / math.sqrt(3)
    relative = math.hypot(1.5 * slope_u / step, change / step, FLOOR)
    seen = np.isfinite(ticks.length)
    missing = 1 - len(k) / (k[-1] - k[0] + 1)
    return Found(
        pitch=step * strip.step * level.factor,
        relative=relative,
        count=len(k),
        pattern=read_pattern(ticks.index[seen], ticks.length[seen]),
        finer=ticks.finer,
        strict=_strict(ticks, missing, rms / strip.pitch),
    )


def _strict(ticks: Ticks, missing: float, scatter: float) -> bool:
    """Many, even, clear and as long as graduations are: dots are shorter, threads and stripes have no end."""
    seen = ticks.length[np.isfinite(ticks.length)]
    if len(seen) < 14 or missing > 0.06 or scatter > 0.045 or ticks.clarity < 5:
        return False
    shortest, longest = GRADUATION
    return bool(shortest <= float(np.median(seen)) <= longest)


def _told(rules: list[Found]) -> Scale | NoScale:
    sure = [(rule, rule.pattern.pitch_mm) for rule in rules if rule.pattern.pitch_mm is not None]
    if not sure:
        if any(rule.strict or rule.pattern.kind not in ("even", "unclear") for rule in rules):
            return NoScale(reason=f"there is a rule in the picture, but its kind cannot be told for certain; {ASK}")
        return NoScale(reason=f"no rule could be told for certain in the picture; if there is one, {ASK}")
    return _agreed([_scale(rule, pitch) for rule, pitch in sure])


def _stated(rules: list[Found], pitch_mm: float) -> Scale | NoScale:
    known = [rule for rule in rules if rule.pattern.kind not in ("even", "unclear")]
    proven = [rule for rule in known if agrees(rule.pattern, pitch_mm)]
    if known and not proven:
        return NoScale(
            reason=f"the rule in the picture shows {SHOWS[known[0].pattern.kind]}, which does not agree with "
            f"graduations {pitch_mm:g} mm apart; check which is right"
        )
    chosen = proven or [rule for rule in rules if rule.strict]
    if chosen:
        return _agreed([_scale(rule, pitch_mm) for rule in chosen])
    return NoScale(reason=f"no rule with graduations {pitch_mm:g} mm apart was found; {INSTEAD}")


def _scale(rule: Found, pitch_mm: float) -> Scale:
    px_per_mm = rule.pitch / pitch_mm
    return Scale(px_per_mm=px_per_mm, u=px_per_mm * rule.relative, origin="rule")


def _agreed(scales: list[Scale]) -> Scale | NoScale:
    """The best of several, unless they contradict one another."""
    best = min(scales, key=lambda scale: scale.relative)
    for other in scales:
        apart = abs(other.px_per_mm / best.px_per_mm - 1)
        if apart > max(0.01, 3 * math.hypot(other.relative, best.relative)):
            return NoScale(
                reason=f"two rules in the picture disagree: {best.px_per_mm:.4g} and {other.px_per_mm:.4g} px/mm; {ASK}"
            )
    return best
