"""Where the weld is: a look at the whole picture, a closer one round what it found, and a search where they differ."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.geometry import rasterise
from etchbook.picture import Picture
from etchbook.section.arcs import Arcs, find_arcs
from etchbook.section.guess import Guess, first_guess
from etchbook.section.strips import Array
from etchbook.terms import Family

WELD_SHARE = 0.45
"""Share of the second look's longer side that the weld is to fill."""
LEAST_WINDOW = 320.0
"""The second look takes in at least so many pixels: a small weld blown up further is a blur that the net never saw
(10 small simulated beads, tuning seeds: weld IoU 0.65 in the mean with 192 px, 0.81 with this)."""
ALIKE = 0.8
"""Two looks that share less of their weld than this do not mean the same, and the picture is searched. Planning value:
of 125 simulated sections (moderate, seeds from 300000) 15 share less, ten of the twelve worst outlines among them."""
BELIEVED = 0.5
"""What a search finds counts only where both its looks share at least this much; a planning value, common practice."""
PLACES = 3
"""A search looks closely at so many places where the first look saw a trace of a weld or of a toe."""
APART, SPREAD, TRACE = 40, 4.0, 0.01
"""Two places are so many pixels of the first look apart; how far a trace is smeared out, and the least that counts."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Look:
    """What the net saw: the whole picture, and the neighbourhood of the weld (`near`, its outline in `arcs`).

    Parameters
    ----------
    first : the outline as the look before the closest one had it
    alike : share of the weld on which both looks agree, 0 to 1
    """

    whole: Guess
    near: Guess
    arcs: Arcs
    first: Arcs
    alike: float = 1.0


def look(picture: Picture, small: NDArray[np.float32], factor: float, family: Family | None) -> Look | None:
    """Let the net look at the whole picture, then closer round the weld; None when it sees no weld."""
    whole = first_guess(small, factor, (0.0, 0.0, picture.width, picture.height), family)
    likeliest: Family = max(whole.joint, key=lambda name: whole.joint[name])
    family = family or likeliest
    arcs = find_arcs(whole, family)
    seen = None if arcs is None else _closer(picture, small, factor, family, whole, whole, arcs)
    if seen is not None and seen.alike >= ALIKE:
        return seen
    for middle in _places(whole):
        half = max(picture.width, picture.height) / 4
        part = first_guess(small, factor, _round(middle, half, picture), family)
        there = find_arcs(part, family)
        found = None if there is None else _closer(picture, small, factor, family, whole, part, there)
        if found is not None and found.alike > (BELIEVED if seen is None else seen.alike):
            seen = found
        if seen is not None and seen.alike >= ALIKE:
            return seen
    return seen if seen is not None or arcs is None else Look(whole=whole, near=whole, arcs=arcs, first=arcs, alike=0.0)


def _closer(
    picture: Picture,
    small: NDArray[np.float32],
    factor: float,
    family: Family,
    whole: Guess,
    guess: Guess,
    arcs: Arcs,
) -> Look | None:
    """A look at the neighbourhood of a guess's weld; None where another weld or none is seen there."""
    window = _window(arcs, picture)
    if max(window[2] - window[0], window[3] - window[1]) > 0.85 * max(picture.width, picture.height):
        return Look(whole=whole, near=guess, arcs=arcs, first=arcs)
    near = first_guess(small, factor, window, family)
    closer = find_arcs(near, family, arcs)
    if closer is None or not _agree(arcs, closer):
        return None
    return Look(whole=whole, near=near, arcs=closer, first=arcs, alike=shared(arcs, closer))


def _window(arcs: Arcs, picture: Picture) -> tuple[float, float, float, float]:
    ring = np.concatenate([arcs.face, arcs.fusion])
    low, high = ring.min(axis=0), ring.max(axis=0)
    half = max(float((high - low).max()) / WELD_SHARE / 2, LEAST_WINDOW / 2)
    return _round((low + high) / 2, half, picture)


def _round(middle: Array, half: float, picture: Picture) -> tuple[float, float, float, float]:
    """A square window round a place, cut off where the picture ends."""
    left, top = max(0.0, float(middle[0]) - half), max(0.0, float(middle[1]) - half)
    right = min(float(picture.width), float(middle[0]) + half)
    bottom = min(float(picture.height), float(middle[1]) + half)
    return left, top, right, bottom


def _places(guess: Guess) -> Iterator[Array]:
    """Where the net saw most of a weld or of a toe, however little, in picture pixels; best first."""
    sign = ndimage.gaussian_filter(np.maximum(guess.share[5], guess.heat[:2].max(axis=0)), SPREAD)
    rows, columns = np.ogrid[: sign.shape[0], : sign.shape[1]]
    for _ in range(PLACES):
        row, column = np.unravel_index(int(sign.argmax()), sign.shape)
        if sign[row, column] < TRACE:
            return
        yield guess.to_picture(np.array([column, row], float))
        sign = np.where((rows - row) ** 2 + (columns - column) ** 2 < APART**2, 0.0, sign)


def _agree(first: Arcs, second: Arcs) -> bool:
    """Whether both looks mean the same weld."""
    boxes = []
    for arcs in (first, second):
        ring = np.concatenate([arcs.face, arcs.fusion])
        boxes.append(np.concatenate([ring.min(axis=0), ring.max(axis=0)]))
    a, b = boxes
    common = np.clip(np.minimum(a[2:], b[2:]) - np.maximum(a[:2], b[:2]), 0, None).prod()
    either = (a[2:] - a[:2]).prod() + (b[2:] - b[:2]).prod() - common
    return bool(common > 0.4 * either)


def shared(first: Arcs, second: Arcs) -> float:
    """Share of the weld metal of two outlines that both have, 0 to 1."""
    rings = [np.concatenate([arcs.face, arcs.fusion[::-1]]) for arcs in (first, second)]
    points = np.concatenate(rings)
    low, step = points.min(axis=0), float(np.ptp(points, axis=0).max()) / 150
    columns, rows = (np.ptp(points, axis=0) / step).astype(int) + 2
    one, other = (rasterise((ring - low) / step, (int(rows), int(columns))) for ring in rings)
    return float((one & other).sum() / max(int((one | other).sum()), 1))
