"""Surfaces: grain, columns, scratches, stains. Fields have mean about 0 and standard deviation about 1."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter, zoom
from scipy.spatial import cKDTree

Array = NDArray[np.float32]
Shape = tuple[int, int]
MOST = 600_000
"""Pixels at which costly fields are made; larger pictures get them enlarged."""


def noise(rng: np.random.Generator, shape: Shape, size: float) -> Array:
    """Smooth random field with features of about `size` px."""
    if size < 2.5:
        field = rng.standard_normal(shape, np.float32)
        field = gaussian_filter(field, size / 2) if size > 0.4 else field
    else:
        step = size / 1.5
        small = rng.standard_normal((int(shape[0] / step) + 5, int(shape[1] / step) + 5), np.float32)
        field = enlarged(gaussian_filter(small, 0.7), shape, step)
    return np.asarray(field / max(float(field.std()), 1e-6), np.float32)


def enlarged(small: Array, shape: Shape, step: float) -> Array:
    """A coarse field at full size."""
    grown = zoom(small, step, order=1)
    return np.asarray(grown[: shape[0], : shape[1]], np.float32)


def _coarse(shape: Shape) -> float:
    return max(1.0, float(np.sqrt(shape[0] * shape[1] / MOST)))


def _grid(shape: Shape, step: float) -> tuple[NDArray[np.float64], Shape]:
    rows, columns = int(np.ceil(shape[0] / step)) + 1, int(np.ceil(shape[1] / step)) + 1
    y, x = np.mgrid[0:rows, 0:columns]
    return np.stack([x.ravel() * step, y.ravel() * step], axis=1).astype(float), (rows, columns)


def grains(rng: np.random.Generator, shape: Shape, size: float, stretch: float, edge: float) -> Array:
    """Voronoi grains of about `size` px with their own brightness and boundaries dark by `edge`."""
    size = max(size, 3.0)
    step = max(_coarse(shape), min(size / 4, 3.0), 1.0)
    points, small = _grid(shape, step)
    count = int(min(6000, max(20, shape[0] * shape[1] / size**2)))
    seeds = rng.uniform(0, 1, (count, 2)) * np.array([shape[1], shape[0]])
    scale = np.array([1.0, stretch])
    away, index = cKDTree(seeds * scale).query(points * scale, k=2, workers=1)
    bright = rng.standard_normal(count)[index[:, 0]]
    rim = np.exp(-(((away[:, 1] - away[:, 0]) / (0.12 * size)) ** 2))
    field = (1 - min(edge, 1.0) * 0.7) * bright - 2.0 * edge * rim
    return enlarged(field.reshape(small).astype(np.float32), shape, step)


def columns(
    rng: np.random.Generator, shape: Shape, fusion: NDArray[np.float64], middle: NDArray[np.float64], mm: float
) -> Array:
    """Columnar grains growing from the fusion line towards the middle of the weld face; all in px, `mm` px a millimetre."""
    step = max(_coarse(shape), 1.0)
    points, small = _grid(shape, step)
    away, index = cKDTree(fusion).query(points, workers=1)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(fusion, axis=0).T))])
    wide = mm * rng.uniform(0.05, 0.6)
    lean = rng.uniform(-0.6, 0.6)
    s = (run[index] + lean * away) / wide
    if rng.uniform() < 0.4:
        off = points - middle
        s = np.arctan2(off[:, 1], off[:, 0]) * float(run[-1]) / np.pi / wide
    d = away / (wide * rng.uniform(3, 12))
    table = rng.standard_normal((257, 61))
    i, j = np.mod(s, 256), np.mod(d, 60)
    i0, j0 = i.astype(int), j.astype(int)
    fi, fj = i - i0, j - j0
    if rng.uniform() < 0.5:
        fi = np.round(fi)
    field = (table[i0, j0] * (1 - fi) + table[i0 + 1, j0] * fi) * (1 - fj) + (table[i0, j0 + 1] * (1 - fi) + table[i0 + 1, j0 + 1] * fi) * fj
    return enlarged(field.reshape(small).astype(np.float32), shape, step)


def passes(rng: np.random.Generator, shape: Shape, middle: NDArray[np.float64], mm: float) -> Array:
    """Arcs as the runs of a multi-run weld leave them."""
    points, small = _grid(shape, step := max(_coarse(shape), 2.0))
    field = np.zeros(len(points))
    for _ in range(int(rng.integers(2, 5))):
        centre = middle + rng.normal(0, 1.5 * mm, 2)
        radius = rng.uniform(0.8, 4) * mm
        edge = (np.hypot(*(points - centre).T) - radius) / (0.15 * mm)
        field += rng.choice([-1, 1]) * np.exp(-(edge**2)) + 0.6 * rng.normal() * (edge < 0)
    return enlarged(field.reshape(small).astype(np.float32), shape, step)


def scratches(rng: np.random.Generator, shape: Shape, count: int) -> Array:
    """Grinding scratches in one to three directions; -1 dark to 1 bright."""
    shrink = max(1.0, np.sqrt(shape[0] * shape[1] / 4e6))
    size = (int(shape[1] / shrink), int(shape[0] / shrink))
    image = Image.new("L", size, 128)
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(1, 4))):
        way = rng.uniform(0, np.pi)
        for _ in range(count):
            angle = way + rng.normal(0, 0.04)
            length = rng.uniform(0.05, 0.9) * max(size)
            x, y = rng.uniform(0, size[0]), rng.uniform(0, size[1])
            dx, dy = np.cos(angle) * length / 2, np.sin(angle) * length / 2
            draw.line((x - dx, y - dy, x + dx, y + dy), fill=int(128 + rng.choice([-1, 1]) * rng.uniform(20, 127)), width=1)
    field = np.asarray(image.resize((shape[1], shape[0])), np.float32) / 128 - 1
    return gaussian_filter(field, 0.5)


def stains(rng: np.random.Generator, shape: Shape, count: int) -> Array:
    """Blotches and water marks, 0 to 1."""
    step = max(_coarse(shape), 2.0)
    points, small = _grid(shape, step)
    field = np.zeros(len(points))
    for _ in range(count):
        centre = rng.uniform(0, 1, 2) * np.array([shape[1], shape[0]])
        radius = rng.uniform(0.03, 0.25) * shape[1]
        away = np.hypot(*((points - centre) * rng.uniform(0.5, 2, 2)).T) / radius
        if rng.uniform() < 0.5:
            field += np.clip(1.2 - away, 0, 1) * rng.uniform(0.3, 1)
        else:
            field += np.exp(-(((away - 1) / 0.12) ** 2)) * rng.uniform(0.3, 1)
    return np.clip(enlarged(field.reshape(small).astype(np.float32), shape, step), 0, 1)
