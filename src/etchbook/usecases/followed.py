"""What became of an indication from one picture to the next, in words that claim no more than was seen."""

from collections.abc import Mapping
from dataclasses import dataclass

from etchbook.quantity import Measured
from etchbook.section.sightings import Sighting
from etchbook.usecases.follow_states import PictureState, apart
from etchbook.usecases.following import Following, Frame, Track

TURNED = 30.0
"""Light from directions closer than this [°] counts as the same."""
SOFTER = 0.25
"""A change of edge sharpness by less than this share is none."""
CLOSE = 100.0
"""px/mm from which a look before etching counts as one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """What one picture shows of a track, beside the picture in which it was first seen.

    Parameters
    ----------
    picture : its letter
    words : present, gone, narrower, wider, sharper, softer, flips with the light, cannot tell, not in view ...
    width_mm, width_limit_mm : width and upper bound [mm], None where there is no scale or it is not resolved
    """

    picture: str
    words: tuple[str, ...]
    why: str = ""
    width_mm: Measured | None = None
    width_limit_mm: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Story:
    """One track told.

    Parameters
    ----------
    first : picture in which it was first seen, "" when none shows it
    changes : one for each picture
    meaning : what follows from it, sentences
    answers : states of observations that the evidence table knows, by observation
    """

    track: Track
    first: str
    changes: tuple[Change, ...]
    meaning: tuple[str, ...]
    answers: Mapping[str, str]


def stories(following: Following) -> tuple[Story, ...]:
    """What became of each indication."""
    frames = {frame.name: frame for frame in following.frames}
    return tuple(_story(track, frames) for track in following.tracks)


def _story(track: Track, frames: Mapping[str, Frame]) -> Story:
    first = track.home if _there(track.seen[track.home]) else ""
    first = first or next((name for name, look in track.seen.items() if _there(look)), "")
    changes = tuple(_change(track, frames[name], frames.get(first)) for name in frames)
    answers, meaning = _told(track, frames)
    return Story(track=track, first=first, changes=changes, meaning=meaning, answers=answers)


def _there(look: Sighting) -> bool:
    return look.look in ("dark", "bright")


def _change(track: Track, frame: Frame, first: Frame | None) -> Change:
    look = track.seen.get(frame.name)
    if look is None:
        return Change(picture=frame.name, words=("cannot tell",), why="this picture could not be laid on picture A")
    width, limit = _millimetres(look, frame)
    if first is None or frame is first or look.look == "not in view":
        word = {"dark": "present", "bright": "present, bright"}.get(look.look, look.look)
        return Change(picture=frame.name, words=(word,), why=look.why, width_mm=width, width_limit_mm=limit)
    base = track.seen[first.name]
    if not _there(look):
        word, why = _missing(look, base, frame, first)
        return Change(picture=frame.name, words=(word,), why=why)
    words = [*_turned(look, base, frame.state, first.state), *_width_words(look, base, frame, first)]
    words += _edge_words(look, base, frame, first)
    if look.share < 0.7:
        words.append(f"{100 * look.share:.0f} % of its length in view")
    return Change(picture=frame.name, words=tuple(words), width_mm=width, width_limit_mm=limit)


def _missing(look: Sighting, base: Sighting, frame: Frame, first: Frame) -> tuple[str, str]:
    """Gone, where it would have been seen; cannot tell, where it would not."""
    if look.look == "cannot tell" or not isinstance(base.contrast, Measured):
        return "cannot tell", look.why
    usual = abs(base.contrast.value) * min(1.0, frame.size / first.size)
    if usual < 1.5 * look.detectable:
        return "cannot tell", f"so faint a line would not be seen in picture {frame.name}"
    if _light_turned(frame.state, first.state):
        return "gone with the light turned", ""
    return "gone", ""


def _light_turned(one: PictureState, two: PictureState) -> bool:
    angle = apart(one, two)
    return angle is not None and angle >= TURNED


def _turned(look: Sighting, base: Sighting, one: PictureState, two: PictureState) -> list[str]:
    if look.look == base.look:
        return ["present" if look.look == "dark" else "present, bright"]
    return ["flips with the light"] if _light_turned(one, two) else [f"turned {look.look}"]


def _width_words(look: Sighting, base: Sighting, frame: Frame, first: Frame) -> list[str]:
    """Narrower or wider where the difference is more than twice its uncertainty, both in px of picture A."""
    one, two = look.width, base.width
    if isinstance(one, Measured) and isinstance(two, Measured):
        gap = one.value / frame.size - two.value / first.size
        u = ((one.u / frame.size) ** 2 + (two.u / first.size) ** 2) ** 0.5
        return ["narrower" if gap < 0 else "wider"] if abs(gap) > 2 * u else ["as wide"]
    limit = look.width_limit
    if isinstance(limit, Measured) and isinstance(two, Measured):
        least = (two.value - 2 * two.u) / first.size
        return ["narrower"] if limit.value / frame.size < least else []
    most = base.width_limit
    if isinstance(one, Measured) and isinstance(most, Measured):
        return ["wider"] if (one.value - 2 * one.u) / frame.size > most.value / first.size else []
    return []


def _edge_words(look: Sighting, base: Sighting, frame: Frame, first: Frame) -> list[str]:
    """Sharper or softer on the metal itself: a closer picture always shows more, so px of picture A are compared."""
    one, two = look.rise, base.rise
    if not isinstance(one, Measured) or not isinstance(two, Measured):
        return []
    here, there = one.value / frame.size, two.value / first.size
    u = ((one.u / frame.size) ** 2 + (two.u / first.size) ** 2) ** 0.5
    if abs(here - there) < max(2 * u, SOFTER * there):
        return []
    return ["sharper" if here < there else "softer"]


def _millimetres(look: Sighting, frame: Frame) -> tuple[Measured | None, float | None]:
    if not frame.px_per_mm:
        return None, None
    width = look.width
    limit = look.width_limit.value / frame.px_per_mm if isinstance(look.width_limit, Measured) else None
    if not isinstance(width, Measured):
        return None, limit
    u = ((width.u / frame.px_per_mm) ** 2 + (frame.u_relative * width.value / frame.px_per_mm) ** 2) ** 0.5
    return Measured(value=width.value / frame.px_per_mm, u=u, unit="mm"), None


def _told(track: Track, frames: Mapping[str, Frame]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Answers for the evidence table and the sentences that say where they come from."""
    answers: dict[str, str] = {}
    meaning: list[str] = []
    for rule in (_by_light, _before_etching, _after_polish):
        found = rule(track, frames)
        if found is not None:
            observation, state, sentence = found
            meaning.append(sentence)
            if observation:
                answers[observation] = state
    return answers, tuple(meaning)


Finding = tuple[str, str, str] | None


def _pairs(track: Track, frames: Mapping[str, Frame]) -> list[tuple[Frame, Frame]]:
    """Pictures that show its place, each with every later one."""
    shown = [frames[name] for name, look in track.seen.items() if look.look != "not in view"]
    return [(one, two) for k, one in enumerate(shown) for two in shown[k + 1 :]]


def _sure_gone(track: Track, frame: Frame, first: Frame) -> bool:
    look, base = track.seen[frame.name], track.seen[first.name]
    return look.look == "not seen" and _there(base) and _missing(look, base, frame, first)[0].startswith("gone")


def _by_light(track: Track, frames: Mapping[str, Frame]) -> Finding:
    still: Finding = None
    for one, two in _pairs(track, frames):
        same = one.state.etched == two.state.etched and one.state.finish == two.state.finish
        angle = apart(one.state, two.state)
        if angle is None or angle < TURNED or not same:
            continue
        looks = track.seen[one.name], track.seen[two.name]
        where = f"pictures {one.name} and {two.name}, light {angle:.0f}° apart"
        if {looks[0].look, looks[1].look} == {"dark", "bright"}:
            return "flips_with_light", "yes", f"It turns from dark to bright with the light ({where})."
        if _sure_gone(track, one, two) or _sure_gone(track, two, one):
            return "flips_with_light", "yes", f"It vanishes when the light is turned ({where})."
        if looks[0].look == looks[1].look == "dark" and 60 <= angle <= 120:
            still = "flips_with_light", "no", f"It stays dark when the light is turned ({where})."
    return still


def _before_etching(track: Track, frames: Mapping[str, Frame]) -> Finding:
    etched = [frame for frame in frames.values() if frame.state.etched and frame.name in track.seen]
    shown = [frame for frame in etched if track.seen[frame.name].look == "dark"]
    for frame in frames.values():
        if frame.state.etched is not False or frame.name not in track.seen:
            continue
        counts = frame.state.fine and frame.px_per_mm >= CLOSE
        asked = "unetched_look" if counts else ""
        short = "" if counts else " It counts as the look before etching only on a 3 µm polish at 100 px/mm or closer."
        if track.seen[frame.name].look == "dark":
            return asked, "opening", f"It is dark before etching too (picture {frame.name}).{short}"
        if any(_sure_gone(track, frame, one) for one in shown):
            return asked, "nothing", f"Before etching nothing is seen at its place (picture {frame.name}).{short}"
    return None


def _after_polish(track: Track, frames: Mapping[str, Frame]) -> Finding:
    """Pictures are taken to be in the order in which they were made."""
    row = [frame for frame in frames.values() if frame.name in track.seen]
    for k, one in enumerate(row):
        if not one.state.etched or track.seen[one.name].look != "dark":
            continue
        for m, two in enumerate(row[k + 1 :], k + 1):
            polished = two.state.finish and two.state.finish != one.state.finish
            if two.state.etched and polished and _sure_gone(track, two, one):
                return (
                    "after_repolish", "gone",
                    f"It went with the next polish and no etch brought it back (pictures {one.name}, {two.name}).",
                )  # fmt: skip
            if two.state.etched is False and _sure_gone(track, two, one):
                later = [three for three in row[m + 1 :] if three.state.etched]
                if any(track.seen[three.name].look == "dark" for three in later):
                    return (
                        "after_repolish", "came_back",
                        f"Gone when polished (picture {two.name}), it came back at the same place when etched again.",
                    )  # fmt: skip
    return None
