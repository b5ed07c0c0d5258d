"""One prepared face painted once, so that many pictures can be taken of it: what etching shows and what it does not."""

import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from etchbook.simulate.cases import Case, draw_case
from etchbook.simulate.covers import draw_covers, draw_fields
from etchbook.simulate.looks import Difficulty, Look, draw_look
from etchbook.simulate.metal import metal_light
from etchbook.simulate.paint import as_displayed
from etchbook.simulate.placing import Placing
from etchbook.simulate.raster import cover_of
from etchbook.simulate.textures import grains
from etchbook.terms import Family

Array = NDArray[np.float32]
Points = NDArray[np.float64]
WORD = zlib.crc32(b"faces")
"""Keeps these random numbers apart from those of every other painter."""
TWINS_APART = 40_000_000
"""A twin is scratched by its own preparation."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FaceLine:
    """A dark line of the face.

    Parameters
    ----------
    points : (n, 2) px of the face
    width : [px of the face]
    contrast : share of the light that it takes
    real : whether it is an opening that shows before etching too; otherwise the etch alone shows it
    """

    points: Points
    width: float
    contrast: float
    real: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Face:
    """A face in its own pixels.

    Parameters
    ----------
    etched : (h, w, 3) light of the etched metal, nothing where there is no metal
    polished : (h, w) light of the metal before etching, times the tint
    metal, gap : (h, w) share of each pixel that is metal; that is a gap between members
    facet : (h, w) [rad] which way each grain leans
    tint : (3,)
    px_per_mm : of the face's own pixels
    seed : of the face
    lines : dark lines
    spots : (n, 2) px of the face: places that someone would go close to, along the weld's edges
    """

    etched: Array
    polished: Array
    metal: Array
    gap: Array
    facet: Array
    tint: Array
    px_per_mm: float
    seed: int
    lines: tuple[FaceLine, ...]
    spots: Points


def draw_face(
    family: Family,
    seed: int,
    width: int,
    height: int,
    *,
    difficulty: Difficulty = "moderate",
    fresh: int = 0,
    twin: int = 0,
) -> Face:
    """Invent a face that fills about a third to four fifths of its frame with the joint.

    Parameters
    ----------
    width, height : of the frame [px]
    fresh : 0 for the face as it was first cut; another number gives the same geometry with grain of its own, as
        deep grinding leaves it
    twin : another number gives another section that looks much like this one: the same plates, light, etch and place
        in the frame, a weld of other sizes, other grain, specks and lines
    """
    rng = np.random.default_rng([seed, WORD])
    case = _twin(family, seed, twin) if twin else draw_case(family, seed)
    look = draw_look(rng, difficulty)
    placing = _placing(rng, case, width, height)
    case = as_displayed(case, placing)
    covers, fields = draw_covers(case, placing, width, height), draw_fields(case, placing, width, height)
    grain = np.random.default_rng([seed, WORD, 7, fresh, twin])
    etched = metal_light(case, placing, look, covers, fields, np.zeros((height, width, 3), np.float32), grain)
    metal = covers.metal
    tint = (look.plate / max(float(look.plate.mean()), 1e-6)).astype(np.float32)
    pits = _pits(np.random.default_rng([seed, WORD, 11, fresh, twin]), (height, width))
    polished = _polished(rng, metal, look, covers.pores) * (1 - pits)
    facet = np.float32(2.2) * grains(grain, (height, width), max(4.0, 0.25 * placing.px_per_mm))
    return Face(
        etched=np.clip(etched, 0, 1.2) * metal[..., None] * (1 - pits)[..., None], polished=polished, metal=metal,
        gap=covers.slit, facet=facet, tint=tint, px_per_mm=placing.px_per_mm, seed=seed + TWINS_APART * twin,
        lines=_lines(np.random.default_rng([seed, WORD, 13, twin]), case, placing, metal),
        spots=placing.px(np.concatenate([case.face[::40], case.fusion[::40]])),
    )  # fmt: skip


WELD_SIZES = ("leg_1", "leg_2", "bulge", "skew", "depth_1", "depth_2", "root", "haz", "width", "height", "depth")
"""Sizes in which a twin differs; everything else is the plates'."""


def _twin(family: Family, seed: int, twin: int) -> Case:
    """The same plates with another weld: each of its sizes 5 to 25 % off, its waves, pores and HAZ its own."""
    rng = np.random.default_rng([seed, WORD, 29, twin])
    sizes = dict(draw_case(family, seed).sizes)
    for name in WELD_SIZES:
        if name in sizes:
            sizes[name] *= 1 + float(rng.choice([-1, 1]) * rng.uniform(0.05, 0.25))
    return draw_case(family, seed + TWINS_APART * twin, **sizes)


def _placing(rng: np.random.Generator, case: Case, width: int, height: int) -> Placing:
    extent = float(np.ptp(case.weld, axis=0).max())
    scale = float(rng.uniform(0.3, 0.55)) * min(width, height) / extent
    return Placing(
        px_per_mm=scale, turn=float(rng.uniform(-np.pi, np.pi)), mirror=int(rng.choice([-1, 1])),
        centre=case.weld.mean(axis=0), at=np.array([width, height]) / 2 + rng.normal(0, 0.04, 2) * [width, height],
        tilt=np.zeros(2),
    )  # fmt: skip


def _polished(rng: np.random.Generator, metal: Array, look: Look, pores: Array) -> Array:
    """Bright metal in which weld and plate look alike, with the holes in it."""
    tone = np.float32(np.clip(look.plate.mean() * rng.uniform(0.9, 1.5), 0.25, 0.9))
    rim = np.clip(2 * gaussian_filter(metal, 2.0) - 1, 0, 1)
    return np.asarray(tone * metal * (1 - 0.9 * pores) * (0.75 + 0.25 * rim), np.float32)


def _pits(rng: np.random.Generator, shape: tuple[int, int]) -> Array:
    """Inclusions and pits: few dark specks that every state shows."""
    field = np.zeros(shape, np.float32)
    count = int(np.exp(rng.uniform(np.log(20), np.log(400))))
    rows, columns = rng.integers(0, shape[0], count), rng.integers(0, shape[1], count)
    field[rows, columns] = rng.uniform(2, 14, count).astype(np.float32)
    return np.asarray(np.clip(gaussian_filter(field, float(rng.uniform(0.9, 1.6))), 0, 0.85), np.float32)


def _lines(rng: np.random.Generator, case: Case, placing: Placing, metal: Array) -> tuple[FaceLine, ...]:
    """One or two lines along the plates' surfaces, some of them openings, some of them of the etch alone."""
    found = []
    for _ in range(int(rng.integers(1, 3))):
        name = str(rng.choice([name for name in ("surface_1", "surface_2") if name in case.lines]))
        point, way, outward = case.lines[name]
        depth = float(rng.uniform(0.25, 0.75)) * case.sizes.get(name.replace("surface", "thickness"), 6.0)
        start = point - depth * outward
        run = np.linspace(-60, 60, 1201)[:, None] * way + start
        run = run + np.cumsum(rng.normal(0, 0.004, len(run)))[:, None] * outward
        within = _inside(placing.px(run), metal)
        longest = _longest(within)
        if longest[1] - longest[0] < 30:
            continue
        keep = slice(*_part(rng, *longest))
        found.append(
            FaceLine(
                points=placing.px(run[keep]), width=float(rng.uniform(1.5, 4.0)),
                contrast=float(rng.uniform(0.35, 0.8)), real=bool(rng.uniform() < 0.5),
            )
        )  # fmt: skip
    return tuple(found)


def _inside(points: Points, metal: Array) -> NDArray[np.bool_]:
    at = np.rint(points).astype(int)
    height, width = metal.shape
    seen = (at[:, 0] >= 6) & (at[:, 1] >= 6) & (at[:, 0] < width - 6) & (at[:, 1] < height - 6)
    inside = np.zeros(len(points), bool)
    inside[seen] = metal[at[seen, 1], at[seen, 0]] > 0.99
    return inside


def _longest(inside: NDArray[np.bool_]) -> tuple[int, int]:
    """First and last index of the longest run of True."""
    steps = np.diff(np.concatenate([[0], inside.astype(int), [0]]))
    starts, stops = np.nonzero(steps == 1)[0], np.nonzero(steps == -1)[0]
    if len(starts) == 0:
        return 0, 0
    best = int(np.argmax(stops - starts))
    return int(starts[best]), int(stops[best])


def _part(rng: np.random.Generator, start: int, stop: int) -> tuple[int, int]:
    length = stop - start
    size = int(length * rng.uniform(0.4, 0.85))
    first = start + int(rng.uniform(0.05, 0.95) * (length - size))
    return first, first + size


def strip_cover(points: Points, width: float, columns: int, rows: int) -> Array:
    """Exact cover of a line of this width [px] in a frame of this many columns and rows."""
    slope = np.gradient(points, axis=0)
    normal = np.stack([-slope[:, 1], slope[:, 0]], axis=1) / np.maximum(np.hypot(*slope.T), 1e-12)[:, None]
    ring = np.concatenate([points + 0.5 * width * normal, (points - 0.5 * width * normal)[::-1]])
    return cover_of(ring, columns, rows)
