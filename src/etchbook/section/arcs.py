"""From the first guess to rough arcs: the weld's contour cut where its neighbour changes."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from skimage.measure import find_contours, label

from etchbook.geometry import area, resample
from etchbook.section.guess import Guess
from etchbook.section.strips import Array

AIR, ONE, TWO = 0, 1, 2
"""What lies outside a point of the weld's contour: surroundings, member 1, member 2."""
MOST_AIR = 0.8
"""A weld face between two toes lies against the surroundings for at least this share of its length."""
SURE = 0.35
"""The net is sure of a toe from this heat on."""
FAR_OFF = 0.3
"""A toe this share of the weld's width from where an earlier look had it is another place."""
OTHER_SHARE, OTHER_PIXELS = 0.05, 60.0
"""Weld metal elsewhere is another weld from this share of the one that is read and from so many pixels."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Arcs:
    """The rough outline, in picture pixels.

    Parameters
    ----------
    face : (n, 2) weld face from toe 1 to toe 2
    fusion : (n, 2) the rest of the weld's contour from toe 1 round the root to toe 2
    beside : (n,) what lies outside each point of `fusion`: AIR, ONE or TWO
    sharpness : mean chance of the winning class along the contour, 0.5 to 1
    """

    face: Array
    fusion: Array
    beside: NDArray[np.intp]
    sharpness: float


def weld_share(guess: Guess) -> NDArray[np.float32]:
    """Chance of weld metal, with all but the most likely weld taken away and its holes filled."""
    share = guess.share[5]
    mask = share > 0.5
    pieces, count = label(mask, return_num=True)
    if count == 0:
        return np.zeros_like(share)
    worth = ndimage.sum_labels(share, pieces, np.arange(1, count + 1))
    best = pieces == 1 + int(np.argmax(worth))
    # The rest of the picture is left alone: filling and widening cost by the pixel.
    box = tuple(slice(max(0, part.start - 4), part.stop + 4) for part in ndimage.find_objects(best.astype(np.int8))[0])
    filled = ndimage.binary_fill_holes(best[box])
    near = ndimage.binary_dilation(filled, iterations=2)
    alone = np.zeros(share.shape, np.float32)
    alone[box] = np.where(filled & ~best[box], 1.0, np.where(near, share[box], 0.0))
    return alone


def other_welds(guess: Guess) -> NDArray[np.float32]:
    """Chance of weld metal away from the weld that is read: the fillet on the other side, a neighbouring bead."""
    share = guess.share[5]
    pieces, count = label(share > 0.5, return_num=True)
    if count < 2:
        return np.zeros_like(share)
    worth = ndimage.sum_labels(share, pieces, np.arange(1, count + 1))
    kept = np.nonzero((worth > OTHER_SHARE * worth.max()) & (worth > OTHER_PIXELS))[0] + 1
    kept = kept[kept != 1 + int(np.argmax(worth))]
    return np.where(ndimage.binary_dilation(np.isin(pieces, kept), iterations=2), share, 0).astype(np.float32)


def find_arcs(guess: Guess, family: str, before: Arcs | None = None) -> Arcs | None:
    """Cut the weld's contour into face and fusion line; None when there is no weld to speak of.

    Parameters
    ----------
    before : what an earlier look found; its toes count where this one has another but sees them there as well
    """
    share = weld_share(guess)
    if (share > 0.5).sum() < 60:
        return None
    contour = _contour(share)
    beside, sure = _beside(guess, contour)
    beside = _settled(beside)
    # A butt weld has two faces; the wider one is the face, and the net is easily taken in by the toes of the other.
    face = None if family == "butt" else _face_between_peaks(contour, beside, guess)
    face = face or _face_run(contour, beside, by_width=family == "butt")
    if face is None:
        return None
    if before is not None and family != "butt":
        face = _kept(contour, beside, guess, before, face)
    start, stop = face
    ring = np.roll(np.arange(len(contour)), -start)
    length = (stop - start) % len(contour) + 1
    return _oriented(guess, family, contour, beside, ring, length, sure)


def _contour(share: NDArray[np.float32]) -> Array:
    padded = np.pad(ndimage.gaussian_filter(share, 0.6), 1)
    rings = find_contours(padded, 0.5)
    ring = max(rings, key=area)[:, ::-1] - 1.0
    return resample(ring, 0.75)[:-1]


def _outward(contour: Array) -> Array:
    slope = np.roll(contour, -2, axis=0) - np.roll(contour, 2, axis=0)
    slope /= np.maximum(np.hypot(slope[:, 0], slope[:, 1]), 1e-9)[:, None]
    normal = np.stack([slope[:, 1], -slope[:, 0]], axis=1)
    x, y = contour.T
    turning = float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    return normal if turning > 0 else -normal


def _beside(guess: Guess, contour: Array) -> tuple[NDArray[np.intp], float]:
    """What the net sees just outside each contour point: surroundings, member 1 or member 2."""
    outward = _outward(contour)
    air, one, two = np.zeros(len(contour)), np.zeros(len(contour)), np.zeros(len(contour))
    for reach in (1.5, 2.5, 3.5, 4.5):
        at = (contour + reach * outward)[:, ::-1].T
        look = [ndimage.map_coordinates(guess.share[k], at, order=1, mode="nearest") for k in range(5)]
        air, one, two = air + look[0], one + look[1] + look[3], two + look[2] + look[4]
    stack = np.stack([air, one, two])
    solid = one + two > air
    beside = np.where(solid, np.where(one >= two, ONE, TWO), AIR)
    return beside.astype(np.intp), float((stack.max(axis=0) / np.maximum(stack.sum(axis=0), 1e-9)).mean())


def _settled(beside: NDArray[np.intp]) -> NDArray[np.intp]:
    """The codes with short flickers voted away, round the ring."""
    votes = np.stack([ndimage.uniform_filter1d((beside == k).astype(float), 7, mode="wrap") for k in range(3)])
    return np.asarray(votes.argmax(axis=0))


def peak(guess: Guess, which: int) -> tuple[Array, float]:
    """The hottest place of one landmark, window (column, row), and how hot it is, 0 to 1."""
    heat = ndimage.gaussian_filter(guess.heat[which], 1.0)
    row, column = np.unravel_index(int(heat.argmax()), heat.shape)
    near = heat[max(0, row - 3) : row + 4, max(0, column - 3) : column + 4]
    y, x = np.mgrid[
        max(0, row - 3) : max(0, row - 3) + near.shape[0], max(0, column - 3) : max(0, column - 3) + near.shape[1]
    ]
    total = float(near.sum()) or 1.0
    return np.array([float((near * x).sum()) / total, float((near * y).sum()) / total]), float(heat.max())


def _face_between_peaks(contour: Array, beside: NDArray[np.intp], guess: Guess) -> tuple[int, int] | None:
    """The face as the stretch between both toes where the net is sure of them, None otherwise."""
    places, hot = zip(*(peak(guess, which) for which in (0, 1)), strict=True)
    return _face_between(contour, beside, np.stack(places), MOST_AIR) if min(hot) >= SURE else None


def _kept(
    contour: Array, beside: NDArray[np.intp], guess: Guess, before: Arcs, face: tuple[int, int]
) -> tuple[int, int]:
    """The face, or that of an earlier look where one end lies far from it and this look sees both its toes as well."""
    places = guess.to_window(np.stack([before.face[0], before.face[-1]]))
    away = np.hypot(*(contour[list(face)] - places[:, None]).transpose(2, 0, 1)).min(axis=1)
    if away.max() < FAR_OFF * float(np.hypot(*(places[1] - places[0]))):
        return face
    hot = ndimage.maximum_filter(guess.heat[:2].max(axis=0), 9)
    seen = ndimage.map_coordinates(hot, places[:, ::-1].T, order=1, mode="nearest")
    earlier = _face_between(contour, beside, places, 0.5) if seen.min() >= SURE else None
    return earlier or face


def _face_between(contour: Array, beside: NDArray[np.intp], places: Array, least_air: float) -> tuple[int, int] | None:
    """The stretch between two places that lies against the surroundings, None where neither does or a place is off."""
    away = np.hypot(*(contour - places[:, None]).transpose(2, 0, 1))
    if away.min(axis=1).max() > 6:
        return None
    ends = away.argmin(axis=1).tolist()
    count = len(contour)
    stretches = [(ends[0], (ends[1] - ends[0]) % count + 1), (ends[1], (ends[0] - ends[1]) % count + 1)]
    air = [float((beside[(start + np.arange(length)) % count] == AIR).mean()) for start, length in stretches]
    start, length = stretches[int(np.argmax(air))]
    if max(air) < least_air or length < 6 or length > count - 6:
        return None
    return start, (start + length - 1) % count


def _face_run(contour: Array, beside: NDArray[np.intp], *, by_width: bool) -> tuple[int, int] | None:
    """First and last index of the longest (or widest, end to end) stretch against the surroundings."""
    runs = _runs(beside == AIR)
    if not runs:
        return None
    steps = np.hypot(*(np.roll(contour, -1, axis=0) - contour).T)

    def worth(run: tuple[int, int]) -> float:
        index = (run[0] + np.arange(run[1])) % len(contour)
        width = float(np.hypot(*(contour[index[-1]] - contour[index[0]])))
        return width if by_width else float(steps[index].sum())

    start, length = max(runs, key=worth)
    if length < 6 or length > len(contour) - 6:
        return None
    return start, (start + length - 1) % len(contour)


def _runs(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """(start, length) of the stretches of True round a ring."""
    if flags.all() or not flags.any():
        return []
    first = int(np.argmin(flags))
    turned = np.roll(flags, -first)
    edges = np.diff(np.concatenate([[0], turned.astype(int), [0]]))
    starts, stops = np.nonzero(edges == 1)[0], np.nonzero(edges == -1)[0]
    return [((int(a) + first) % len(flags), int(b - a)) for a, b in zip(starts, stops, strict=True)]


def _oriented(
    guess: Guess,
    family: str,
    contour: Array,
    beside: NDArray[np.intp],
    ring: NDArray[np.intp],
    length: int,
    sure: float,
) -> Arcs:
    """Face and fusion line both run from toe 1 to toe 2."""
    face = contour[ring[:length]]
    rest = np.concatenate([ring[length - 1 :], ring[:1]])
    fusion, codes = contour[rest][::-1], beside[rest][::-1]
    if _starts_at_two(guess, family, face, codes):
        face, fusion, codes = face[::-1], fusion[::-1], codes[::-1]
    return Arcs(face=guess.to_picture(face), fusion=guess.to_picture(fusion), beside=codes, sharpness=sure)


def _starts_at_two(guess: Guess, family: str, face: Array, codes: NDArray[np.intp]) -> bool:
    """Whether the face as it runs starts at toe 2; heat of the toes and members beside the ends both vote."""
    if family in ("butt", "bead"):
        return bool(face[0, 0] > face[-1, 0])
    ends = np.stack([face[0], face[-1]])[:, ::-1].T
    hot = [
        ndimage.map_coordinates(ndimage.maximum_filter(guess.heat[k], 9), ends, order=1, mode="nearest") for k in (0, 1)
    ]
    vote = float((hot[1][0] - hot[0][0]) + (hot[0][1] - hot[1][1]))
    half = len(codes) // 2
    first, last = codes[:half], codes[half:]
    share = [float((part == TWO).sum() - (part == ONE).sum()) / max(1, len(part)) for part in (first, last)]
    return vote + 2.0 * (share[0] - share[1]) > 0
