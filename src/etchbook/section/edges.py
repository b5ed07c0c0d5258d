"""Sub-pixel edges: where a boundary crosses each profile of a strip, and how well that is known."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from scipy.special import ndtr

from etchbook.section.strips import Array, Strip, best_path, smoothed_along, whittaker


@dataclass(frozen=True, kw_only=True, slots=True)
class Trace:
    """A boundary traced through a strip.

    Parameters
    ----------
    points : (n, 2) px
    sd : (n,) standard deviation across the boundary [px]
    clarity : (n,) step height over noise of each profile as averaged; below about 3 the place is a guess
    blur : standard deviation of the edge spread [px]
    """

    points: Array
    sd: Array
    clarity: Array
    blur: float


def trace(strip: Strip, *, prior_sd: float, along_px: float, stiffness_px: float, rounds: int = 2) -> Trace:
    """Trace the boundary that the middle of a strip guesses at.

    The two sides are told apart by a discriminant learned from the strip itself, so the
    polarity of the etch is found and not assumed; a dynamic programme then finds the way
    that parts the two sides best, and each profile is fitted with a blurred step.

    Parameters
    ----------
    prior_sd : how far the guess may be off [px]
    along_px : length over which profiles are averaged [px]
    stiffness_px : bends shorter than about this are smoothed away [px]
    """
    width = along_px / strip.step / 2.5
    path = np.zeros(len(strip.curve))
    for _ in range(rounds):
        score = _side_score(strip, path, _features(strip))
        cost = _parting_cost(smoothed_along(score, width), strip.offsets, prior_sd)
        path = strip.offsets[best_path(cost, bend=0.15)]
        path = ndimage.gaussian_filter1d(path, max(width, 1.0), mode="nearest")
    # Restlessness tells the sides apart but is blurred itself, so the sub-pixel fit goes by light alone.
    return _polish(strip, _side_score(strip, path, strip.values), path, width, stiffness_px)


def _side_score(strip: Strip, path: Array, features: Array) -> Array:
    """Each sample's place on the line that parts the two sides best: about 0 before the boundary, 1 behind it."""
    gap = strip.offsets[None, :] - path[:, None]
    reach = strip.offsets[-1]
    guard = 0.12 * reach
    before, behind = (gap < -guard) & (gap > -0.75 * reach), (gap > guard) & (gap < 0.75 * reach)
    # Light drifts along the boundary, so what counts is the difference from the local mean of both sides.
    local = _local_mean(features, before) + _local_mean(features, behind)
    centred = features - 0.5 * local[:, None, :]
    first, second = centred[before], centred[behind]
    spread = np.cov(first.T) + np.cov(second.T)
    spread += np.eye(len(spread)) * (1e-3 * np.trace(spread) / len(spread) + 1e-10)
    weight = np.linalg.solve(spread, second.mean(axis=0) - first.mean(axis=0))
    low, high = float((first @ weight).mean()), float((second @ weight).mean())
    return np.asarray((centred @ weight - low) / max(high - low, 1e-9))


def _features(strip: Strip) -> Array:
    """Colour, and how restless it is round about (grain and columns differ where light does not)."""
    grey = strip.values.mean(axis=2)
    fine = grey - ndimage.gaussian_filter(grey, (2.0, 2.0), mode="nearest")
    restless = np.sqrt(ndimage.gaussian_filter(fine**2, (2.5, 1.5), mode="nearest"))
    return np.concatenate([strip.values, restless[..., None]], axis=2)


def _local_mean(features: Array, where: NDArray[np.bool_]) -> Array:
    weight = where.astype(float)
    count = np.maximum(weight.sum(axis=1), 1.0)
    mean = (features * weight[..., None]).sum(axis=1) / count[:, None]
    return np.asarray(ndimage.gaussian_filter1d(mean, max(2.0, len(mean) / 8), axis=0, mode="nearest"))


def _parting_cost(score: Array, offsets: Array, prior_sd: float) -> Array:
    """Price of putting the boundary at each offset: misfit to 0 before and 1 behind it, less a bonus for the step."""
    clipped = np.clip(score, -1.0, 2.0)
    before, behind = clipped**2, (clipped - 1.0) ** 2
    run_before = np.cumsum(before, axis=1)
    run_behind = np.cumsum(behind, axis=1)
    misfit = run_before + (run_behind[:, -1:] - run_behind)
    misfit -= misfit.min(axis=1, keepdims=True)
    slope = ndimage.gaussian_filter1d(clipped, 1.0, axis=1, order=1, mode="nearest")
    noise = float(np.median(misfit)) + 1e-9
    guess = 0.5 * (offsets / prior_sd) ** 2
    return np.asarray(
        misfit / noise - 1.5 * np.clip(slope, 0.0, None) / (float(np.abs(slope).max()) + 1e-9) + 0.3 * guess
    )


def _polish(strip: Strip, score: Array, path: Array, width: float, stiffness_px: float) -> Trace:
    """Fit a blurred step to each profile, averaged along the path; smooth by how well each is known."""
    aligned, grid = _aligned(score, strip.offsets, path)
    mean = smoothed_along(aligned, width)
    blur = _blur(mean.mean(axis=0), grid)
    noise = _noise(aligned, grid, blur)
    shift, height = _steps(mean, grid, blur)
    averaged = max(1.0, 3.5 * width)
    sd = _bound(height, noise, blur, strip.offsets[1] - strip.offsets[0], averaged)
    clarity = np.abs(height) / np.maximum(noise, 1e-9) * np.sqrt(averaged)
    trusted = (np.abs(shift) < 3 * blur + 1.0) & (height > 0.25)
    shift = np.where(trusted, shift, 0.0)
    sd = np.where(trusted, sd, 2.0 * blur + 1.0)
    stiffness = (stiffness_px / strip.step) ** 4 / 40.0
    weight = 1.0 / sd**2
    smooth, known = whittaker(path + shift, weight, stiffness * float(np.median(weight)))
    return Trace(points=strip.at(smooth), sd=known * np.sqrt(averaged), clarity=clarity, blur=blur)


def _aligned(score: Array, offsets: Array, path: Array) -> tuple[Array, Array]:
    """The strip shifted so that the path runs down its middle."""
    spacing = offsets[1] - offsets[0]
    room = len(offsets) // 2
    half = max(6, int(room * 0.7))
    grid = np.arange(-half, half + 1) * spacing
    rows = np.arange(len(path))
    at = (path[:, None] + grid[None, :] - offsets[0]) / spacing
    at = np.clip(at, 0, len(offsets) - 1.001)
    low = at.astype(np.intp)
    share = at - low
    return score[rows[:, None], low] * (1 - share) + score[rows[:, None], low + 1] * share, grid


def _blur(profile: Array, grid: Array) -> float:
    """Standard deviation of the edge spread, from the mean profile's slope."""
    spacing = grid[1] - grid[0]
    slope = np.clip(np.gradient(profile, spacing), 0.0, None)
    floor = float(np.median(slope))
    slope = np.clip(slope - floor, 0.0, None)
    near = np.abs(grid) <= max(4 * spacing, 0.5 * grid[-1])
    total = float(slope[near].sum())
    if total <= 0:
        return float(2 * spacing)
    middle = float((slope * grid)[near].sum() / total)
    return float(np.clip(np.sqrt(((slope * (grid - middle) ** 2)[near]).sum() / total), 0.7 * spacing, 0.4 * grid[-1]))


def _noise(aligned: Array, grid: Array, blur: float) -> float:
    """Standard deviation of a single sample away from the step."""
    away = np.abs(grid) > min(2.0 * blur + 1.0, 0.6 * grid[-1])
    side = np.where(grid > 0, 1.0, 0.0)[None, :]
    return float(np.std((aligned - side)[:, away]))


def _steps(mean: Array, grid: Array, blur: float) -> tuple[Array, Array]:
    """Least-squares place and height of a blurred step in each profile; two Gauss-Newton turns from the middle."""
    shift = np.zeros(len(mean))
    height = np.ones(len(mean))
    window = np.exp(-0.5 * (grid / (3.0 * blur + 2 * (grid[1] - grid[0]))) ** 2)
    for _ in range(4):
        z = (grid[None, :] - shift[:, None]) / blur
        model = ndtr(z)
        slope = -np.exp(-0.5 * z**2) / np.sqrt(2 * np.pi) / blur
        base = np.ones_like(model)
        design = np.stack([base, model, height[:, None] * slope], axis=2) * window[None, :, None]
        target = mean * window
        normal = np.einsum("nmk,nml->nkl", design, design) + 1e-6 * np.eye(3)
        right = np.einsum("nmk,nm->nk", design, target)
        solved = np.linalg.solve(normal, right[..., None])[..., 0]
        height = np.clip(solved[:, 1], 0.05, 3.0)
        shift = np.clip(shift + np.clip(solved[:, 2], -blur, blur), -4 * blur, 4 * blur)
    return shift, height


def _bound(height: Array, noise: float, blur: float, spacing: float, averaged: float) -> Array:
    """Smallest standard deviation with which white noise lets a blurred step be placed [px].

    sd = 1.883 √σ σn / (A √N), with the sample spacing counted in. Source: Cramér–Rao bound for a
    Gaussian-blurred step, checked by Monte Carlo in the project's research notes.
    """
    sigma = blur / spacing
    return np.asarray(1.883 * np.sqrt(sigma) * noise / (np.maximum(height, 0.05) * np.sqrt(averaged)) * spacing)
