"""What lies round the section: mounts, resins, benches, paper, clutter."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

from etchbook.simulate.looks import Look
from etchbook.simulate.textures import layered, noise, streaks

Array = NDArray[np.float32]
Shape = tuple[int, int]


def surroundings(rng: np.random.Generator, look: Look, shape: Shape) -> Array:
    """(h, w, 3) light of what lies round the section."""
    field = np.broadcast_to(look.air.astype(np.float32), (*shape, 3)).copy()
    kind, busy = look.air_kind, np.float32(0.15 + look.level)
    if kind == "flat":
        return field
    if kind == "gradient":
        return field * _ramp(rng, shape)[..., None]
    field *= (1 + 0.12 * busy * layered(rng, shape, float(rng.uniform(0.05, 0.4)) * shape[1]))[..., None]
    field += (0.02 * busy * noise(rng, shape, float(rng.uniform(0.8, 4))))[..., None]
    if kind == "resin":
        _bubbles(rng, field)
    elif kind == "bench":
        field *= (1 + 0.2 * busy * streaks(rng, shape, float(rng.uniform(0, np.pi)), 2.0, 40.0))[..., None]
    elif kind == "wood":
        field *= (1 + 0.25 * streaks(rng, shape, float(rng.uniform(0, np.pi)), float(rng.uniform(2, 8)), 120.0))[
            ..., None
        ]
    elif kind in ("cloth", "squares"):
        field *= _mesh(rng, shape, kind == "cloth")[..., None]
    elif kind == "clutter":
        field = clutter(rng, field)
    return field


def _ramp(rng: np.random.Generator, shape: Shape) -> Array:
    way, size = rng.uniform(0, 2 * np.pi), rng.uniform(0.2, 0.8)
    y = np.linspace(-0.5, 0.5, shape[0], dtype=np.float32)[:, None]
    x = np.linspace(-0.5, 0.5, shape[1], dtype=np.float32)[None, :]
    return np.asarray(1 + np.float32(size) * (x * np.float32(np.cos(way)) + y * np.float32(np.sin(way))), np.float32)


def _mesh(rng: np.random.Generator, shape: Shape, cloth: bool) -> Array:
    """Weave of a cloth, or the lines of squared paper."""
    pitch = float(rng.uniform(3, 9) if cloth else rng.uniform(12, 70)) * max(1.0, shape[1] / 900)
    turn = rng.normal(0, 0.2)
    y = np.arange(shape[0], dtype=np.float32)[:, None]
    x = np.arange(shape[1], dtype=np.float32)[None, :]
    c, s = np.float32(np.cos(turn)), np.float32(np.sin(turn))
    u, v = np.cos(2 * np.pi / pitch * (x * c + y * s)), np.cos(2 * np.pi / pitch * (y * c - x * s))
    if cloth:
        return np.asarray(1 + 0.12 * u + 0.12 * v, np.float32)
    return np.asarray(1 - 0.3 * np.maximum(u, v).clip(0.97, 1) / 0.03 + 0.3 * 0.97 / 0.03, np.float32)


def _bubbles(rng: np.random.Generator, field: Array) -> None:
    """Small bubbles and dust: a dark ring with a light spot."""
    image = Image.new("L", (field.shape[1], field.shape[0]), 128)
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(0, 40))):
        radius = float(np.exp(rng.uniform(np.log(0.002), np.log(0.03)))) * field.shape[1]
        x, y = rng.uniform(0, field.shape[1]), rng.uniform(0, field.shape[0])
        tone = int(rng.uniform(40, 220))
        draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=tone, outline=int(rng.uniform(20, 110)))
        draw.ellipse((x - 0.5 * radius, y - 0.6 * radius, x - 0.1 * radius, y - 0.2 * radius), fill=min(255, tone + 60))
    field *= 0.5 + np.asarray(image, np.float32)[..., None] / 256


def clutter(rng: np.random.Generator, field: Array) -> Array:
    """Tools, papers and boxes, more or less out of focus."""
    height, width = field.shape[:2]
    shrink = max(1, width // 500)
    image = Image.fromarray(np.asarray(np.clip(field[::shrink, ::shrink], 0, 1) * 255, np.uint8))
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(3, 14))):
        colour = rng.uniform(10, 245) * (1 + rng.normal(0, rng.choice([0.03, 0.35]), 3))
        middle, size = rng.uniform(0, 1, 2) * image.size, rng.uniform(0.05, 0.4) * image.width
        fill = tuple(int(v) for v in np.clip(colour, 0, 255))
        if rng.uniform() < 0.3:
            draw.ellipse((*(middle - size / 2), *(middle + size / 2 * rng.uniform(0.4, 1.2, 2))), fill=fill)
            continue
        angles = np.sort(rng.uniform(0, 2 * np.pi, int(rng.integers(3, 7))))
        points = middle + size * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        draw.polygon([(float(x), float(y)) for x, y in points], fill=fill)
    image = image.filter(ImageFilter.GaussianBlur(float(rng.uniform(0, 8))))
    return np.asarray(image.resize((width, height), Image.Resampling.BILINEAR), np.float32) / np.float32(255)
