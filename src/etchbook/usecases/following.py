"""Follow the indications of one face through several pictures of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from string import ascii_uppercase

import numpy as np
from numpy.typing import NDArray

from etchbook.geometry import distances_to_polyline, resample
from etchbook.picture import Picture, Scale, grey
from etchbook.picture.register import NotRegistered, Registration, moved, register, register_by_hand
from etchbook.picture.sharpness import edge_rise
from etchbook.quantity import Measured
from etchbook.section import Indication
from etchbook.section.sightings import Sighting, blur_of, sight
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.follow_states import FollowWish, PictureState
from etchbook.usecases.ports import Desk
from etchbook.usecases.reading import JointWish, ReadWish, read_picture
from etchbook.usecases.scales import GivenScale, RuleScale
from etchbook.usecases.words import family_named

Points = NDArray[np.float64]
SCALES_AGREE = 0.08
"""Two given scales may be off by this share together when they bound how much closer one picture is."""
SAME_PLACE = 5.0
"""Two indications are one when they lie within this of each other [px of the coarser picture]."""
SAME_SHARE = 0.6
FIRST_WIDTHS = (2.5, 7.0)
"""Widths that a line is first looked for with [px]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """One of the pictures.

    Parameters
    ----------
    name : A, B, C ...
    state : what was said of it
    placed : how px of picture A lie in this one (None for A itself), or why it cannot be told
    through : the picture that it was laid on, "" for A directly
    px_per_mm : scale, given or carried over from another picture; 0.0 where none is known
    u_relative : relative standard uncertainty of the scale
    """

    name: str
    picture: Picture
    state: PictureState
    placed: Registration | NotRegistered | None
    through: str = ""
    px_per_mm: float = 0.0
    u_relative: float = 0.0

    @property
    def known(self) -> bool:
        """Whether it lies on picture A."""
        return not isinstance(self.placed, NotRegistered)

    @property
    def matrix(self) -> Points:
        """(3, 3) px of A to px of this picture."""
        return self.placed.matrix if isinstance(self.placed, Registration) else np.eye(3)

    @property
    def size(self) -> float:
        """px of this picture per px of A."""
        return self.placed.size if isinstance(self.placed, Registration) else 1.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Track:
    """One indication with what each picture shows of it.

    Parameters
    ----------
    name : line 1, line 2 ...
    home : picture it was first found in
    known_as : its letter in the reading of each picture that found it by itself
    points : (n, 2) px of picture A
    seen : by picture
    """

    name: str
    home: str
    known_as: Mapping[str, str]
    points: Points
    seen: Mapping[str, Sighting] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Following:
    """Pictures of one face and the indications followed through them."""

    frames: tuple[Frame, ...]
    tracks: tuple[Track, ...]
    notes: tuple[str, ...] = ()


def follow(wish: FollowWish, desk: Desk, program: str) -> Following:
    """Follow the indications of one face through its pictures.

    Parameters
    ----------
    wish : pictures, their states, lines pointed at
    desk : where files come from
    program : name and version that readings are signed with
    """
    pictures = [desk.photo(path) for path in wish.photos]
    return follow_pictures(pictures, wish, program)


def follow_pictures(pictures: list[Picture], wish: FollowWish, program: str) -> Following:
    """The same for pictures already at hand."""
    frames = _scaled(_placed(pictures, wish))
    refused = [frame for frame in frames if isinstance(frame.placed, NotRegistered)]
    if len(refused) == len(frames) - 1:
        placed = refused[0].placed
        assert isinstance(placed, NotRegistered)
        raise RefusedError(
            f"{_name(refused[0])} cannot be laid on {_name(frames[0])} with trust: {placed.reason}; {placed.remedy}"
        )
    found = _pointed(wish, frames[0])
    for frame in frames:
        if frame.known:
            found = _joined(found, frame, _indications(frame, wish, program), frames)
    sheets = _sheets(frames)
    tracks = tuple(_looked_for(track, frames, sheets) for track in found)
    notes = () if tracks else ("no indication was found in any of the pictures; point at one with --line",)
    return Following(frames=frames, tracks=tracks, notes=notes)


def _name(frame: Frame) -> str:
    return f"picture {frame.name} ({frame.picture.name or 'no name'})"


def _placed(pictures: list[Picture], wish: FollowWish) -> tuple[Frame, ...]:
    """Each picture laid on A, or on another one that lies on A."""
    frames = [Frame(name="A", picture=pictures[0], state=wish.states[0], placed=None)]
    for number, (picture, state) in enumerate(zip(pictures[1:], wish.states[1:], strict=True), 1):
        name = ascii_uppercase[number]
        by_hand = wish.points.get(name)
        if by_hand:
            placed = register_by_hand(pictures[0], picture, _pairs(by_hand, name, pictures[0], picture))
            frames.append(Frame(name=name, picture=picture, state=state, placed=placed))
        else:
            frames.append(_laid(name, picture, state, frames))
    return tuple(frames)


def _pairs(points: Sequence[Sequence[float]], name: str, first: Picture, second: Picture) -> Points:
    """(n, 2, 2) places in both pictures; refused where one lies outside or they are all one."""
    pairs = np.array(points, float).reshape(-1, 2, 2)
    for side, picture, letter in ((0, first, "A"), (1, second, name)):
        inside = (pairs[:, side] >= 0) & (pairs[:, side] <= [picture.width - 1, picture.height - 1])
        if not inside.all():
            number = int(np.argmin(inside.all(axis=1))) + 1
            raise RefusedError(
                f"point {number} of picture {name} leaves picture {letter}, which has {picture.width} x "
                f"{picture.height} pixels"
            )
        if float(np.ptp(pairs[:, side], axis=0).max()) < 10:
            raise RefusedError(f"the points of picture {name} lie all in one spot of picture {letter}")
    return pairs


def _laid(name: str, picture: Picture, state: PictureState, frames: list[Frame]) -> Frame:
    first: NotRegistered | None = None
    for other in frames:
        if not other.known:
            continue
        found = register(other.picture, picture, ratio=_ratio(other.state, state))
        if isinstance(found, Registration):
            whole = found if other.placed is None else _chained(other, found)
            through = "" if other.placed is None else other.name
            return Frame(name=name, picture=picture, state=state, placed=whole, through=through)
        first = first or found
    return Frame(name=name, picture=picture, state=state, placed=first)


def _ratio(one: PictureState, two: PictureState) -> tuple[float, float] | None:
    if one.px_per_mm is None or two.px_per_mm is None:
        return None
    ratio = two.px_per_mm / one.px_per_mm
    return ratio * (1 - SCALES_AGREE), ratio * (1 + SCALES_AGREE)


def _chained(other: Frame, found: Registration) -> Registration:
    """A to the other picture to this one; the trust is that of the last step, u that of both."""
    assert isinstance(other.placed, Registration)
    one = other.placed
    turn = one.turn + found.turn if not found.mirror else found.turn - one.turn
    return Registration(
        matrix=found.matrix @ one.matrix, kind=found.kind if found.kind != "similarity" else one.kind,
        mirror=one.mirror != found.mirror, size=one.size * found.size, turn=(turn + 180) % 360 - 180,
        u=float(np.hypot(one.u, found.u)), overlap=found.overlap, trust=found.trust,
    )  # fmt: skip


def _scaled(frames: tuple[Frame, ...]) -> tuple[Frame, ...]:
    """The scale of each picture: its own where given, else carried over from the first that has one."""
    source = next((frame for frame in frames if frame.known and frame.state.px_per_mm is not None), None)
    scaled = []
    for frame in frames:
        own = frame.state.px_per_mm
        if own is not None:
            frame = replace(frame, px_per_mm=own, u_relative=0.005)
        elif source is not None and source.state.px_per_mm is not None and frame.known:
            carried = source.state.px_per_mm * frame.size / source.size
            frame = replace(frame, px_per_mm=carried, u_relative=0.008)
        scaled.append(frame)
    return tuple(scaled)


def _pointed(wish: FollowWish, first: Frame) -> list[Track]:
    tracks = []
    for number, line in enumerate(wish.lines, 1):
        points = np.array(line)
        limit = [first.picture.width - 1, first.picture.height - 1]
        if (points < 0).any() or (points > limit).any():
            raise RefusedError(
                f"--line {number} leaves picture A, which has {first.picture.width} x {first.picture.height} pixels"
            )
        name = f"line {number}"
        tracks.append(Track(name=name, home="A", known_as={}, points=resample(points, 2.0)))
    return tracks


def _indications(frame: Frame, wish: FollowWish, program: str) -> tuple[Indication, ...]:
    family = family_named(wish.joint) if wish.joint else None
    scale = GivenScale(px_per_mm=frame.px_per_mm) if frame.px_per_mm else RuleScale(asked=False)
    asked = ReadWish(photo=frame.picture.name, joint=JointWish(family=family), scale=scale)
    return read_picture(frame.picture, asked, (), program).indications


def _joined(tracks: list[Track], frame: Frame, found: tuple[Indication, ...], frames: tuple[Frame, ...]) -> list[Track]:
    """The tracks with what one more picture found: at a place already known, or a new track."""
    back = np.linalg.inv(frame.matrix)
    near = SAME_PLACE / min(frame.size, 1.0)
    for one in found:
        if len(one.points) < 2 or one.kind == "blob":
            continue
        points = resample(moved(np.asarray(back), one.points), 2.0)
        same = next((k for k, track in enumerate(tracks) if _same(points, track.points, near)), None)
        if same is not None:
            track = tracks[same]
            tracks[same] = replace(track, known_as={frame.name: one.name, **track.known_as})
        else:
            name = f"line {len(tracks) + 1}"
            tracks = [*tracks, Track(name=name, home=frame.name, known_as={frame.name: one.name}, points=points)]
    return tracks


def _same(one: Points, two: Points, near: float) -> bool:
    """Whether most of the shorter line lies along the other."""
    short, long = (one, two) if len(one) <= len(two) else (two, one)
    return bool((distances_to_polyline(short, long) < near).mean() > SAME_SHARE)


Sheet = tuple[NDArray[np.float32], float]
"""A picture's light and the standard deviation of its blur [px]."""


def _sheets(frames: tuple[Frame, ...]) -> dict[str, Sheet]:
    return {frame.name: (grey(frame.picture.rgb), blur_of(edge_rise(frame.picture))) for frame in frames if frame.known}


def _looked_for(track: Track, frames: tuple[Frame, ...], sheets: Mapping[str, Sheet]) -> Track:
    home = next(frame for frame in frames if frame.name == track.home)
    # How wide it is is not known yet: a fine line drowns in a wide search and a wide one in a fine search.
    tried = [_sighted(home, track.points, expected, sheets[home.name]) for expected in FIRST_WIDTHS]
    first = max(tried, key=lambda look: look.strength)
    width = _width_px(first) / home.size
    seen = {
        name: first if name == home.name else _sighted(frame, track.points, width * frame.size, sheets[name])
        for frame in frames
        if (name := frame.name) in sheets
    }
    return replace(track, seen=seen)


def _width_px(sighting: Sighting) -> float:
    for value in (sighting.width, sighting.width_limit):
        if isinstance(value, Measured):
            return value.value
    return 4.0


def _sighted(frame: Frame, points: Points, expected: float, sheet: Sheet) -> Sighting:
    u = frame.placed.u * max(frame.size, 1.0) if isinstance(frame.placed, Registration) else 0.0
    slack = float(np.clip(3 * u + 1.0 + 0.7 * max(frame.size, 1.0), 2.0, 15.0))
    return sight(sheet[0], moved(frame.matrix, points), blur=sheet[1], slack=slack, expected=expected)


def scale_of(frame: Frame) -> Scale | None:
    """The scale of a picture, where one is known."""
    if not frame.px_per_mm:
        return None
    origin = "given" if frame.state.px_per_mm is not None else "carried over from another picture"
    return Scale(px_per_mm=frame.px_per_mm, u=frame.u_relative * frame.px_per_mm, origin=origin)
