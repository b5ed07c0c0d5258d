"""Surfaces: grain, columns, scratches, stains. Fields have mean about 0 and standard deviation about 1."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree

from etchbook.simulate.raster import enlarged

Array = NDArray[np.float32]
Shape = tuple[int, int]
MOST = 100_000
"""Points at which costly fields are made; larger pictures get them enlarged."""


def noise(rng: np.random.Generator, shape: Shape, size: float) -> Array:
    """Smooth random field with features of about `size` px."""
    if size < 1.6:
        field = rng.standard_normal(shape, np.float32)
        field = gaussian_filter(field, size / 2) if size > 0.5 else field
    else:
        step = size / 1.5
        small = rng.standard_normal((int(shape[0] / step) + 4, int(shape[1] / step) + 4), np.float32)
        field = enlarged(gaussian_filter(small, 0.7), shape, step)
    return np.asarray(field / max(float(field[::3, ::3].std()), 1e-6), np.float32)


def layered(rng: np.random.Generator, shape: Shape, size: float) -> Array:
    """Cloudy field: features of `size` px and of several finer sizes."""
    total = sum(0.6**k * noise(rng, shape, max(size / 2.5**k, 1.6)) for k in range(3))
    return np.asarray(total / 1.25, np.float32)


def _grid(shape: Shape, least: float) -> tuple[NDArray[np.float64], Shape, float]:
    step = max(least, 1.0, float(np.sqrt(shape[0] * shape[1] / MOST)))
    rows, columns = int(shape[0] / step) + 2, int(shape[1] / step) + 2
    y, x = np.mgrid[0:rows, 0:columns]
    return np.stack([x.ravel() * step, y.ravel() * step], axis=1).astype(float), (rows, columns), step


def grains(
    rng: np.random.Generator,
    shape: Shape,
    size: float,
    *,
    way: float = 0.0,
    stretch: float = 1.0,
    edge: float = 0.0,
    twins: bool = False,
) -> Array:
    """Grains of about `size` px with their own brightness and boundaries dark by `edge`; long along `way` [rad]."""
    size = max(size, 3.0)
    points, small, step = _grid(shape, min(size / 5, 4.0))
    size = max(size, 2.5 * step)
    count = int(min(5000, max(20, shape[0] * shape[1] / size**2)))
    seeds = rng.uniform(-0.02, 1.02, (count, 2)) * np.array([shape[1], shape[0]])
    c, s = np.cos(way), np.sin(way)
    turned = np.array([[c / stretch, -s], [s / stretch, c]]) * np.sqrt(stretch)
    away, index = cKDTree(seeds @ turned).query(points @ turned, k=2, workers=1)
    own = index[:, 0]
    bright = rng.standard_normal(count)[own]
    if twins:
        angle = rng.uniform(0, np.pi, count)[own]
        across = points[:, 0] * np.cos(angle) + points[:, 1] * np.sin(angle)
        bright = bright + 1.2 * (np.mod(across / size * 2, 1) < 0.25) * (rng.uniform(size=count) < 0.5)[own]
    rim = np.exp(-(((away[:, 1] - away[:, 0]) / max(0.08 * size, 0.8 * step)) ** 2))
    field = (1 - 0.7 * min(edge, 1.0)) * bright - 2.2 * edge * rim
    return enlarged(field.reshape(small).astype(np.float32), shape, step)


def columns(rng: np.random.Generator, deep: Array, place: Array, wide: float, *, lean: float, sharp: bool) -> Array:
    """Columnar grains growing from the fusion line.

    Parameters
    ----------
    deep : (h, w) distance from the fusion line [px]
    place : (h, w) run along it [px]
    wide : width of a column [px]
    lean : shift along the line per px of depth
    """
    away = np.abs(deep)
    s = (place + lean * away) / wide
    d = away / (wide * float(rng.uniform(3, 14)))
    table = rng.standard_normal((258, 66)).astype(np.float32)
    i, j = np.mod(s, 255), np.mod(d + table[s.astype(int) % 256, 0], 62)
    # Far from the weld the run can overflow single precision; what it gives there is never seen, but must be an index.
    i, j = np.nan_to_num(i), np.nan_to_num(j)
    i0, j0 = i.astype(int), j.astype(int)
    fi, fj = (np.round(i - i0) if sharp else i - i0), j - j0
    low = table[i0, j0] * (1 - fi) + table[i0 + 1, j0] * fi
    high = table[i0, j0 + 1] * (1 - fi) + table[i0 + 1, j0 + 1] * fi
    return np.asarray(low * (1 - fj) + high * fj, np.float32)


def fan(rng: np.random.Generator, shape: Shape, middle: tuple[float, float], wide: float) -> Array:
    """Streaks that run together towards one point of the face."""
    y, x = np.mgrid[0 : shape[0], 0 : shape[1]].astype(np.float32)
    dx, dy = x - np.float32(middle[0]), y - np.float32(middle[1])
    return columns(
        rng, np.hypot(dx, dy), np.arctan2(dy, dx) * np.float32(0.4 * max(shape)), wide, lean=0.0, sharp=False
    )


def streaks(rng: np.random.Generator, shape: Shape, way: float, wide: float, long: float) -> Array:
    """Noise drawn out along one direction [rad]."""
    reach = int(1.5 * max(shape) / min(wide, 8.0)) + 4
    field = gaussian_filter(rng.standard_normal((reach, reach), np.float32), (0.7, max(0.7, 0.7 * long / wide)))
    image = Image.fromarray((field / field.std()).astype(np.float32))
    zoomed = (
        image.resize((int(reach * min(wide, 8.0)), int(reach * min(wide, 8.0))), Image.Resampling.BILINEAR)
        if reach < 1500
        else image
    )
    turned = zoomed.rotate(-np.degrees(way), Image.Resampling.BILINEAR)
    left, top = (turned.width - shape[1]) // 2, (turned.height - shape[0]) // 2
    return np.asarray(turned.crop((left, top, left + shape[1], top + shape[0])), np.float32)


def passes(rng: np.random.Generator, shape: Shape, middle: tuple[float, float], mm: float) -> Array:
    """Arcs as the runs of a multi-run weld leave them."""
    points, small, step = _grid(shape, 1.5)
    field = np.zeros(len(points))
    extent = 0.5 * min(shape)
    for _ in range(int(rng.integers(2, 7))):
        centre = np.array(middle) + rng.normal(0, 0.35 * extent, 2)
        radius = rng.uniform(0.25, 1.0) * extent
        edge = np.hypot(*((points - centre) * rng.uniform(0.8, 1.25, 2)).T) - radius
        field += rng.choice([-1.5, 1.5]) * np.exp(-((edge / (0.12 * mm + 1)) ** 2)) + 0.8 * rng.normal() * (edge < 0)
    return enlarged(field.reshape(small).astype(np.float32), shape, step)


def scratches(rng: np.random.Generator, shape: Shape, count: int) -> Array:
    """Grinding scratches in one to three directions; -1 dark to 1 bright."""
    shrink = max(1.0, float(np.sqrt(shape[0] * shape[1] / 4e6)))
    size = (int(shape[1] / shrink), int(shape[0] / shrink))
    image = Image.new("L", size, 128)
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(1, 4))):
        way, spread = rng.uniform(0, np.pi), rng.choice([0.01, 0.05, 0.3])
        for _ in range(count):
            angle = way + rng.normal(0, spread)
            length = rng.uniform(0.05, 0.9) * max(size)
            x, y = rng.uniform(0, size[0]), rng.uniform(0, size[1])
            dx, dy = np.cos(angle) * length / 2, np.sin(angle) * length / 2
            tone = int(128 + rng.choice([-1, 1]) * rng.uniform(20, 127))
            draw.line((x - dx, y - dy, x + dx, y + dy), fill=tone, width=1 if rng.uniform() < 0.93 else 2)
    field = np.asarray(image.resize((shape[1], shape[0])), np.float32) / 128 - 1
    return np.asarray(gaussian_filter(field, 0.6), np.float32)


def stains(rng: np.random.Generator, shape: Shape, count: int) -> Array:
    """Blotches and water marks, 0 to 1."""
    points, small, step = _grid(shape, 2.0)
    wobble = layered(rng, small, 0.1 * max(small)).ravel()
    field = np.zeros(len(points))
    for _ in range(count):
        centre = rng.uniform(0, 1, 2) * np.array([shape[1], shape[0]])
        radius = rng.uniform(0.03, 0.28) * shape[1]
        away = np.hypot(*((points - centre) * rng.uniform(0.6, 1.6, 2)).T) / radius + 0.18 * wobble
        field += (
            np.clip(1.3 - away, 0, 0.6) if rng.uniform() < 0.6 else np.exp(-(((away - 1) / 0.1) ** 2))
        ) * rng.uniform(0.3, 1)
    return np.clip(enlarged(field.reshape(small).astype(np.float32), shape, step), 0, 1)
