"""From a guess to a motion: patches all over the overlap, coarse first, a robust fit, and its trust."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from etchbook.picture.register.blocks import PATCH, Sheet, Shifts, shifts
from etchbook.picture.register.keypoints import Array
from etchbook.picture.register.motion import (  # fmt: skip
    FREE,
    Kind,
    Matrix,
    Points,
    covariance_factor,
    fit,
    moved,
    stretch,
)
from etchbook.picture.register.records import Trust

USUAL_STRETCH = 0.02
"""Standard deviation of the stretch between two cameras held about square: planning value of this program."""
NEIGHBOURS = 6.0
"""Neighbouring patches are misled alike (blur, relief); painted pairs ask for about this factor on their scatter."""
LEAST_U = 0.05
MOST = 260
"""Patches compared in each round."""
NEAR = 1.5
"""A patch agrees when it lies within this many samples of where the motion puts it."""
HELD = 0.12
"""A patch is held both ways when its correlation falls off at least this well along its weakest direction."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Refined:
    """A refined motion from coarse to fine with the patches it rests on."""

    matrix: Matrix
    kind: Kind
    trust: Trust
    u: float
    overlap: Points


def refined(coarse: list[Sheet], fine: list[Sheet], matrix: Matrix, *, mirror: bool, ratio: float) -> Refined | None:
    """Refine a guess.

    Parameters
    ----------
    coarse, fine : the two pictures at falling size, full size first
    matrix : guess that takes px of the coarse to px of the fine picture
    ratio : px of the fine per px of the coarse picture
    """
    kind: Kind = "similarity"
    found: Refined | None = None
    steps = [sheet.factor for sheet in coarse[::-1]]
    for number, step in enumerate(steps):
        sheet = coarse[len(steps) - 1 - number]
        partner = _partner(fine, ratio * step)
        last = number == len(steps) - 1
        for round_number, room in enumerate((14, 6) if number == 0 else (7, 5)):
            middles, overlap = _middles(sheet, partner, matrix, step)
            if len(middles) < 8:
                return None
            seen = shifts(sheet, partner, matrix, middles, step=step, room=room)
            kinds: tuple[Kind, ...] = ("similarity", "affine", "perspective") if last and round_number else (kind,)
            found = _fitted(seen, matrix, kinds, mirror=mirror, step=step, overlap=overlap)
            if found is None:
                return None
            matrix = found.matrix
    return found


def _partner(sheets: list[Sheet], step: float) -> Sheet:
    """The smallest sheet whose pixels are no coarser than a step."""
    good = [sheet for sheet in sheets if sheet.factor <= 1.01 * step]
    return good[-1] if good else sheets[0]


def _middles(sheet: Sheet, partner: Sheet, matrix: Matrix, step: float) -> tuple[Points, Points]:
    """Where to lay patches [px of the coarse picture]: best structure of each cell of the overlap; and the overlap."""
    height, width = sheet.light.shape
    pad = PATCH // 2 + 2
    thin = max(1, int(min(height, width) / 220))
    y, x = np.mgrid[pad : height - pad : thin, pad : width - pad : thin]
    if x.size == 0:
        return np.zeros((0, 2)), np.zeros((0, 2))
    full = (np.stack([x, y], axis=-1) + 0.5) * sheet.factor - 0.5
    there = (moved(matrix, full.reshape(-1, 2)) + 0.5) / partner.factor - 0.5
    rows, columns = partner.light.shape
    inside = (there >= 2).all(axis=1) & (there[:, 0] < columns - 3) & (there[:, 1] < rows - 3)
    inside = inside.reshape(x.shape)
    if inside.sum() < 12:
        return np.zeros((0, 2)), np.zeros((0, 2))
    score = _structure(sheet.light)[y, x] * inside
    return full[_best_of_cells(score, inside)], full[inside]


def _structure(light: Array) -> Array:
    level = np.log(np.maximum(ndimage.gaussian_filter(light, 1.0), 0) + np.float32(0.06))
    dy, dx = np.gradient(level)
    xx, yy, xy = (ndimage.gaussian_filter(a * b, 5.0) for a, b in ((dx, dx), (dy, dy), (dx, dy)))
    return np.asarray((xx + yy) / 2 - np.sqrt((xx - yy) ** 2 / 4 + xy**2), np.float32)


def _best_of_cells(score: Array, inside: NDArray[np.bool_]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Best place of each cell of a grid laid over the overlap."""
    rows, columns = np.nonzero(inside)
    cell = max(1.0, float(np.sqrt(inside.sum() / MOST)))
    home = (rows / cell).astype(np.intp) * 100_000 + (columns / cell).astype(np.intp)
    order = np.lexsort((-score[rows, columns], home))
    first = np.concatenate([[True], np.diff(home[order]) > 0])
    best = order[first]
    best = best[score[rows[best], columns[best]] > 0]
    return rows[best], columns[best]


def _fitted(
    seen: Shifts, matrix: Matrix, kinds: tuple[Kind, ...], *, mirror: bool, step: float, overlap: Points
) -> Refined | None:
    target = moved(matrix, seen.at + seen.shift)
    unit = _local_size(matrix, seen.at)
    good = (seen.sharp > HELD) & (seen.like > 0.15)
    near = good & (np.hypot(*seen.shift.T) < seen.room)
    start = _start(seen.at, target, near, unit, mirror=mirror, tolerance=2.0 * step)
    if start is None:
        return None
    tried = [
        (kind, one)
        for kind in kinds
        if (one := _robust(kind, seen.at, target, near & start, good, unit, mirror=mirror, tolerance=NEAR * step))
    ]
    if not tried:
        return None
    prices = np.array([_price(kind, one[2], good, step) + _lean(one[0], overlap) for kind, one in tried])
    kind, (found, agree, gap) = tried[int(np.argmin(prices))]
    residual = float(np.sqrt((gap[agree] ** 2).mean()))
    places = overlap[:: max(1, len(overlap) // 400)]
    trust = _trust(seen, good, agree, residual, overlap, step, stretch(found, places))
    u = _uncertainty(tried, prices, found, seen.at, places, mirror=mirror)
    return Refined(matrix=found, kind=kind, trust=trust, u=u, overlap=overlap)


Fit = tuple[Matrix, NDArray[np.bool_], NDArray[np.float64]]


def _uncertainty(
    tried: list[tuple[Kind, Fit]], prices: Points, found: Matrix, at: Points, places: Points, *, mirror: bool
) -> float:
    """Root mean square u of a place carried over: what each kind of motion leaves open, weighed by how likely it is."""
    weight = np.exp(-0.5 * (prices - prices.min()))
    weight /= weight.sum()
    total, unit = 0.0, _local_size(found, places)
    for share, (kind, (matrix, agree, gap)) in zip(weight, tried, strict=True):
        count = int(agree.sum())
        left = float(np.sqrt((gap[agree] ** 2).mean() / 2 / max(1 - FREE[kind] / (2 * count), 0.2)))
        ones = np.ones(count)
        rest = NEIGHBOURS * left * covariance_factor(kind, at[agree], ones, places, mirror=mirror)
        moved_by = np.hypot(*(moved(matrix, places) - moved(found, places)).T) / unit
        total += float(share * ((rest**2).mean() + (moved_by**2).mean()))
    return float(np.sqrt(total + LEAST_U**2))


def _lean(matrix: Matrix, overlap: Points) -> float:
    """Price of a motion that no camera held about square makes: a normal prior on its stretch."""
    return (stretch(matrix, overlap[:: max(1, len(overlap) // 100)]) / USUAL_STRETCH) ** 2


def _scatter(kind: Kind, residual: float, count: int) -> float:
    """Standard deviation of a patch's place along one axis, the numbers that were fitted counted in."""
    return float(residual / np.sqrt(2) / np.sqrt(max(1 - FREE[kind] / (2 * count), 0.2)))


def _local_size(matrix: Matrix, points: Points) -> NDArray[np.float64]:
    right, down = np.array([0.5, 0.0]), np.array([0.0, 0.5])
    one = np.hypot(*(moved(matrix, points + right) - moved(matrix, points - right)).T)
    two = np.hypot(*(moved(matrix, points + down) - moved(matrix, points - down)).T)
    return np.asarray(np.sqrt(one * two))


def _start(
    one: Points, two: Points, near: NDArray[np.bool_], unit: NDArray[np.float64], *, mirror: bool, tolerance: float
) -> NDArray[np.bool_] | None:
    """The patches that most agree with each other: similarities through pairs of patches, drawn the same every time."""
    index = np.nonzero(near)[0]
    if len(index) < 5:
        return None
    rng = np.random.default_rng(5)
    best: NDArray[np.bool_] | None = None
    for _ in range(150):
        pair = rng.choice(index, 2, replace=False)
        if np.hypot(*(one[pair[0]] - one[pair[1]])) < 1e-6:
            continue
        guess = fit("similarity", one[pair], two[pair], np.ones(2), mirror=mirror)
        agree = near & (np.hypot(*(moved(guess, one) - two).T) / unit < 2 * tolerance)
        if best is None or agree.sum() > best.sum():
            best = agree
    return best if best is not None and best.sum() >= 5 else None


def _robust(
    kind: Kind, one: Points, two: Points, start: NDArray[np.bool_], good: NDArray[np.bool_],
    unit: NDArray[np.float64], *, mirror: bool, tolerance: float,
) -> tuple[Matrix, NDArray[np.bool_], NDArray[np.float64]] | None:  # fmt: skip
    agree, matrix, gap = start, np.eye(3), np.zeros(len(one))
    for _ in range(6):
        if agree.sum() < FREE[kind] / 2 + 3:
            return None
        weight = 1 / (1 + (gap[agree] / tolerance) ** 2)
        matrix = fit(kind, one[agree], two[agree], weight, mirror=mirror)
        gap = np.hypot(*(moved(matrix, one) - two).T) / unit
        agree = good & (gap < tolerance)
    return (matrix, agree, gap) if agree.sum() >= FREE[kind] / 2 + 3 else None


def _price(kind: Kind, gap: NDArray[np.float64], good: NDArray[np.bool_], step: float) -> float:
    """What a motion leaves unexplained, each free number priced at the logarithm of the count (Schwarz 1978)."""
    capped = np.minimum(gap[good], 2 * NEAR * step)
    count = len(capped)
    scatter = float((capped**2).mean()) + (0.05 * step) ** 2
    return float(2 * count * np.log(scatter) + FREE[kind] * np.log(2 * count))


def _trust(
    seen: Shifts,
    good: NDArray[np.bool_],
    agree: NDArray[np.bool_],
    residual: float,
    overlap: Points,
    step: float,
    longer: float,
) -> Trust:
    middle = seen.at[agree].mean(axis=0)
    whole = float(np.sqrt(((overlap - overlap.mean(axis=0)) ** 2).sum(axis=1).mean()))
    spread = float(np.sqrt(((seen.at[agree] - middle) ** 2).sum(axis=1).mean())) / max(whole, 1e-9)
    return Trust(
        tried=int(good.sum()), agreeing=int(agree.sum()), spread=spread, residual=residual,
        likeness=float(seen.still.mean()), stretch=longer, evidence=_evidence(seen, good, agree, step),
    )  # fmt: skip


def _evidence(seen: Shifts, good: NDArray[np.bool_], agree: NDArray[np.bool_], step: float) -> float:
    """Logarithm of the likelihood ratio of "the same place" against patches that fall anywhere in their search."""
    by_chance = np.pi * (NEAR * step) ** 2 / (2 * seen.room + step) ** 2
    # A patch that is weakly held one way agrees by chance as often as a line does.
    along = 2 * NEAR * step / (2 * seen.room + step)
    p = np.where(seen.sharp > 0.35, by_chance, along)[good]
    hit = agree[good]
    if len(p) == 0:
        return 0.0
    share = np.linspace(0.02, 0.98, 49)[:, None]
    gain = np.where(hit[None, :], np.log(share / p[None, :]), np.log((1 - share) / (1 - p[None, :])))
    return max(0.0, float(gain.sum(axis=1).max()))
