"""Guesses of the motion between two pictures, from places that look alike."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.picture.register.keypoints import Array, Keypoints
from etchbook.picture.register.motion import Matrix, fit, moved, size_at
from etchbook.picture.register.words import half_turned, mirrored

Float = NDArray[np.float64]
KEPT = 1600
DRAWS = 60_000
TRIED = 1500
LARGEST_RATIO = 8.0
BATCH = 1024
SECONDS = 5


@dataclass(frozen=True, kw_only=True, slots=True)
class Guess:
    """A similarity from first to second picture.

    Parameters
    ----------
    matrix : (3, 3) px to px
    mirror : whether left and right are exchanged
    votes : places that agree with it
    """

    matrix: Matrix
    mirror: bool
    votes: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Matches:
    """Places of both pictures that look alike, the surest first.

    Parameters
    ----------
    one, two : (n, 2) px
    size : (n,) px of the second per px of the first, as the places' sizes say
    turn : (n,) [rad] angle added to the first's axis, hand counted in, whole turn known
    mirror : (n,) bool
    reach : (n,) px of the second: how large a px of the size was on which it was found
    """

    one: Float
    two: Float
    size: Float
    turn: Float
    mirror: NDArray[np.bool_]
    reach: Float


def match(one: Keypoints, two: Keypoints) -> Matches:
    """The best likeness of each place of the first picture in the second, in four ways of holding it."""
    best, held, score = _nearest(one.words, two)
    order = np.argsort(score, kind="stable")[:KEPT]
    index, variant = best[order], held[order]
    hand = np.where(variant >= 2, -1.0, 1.0)
    # In a mirror the axis itself is kept as told; half a turn adds π.
    turn = two.way[index] + np.pi * (variant % 2) - hand * one.way[order]
    return Matches(
        one=one.at[order], two=two.at[index], size=two.size[index] / one.size[order], turn=turn, mirror=hand < 0,
        reach=two.size[index],
    )  # fmt: skip


def _nearest(words: Array, two: Keypoints) -> tuple[NDArray[np.intp], NDArray[np.intp], Float]:
    """Index of the likest, how it is held, and how much liker it is than the likest at another place (small: good)."""
    over = mirrored(two.words)
    variants = [np.ascontiguousarray(v.T) for v in (two.words, half_turned(two.words), over, half_turned(over))]
    best, held, score = np.zeros(len(words), np.intp), np.zeros(len(words), np.intp), np.ones(len(words))
    for start in range(0, len(words), BATCH):
        stop = start + BATCH
        like = words[start:stop] @ variants[0]
        for variant in variants[1:]:
            np.maximum(like, words[start:stop] @ variant, out=like)
        best[start:stop], score[start:stop] = _surest(like, two)
        kept = [np.einsum("ij,ij->i", words[start:stop], variant[:, best[start:stop]].T) for variant in variants]
        held[start:stop] = np.argmax(np.stack(kept), axis=0)
    return best, held, score


def _surest(like: Array, two: Keypoints) -> tuple[NDArray[np.intp], Float]:
    """The likest of each row, and its distance over that of the likest that lies elsewhere."""
    rows = np.arange(len(like))
    best = np.argmax(like, axis=1)
    top, second = like[rows, best].copy(), np.full(len(like), -2.0, np.float32)
    near = best
    for _ in range(SECONDS):
        like[rows, near] = -1
        near = np.argmax(like, axis=1)
        away = np.hypot(*(two.at[near] - two.at[best]).T) > 8 * np.maximum(two.size[near], two.size[best])
        second = np.where((second < -1) & away, like[rows, near], second)
    second = np.where(second < -1, like[rows, near], second)
    return best, np.sqrt(np.maximum(2 - 2 * top, 0) / np.maximum(2 - 2 * second, 1e-6)).astype(float)


def guesses(matches: Matches, *, seed: int = 1, most: int = 4, ratio: tuple[float, float] | None = None) -> list[Guess]:
    """The similarities that most places agree on, the best first; no two alike.

    Parameters
    ----------
    ratio : bounds of px of the second per px of the first, where known
    """
    if len(matches.one) < 4:
        return []
    low, high = ratio or (1 / LARGEST_RATIO, LARGEST_RATIO)
    pairs = _drawn(matches, np.random.default_rng(seed), low, high)
    if len(pairs) == 0:
        return []
    models = _from_pairs(matches, pairs)
    votes = _votes(matches, models, matches.mirror[pairs[:, 0]])
    found: list[Guess] = []
    for k in np.argsort(-votes.sum(axis=1), kind="stable")[:40]:
        guess = _refined(matches, votes[k], bool(matches.mirror[pairs[k, 0]]))
        if guess is not None and not any(_alike(guess, other, matches) for other in found):
            found.append(guess)
    return sorted(found, key=lambda guess: -guess.votes)[:most]


def _drawn(matches: Matches, rng: np.random.Generator, low: float, high: float) -> NDArray[np.intp]:
    """Pairs of matches that tell the same story of size, turn and hand as the way from one to the other does."""
    count = len(matches.one)
    # The surer a match, the more often it is drawn.
    drawn = (count * rng.uniform(size=(DRAWS, 2)) ** 2).astype(np.intp)
    drawn = drawn[drawn[:, 0] != drawn[:, 1]]
    i, j = drawn[:, 0], drawn[:, 1]
    hand = np.where(matches.mirror[i], -1.0, 1.0)
    one, two = matches.one[j] - matches.one[i], matches.two[j] - matches.two[i]
    far_one, far_two = np.hypot(*one.T), np.hypot(*two.T)
    size = far_two / np.maximum(far_one, 1e-9)
    turn = np.arctan2(two[:, 1], two[:, 0]) - hand * np.arctan2(one[:, 1], one[:, 0])
    good = (matches.mirror[i] == matches.mirror[j]) & (size > low) & (size < high)
    good &= far_two > 12 * np.maximum(matches.reach[i], matches.reach[j])
    for k in (i, j):
        good &= np.abs(np.log(matches.size[k] / np.maximum(size, 1e-9))) < 0.45
        good &= np.abs(np.angle(np.exp(1j * (matches.turn[k] - turn)))) < 0.4
    return np.unique(drawn[good], axis=0)[:TRIED] if good.sum() <= TRIED else drawn[good][:TRIED]


def _from_pairs(matches: Matches, pairs: NDArray[np.intp]) -> NDArray[np.complex128]:
    """(n, 2) complex a and b of z -> a z + b, or a conj(z) + b in a mirror."""
    one, two = _complex(matches.one), _complex(matches.two)
    i, j = pairs[:, 0], pairs[:, 1]
    held = np.where(matches.mirror[i], one[i].conj(), one[i]), np.where(matches.mirror[i], one[j].conj(), one[j])
    a = (two[j] - two[i]) / (held[1] - held[0])
    return np.stack([a, two[i] - a * held[0]], axis=1)


def _votes(matches: Matches, models: NDArray[np.complex128], mirror: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """(models, matches): which matches land where a model says, on the size on which they were found."""
    one, two = _complex(matches.one), _complex(matches.two)
    held = np.where(mirror[:, None], one.conj()[None, :], one[None, :])
    gap = np.abs(models[:, :1] * held + models[:, 1:] - two[None, :])
    size = np.abs(models[:, :1])
    fits = gap < 4.0 * matches.reach[None, :]
    fits &= (matches.mirror[None, :] == mirror[:, None]) & (np.abs(np.log(matches.size[None, :] / size)) < 0.6)
    return np.asarray(fits)


def _refined(matches: Matches, votes: NDArray[np.bool_], mirror: bool) -> Guess | None:
    matrix = np.eye(3)
    for tolerance in (4.0, 3.0, 3.0):
        if votes.sum() < 3:
            return None
        weight = 1 / matches.reach[votes] ** 2
        matrix = fit("similarity", matches.one[votes], matches.two[votes], weight, mirror=mirror)
        gap = np.hypot(*(moved(matrix, matches.one) - matches.two).T)
        size = size_at(matrix, matches.one[0])
        votes = (gap < tolerance * matches.reach) & (matches.mirror == mirror)
        votes &= np.abs(np.log(matches.size / size)) < 0.6
    places = np.unique(np.rint(matches.one[votes] / 6), axis=0)
    return Guess(matrix=matrix, mirror=mirror, votes=len(places)) if len(places) >= 4 else None


def _alike(guess: Guess, other: Guess, matches: Matches) -> bool:
    if guess.mirror != other.mirror:
        return False
    size = size_at(guess.matrix, matches.one[0])
    gap = np.hypot(*(moved(guess.matrix, matches.one) - moved(other.matrix, matches.one)).T)
    return bool(np.median(gap) < 30 * max(size, 1.0))


def _complex(points: Float) -> NDArray[np.complex128]:
    return np.asarray(points[:, 0] + 1j * points[:, 1])
