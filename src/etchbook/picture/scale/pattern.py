"""What kind of rule it is, by which graduations are longer than their neighbours.

Every tenth and every fifth longer: millimetres. Every second, and of those every fifth:
half millimetres. Halved again and again: an inch rule. A pattern that fits two kinds is
left undecided, since the wrong one would make every length wrong by a factor.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
INCH = 25.4
LEAST_STEP = 0.22
"""Least difference of two kinds of graduation [pitches]."""
LENGTH_NOISE = 0.12
"""How well the length of a graduation is seen at best [pitches]."""
FEWEST = 9
"""With fewer graduations any pattern is chance."""
RAGGED = 0.35
"""Scatter of the lengths of like graduations that no rule has [pitches]."""
MARGIN = 8.0
"""By how much the likeliest kind must lead the next, in twice the logarithm of likelihood."""
KINDS = ("even", "millimetres", "half millimetres", "halved inch", "every second")


@dataclass(frozen=True, kw_only=True, slots=True)
class Pattern:
    """What the lengths of the graduations say.

    Parameters
    ----------
    kind : one of `KINDS`, or "unclear", or "ragged" where lengths differ without order: cloth, scratches, no rule
    pitch_mm : distance of neighbouring graduations [mm] when it is certain, else None
    """

    kind: str
    pitch_mm: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class _Fit:
    kind: str
    score: float
    noise: float
    steps: tuple[float, ...]
    counts: tuple[int, ...]


def read_pattern(index: NDArray[np.intp], length: Array) -> Pattern:
    """The kind of rule.

    Parameters
    ----------
    index : (n,) running numbers of the graduations, from any start
    length : (n,) their lengths [pitches]
    """
    if len(index) < FEWEST:
        return Pattern(kind="unclear")
    fits = sorted((_best(kind, index, length) for kind in KINDS), key=lambda fit: fit.score)
    first = fits[0]
    if first.noise > RAGGED:
        return Pattern(kind="ragged")
    if fits[1].score - first.score < MARGIN:
        return Pattern(kind="unclear")
    if first.kind == "even" or not _stands(first):
        return Pattern(kind=first.kind if first.kind == "even" else "unclear")
    if first.kind == "millimetres":
        return Pattern(kind=first.kind, pitch_mm=1.0)
    if first.kind == "half millimetres":
        return Pattern(kind=first.kind, pitch_mm=0.5)
    if first.kind == "halved inch" and _whole_inch_seen(first):
        return Pattern(kind=first.kind, pitch_mm=INCH / 64)
    return Pattern(kind=first.kind)


def agrees(pattern: Pattern, pitch_mm: float) -> bool:
    """Whether a stated distance of neighbouring graduations can belong to the pattern seen."""
    if pattern.pitch_mm is not None and pattern.kind != "millimetres":
        return abs(pattern.pitch_mm / pitch_mm - 1) < 0.01
    inch = any(abs(INCH / parts / pitch_mm - 1) < 0.01 for parts in (8, 16, 32, 64, 128))
    metric = abs(pitch_mm - 1.0) < 0.01
    half = abs(pitch_mm - 0.5) < 0.005
    if pattern.kind == "millimetres":
        return not (inch or half)
    if pattern.kind == "halved inch":
        return inch
    return not (pattern.kind == "every second" and metric)


def _levels(kind: str, k: NDArray[np.intp]) -> NDArray[np.intp]:
    """How special each graduation is, 0 the plainest."""
    if kind == "millimetres":
        return np.asarray((k % 5 == 0).astype(np.intp) + (k % 10 == 0))
    if kind == "half millimetres":
        return np.asarray((k % 2 == 0).astype(np.intp) + (k % 10 == 0) + (k % 20 == 0))
    if kind == "halved inch":
        halves = np.array([2, 4, 8, 16, 32, 64])
        return np.asarray((k[:, None] % halves == 0).sum(axis=1), np.intp)
    if kind == "every second":
        return np.asarray(k % 2 == 0, np.intp)
    return np.zeros(len(k), np.intp)


def _best(kind: str, index: NDArray[np.intp], length: Array) -> _Fit:
    period = {"millimetres": 10, "half millimetres": 20, "halved inch": 64, "every second": 2}.get(kind, 1)
    return min((_fit(kind, index + shift, length) for shift in range(period)), key=lambda fit: fit.score)


def _fit(kind: str, k: NDArray[np.intp], length: Array) -> _Fit:
    levels = _levels(kind, k)
    present = np.unique(levels)
    typical = np.array([np.median(length[levels == level]) for level in present])
    typical = np.maximum.accumulate(typical)
    rest = np.clip(length - typical[np.searchsorted(present, levels)], -1.2, 1.2)
    n = len(length)
    score = n * np.log((rest**2).mean() + LENGTH_NOISE**2) + (len(present) + 1) * np.log(n)
    steps = tuple(float(step) for step in np.diff(typical))
    counts = tuple(int((levels == level).sum()) for level in range(7))
    noise = 1.4826 * float(np.median(np.abs(rest)))
    return _Fit(kind=kind, score=float(score), noise=noise, steps=steps, counts=counts)


def _stands(fit: _Fit) -> bool:
    """Whether what makes the kind unmistakable is really seen."""
    if fit.kind == "every second":
        return fit.steps[0] > max(LEAST_STEP, 2 * fit.noise)
    if len(fit.steps) < 1 or fit.steps[0] < max(LEAST_STEP, 2 * fit.noise):
        return False
    if fit.kind == "millimetres":
        return sum(fit.counts[1:]) >= 2
    return len(fit.steps) >= 2 and fit.steps[1] >= LEAST_STEP and sum(fit.counts[2:]) >= 2


def _whole_inch_seen(fit: _Fit) -> bool:
    """A 1/64 in rule is told from a 1/32 in rule only by a graduation that stands above the half inch."""
    return fit.counts[6] >= 1 and fit.counts[5] >= 1 and len(fit.steps) == 6 and fit.steps[5] >= LEAST_STEP
