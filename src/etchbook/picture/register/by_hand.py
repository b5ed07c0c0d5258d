"""A motion from places that a person matched in both pictures, and how far it can be believed."""

import numpy as np
from numpy.typing import NDArray

from etchbook.picture.register.matching import Guess
from etchbook.picture.register.motion import (
    Matrix,
    Points,
    covariance_factor,
    fit,
    is_mirrored,
    moved,
    size_at,
    turn_at,
)
from etchbook.picture.register.records import NotRegistered, Registration, Trust

Pairs = NDArray[np.float64]
ENOUGH = 4
"""Points from which each can be foretold by the others."""
LARGEST_MISS, LARGEST_SHARE = 6.0, 0.02
"""How far a point may lie from where the others put it [px of the coarser picture], and over the points' spread."""
LEAST_CLICK = 1.0
"""Nobody sets a point better than this [px of the coarser picture]; planning value."""
REMEDY = "set four or more points on things that are surely the same in both pictures, as far apart as they go"


def guessed(pairs: Pairs) -> Guess:
    """The similarity that lies nearest to the pairs; mirrored where that lies nearer."""
    one, two = pairs[:, 0], pairs[:, 1]
    tried = [fit("similarity", one, two, np.ones(len(pairs)), mirror=mirror) for mirror in (False, True)]
    left = [float(np.hypot(*(moved(matrix, one) - two).T).max()) for matrix in tried]
    mirror = left[1] < left[0]
    return Guess(matrix=tried[int(mirror)], mirror=mirror, votes=len(pairs))


def agrees(matrix: Matrix, pairs: Pairs, size: float) -> bool:
    """Whether a refined motion still carries the points to where they were set."""
    return bool(np.median(_miss(matrix, pairs) / max(size, 1.0)) < 2 * LARGEST_MISS)


def alone(guess: Guess, pairs: Pairs, *, overlap: float) -> Registration | NotRegistered:
    """The motion by the points alone, or why it cannot be trusted."""
    middle = pairs[:, 0].mean(axis=0)
    size = size_at(guess.matrix, middle)
    if len(pairs) < ENOUGH:
        count = f"{len(pairs)} points do not show whether they fit each other, and the pictures do not bear them out"
        return NotRegistered(reason=count, remedy=REMEDY)
    foretold = _foretold(pairs, guess.mirror) / max(size, 1.0)
    spread = float(np.sqrt(((pairs[:, 0] - middle) ** 2).sum(axis=1).mean())) * min(size, 1.0)
    worst = float(foretold.max())
    if worst > max(LARGEST_MISS, LARGEST_SHARE * spread):
        k = int(foretold.argmax()) + 1
        return NotRegistered(
            reason=f"the points do not fit each other: point {k} lies {worst:.0f} px from where the others put it",
            remedy=REMEDY,
        )
    return _registration(guess, pairs, size, overlap, float(np.sqrt((foretold**2).mean())))


def _registration(guess: Guess, pairs: Pairs, size: float, overlap: float, scatter: float) -> Registration:
    middle = pairs[:, 0].mean(axis=0)
    click = max(scatter / np.sqrt(2), LEAST_CLICK)
    factor = covariance_factor("similarity", pairs[:, 0], np.ones(len(pairs)), pairs[:, 0], mirror=guess.mirror)
    trust = Trust(
        tried=len(pairs), agreeing=len(pairs), spread=1.0, residual=scatter, likeness=0.0, stretch=0.0, evidence=0.0
    )
    return Registration(
        matrix=guess.matrix, kind="similarity", mirror=is_mirrored(guess.matrix, middle), size=size,
        turn=turn_at(guess.matrix, middle), u=2.0 * click * float(np.sqrt((factor**2).mean())), overlap=overlap,
        trust=trust, by_hand=True,
    )  # fmt: skip


def _foretold(pairs: Pairs, mirror: bool) -> Points:
    """How far each point lies from where the others put it [px of the second picture], (n,)."""
    missed = []
    for k in range(len(pairs)):
        rest = np.delete(pairs, k, axis=0)
        matrix = fit("similarity", rest[:, 0], rest[:, 1], np.ones(len(rest)), mirror=mirror)
        missed.append(float(_miss(matrix, pairs[k : k + 1])[0]))
    return np.array(missed)


def _miss(matrix: Matrix, pairs: Pairs) -> Points:
    return np.asarray(np.hypot(*(moved(matrix, pairs[:, 0]) - pairs[:, 1]).T))
