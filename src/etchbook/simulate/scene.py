"""What else is in view: surroundings, writing, scale bar, steel rule, thumbs and clamps."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from etchbook.simulate.looks import Look
from etchbook.simulate.textures import noise, stains

Array = NDArray[np.float32]
WORDS = ("A1", "N1-03", "ROOT", "7", "B2 top", "X", "etch 3", "No 12", "S275", "PB", "1 mm", "500 um", "cut 2")


def surroundings(rng: np.random.Generator, look: Look, shape: tuple[int, int]) -> Array:
    """(h, w, 3) light of what lies round the section."""
    field = np.broadcast_to(look.air.astype(np.float32), (*shape, 3)).copy()
    kind, busy = look.air_kind, 0.3 + look.level
    if kind == "flat":
        return field
    field += (0.03 * busy * noise(rng, shape, rng.uniform(20, 120)))[..., None]
    field += (0.02 * busy * noise(rng, shape, rng.uniform(0.5, 4)))[..., None]
    if kind == "resin":
        for _ in range(int(rng.integers(0, 25))):
            _disc(field, rng, 0.003, 0.03, rng.uniform(-0.15, 0.2))
    if kind == "bench":
        y, x = np.mgrid[0 : shape[0], 0 : shape[1]]
        way = rng.uniform(0, np.pi)
        across = (x * np.cos(way) + y * np.sin(way)).astype(np.float32)
        field += (0.08 * busy * np.sin(across / rng.uniform(3, 40) + 3 * noise(rng, shape, 60)))[..., None]
    if kind in ("cloth", "paper"):
        y, x = np.mgrid[0 : shape[0], 0 : shape[1]]
        pitch = rng.uniform(3, 8) if kind == "cloth" else rng.uniform(12, 60)
        mesh = np.maximum(np.cos(2 * np.pi * x / pitch), np.cos(2 * np.pi * y / pitch)) > (0.3 if kind == "cloth" else 0.985)
        field -= (0.1 * busy * mesh)[..., None].astype(np.float32)
    if kind == "clutter":
        for _ in range(int(rng.integers(3, 12))):
            _patch(field, rng)
    return field


def _disc(field: Array, rng: np.random.Generator, low: float, high: float, light: float) -> None:
    height, width = field.shape[:2]
    radius = rng.uniform(low, high) * width
    x, y = rng.uniform(0, width), rng.uniform(0, height)
    a, b = max(0, int(y - radius)), min(height, int(y + radius) + 1)
    c, d = max(0, int(x - radius)), min(width, int(x + radius) + 1)
    yy, xx = np.mgrid[a:b, c:d]
    field[a:b, c:d][np.hypot(xx - x, yy - y) < radius] += light


def _patch(field: Array, rng: np.random.Generator) -> None:
    height, width = field.shape[:2]
    image = Image.new("L", (width, height), 0)
    middle = rng.uniform(0, 1, 2) * np.array([width, height])
    size = rng.uniform(0.05, 0.4) * width
    angles = np.sort(rng.uniform(0, 2 * np.pi, int(rng.integers(3, 7))))
    points = middle + size * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    ImageDraw.Draw(image).polygon([tuple(map(float, p)) for p in points], fill=255)
    cover = np.asarray(image, np.float32)[..., None] / 255
    field *= 1 - cover
    field += cover * rng.uniform(0.05, 0.95, 3).astype(np.float32)


def stained(rng: np.random.Generator, light: Array, level: float) -> Array:
    """Blotches on the etched face."""
    spots = stains(rng, light.shape[:2], int(rng.integers(1, 5)))
    return np.asarray(light * (1 + rng.choice([-1, 1]) * level * 0.35 * spots[..., None]), np.float32)


def written(rng: np.random.Generator, light: Array, where: NDArray[np.bool_]) -> Array:
    """Marker strokes and words, only where they may stand (never on the weld)."""
    height, width = light.shape[:2]
    image = Image.new("L", (width, height), 0)
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(1, 4))):
        size = int(rng.uniform(0.03, 0.1) * width)
        tile = Image.new("L", (size * 6, size * 2), 0)
        ImageDraw.Draw(tile).text((4, 2), str(rng.choice(WORDS)), fill=255, font=ImageFont.load_default(size))
        tile = tile.rotate(rng.uniform(-60, 60) if rng.uniform() < 0.5 else 0, expand=True)
        image.paste(255, (int(rng.uniform(0, 0.9) * width), int(rng.uniform(0, 0.95) * height)), tile)
    if rng.uniform() < 0.5:
        points = rng.uniform(0, 1, (3, 2)) * np.array([width, height])
        draw.line([tuple(map(float, p)) for p in points], fill=255, width=max(1, int(width * rng.uniform(0.002, 0.01))))
    cover = np.asarray(image, np.float32) / 255 * where
    ink = np.array(rng.choice([0.03, 0.95])) + rng.uniform(-0.2, 0.3, 3) * rng.integers(0, 2)
    return np.asarray(light * (1 - cover[..., None]) + cover[..., None] * np.clip(ink, 0, 1), np.float32)


def scale_bar(
    rng: np.random.Generator, light: Array, px_per_mm: float
) -> tuple[Array, dict[str, object]]:
    """A bar burnt into the picture with its length written beside it."""
    height, width = light.shape[:2]
    lengths = np.array([0.1, 0.2, 0.5, 1, 2, 5, 10, 20])
    mm = float(lengths[np.argmin(np.abs(lengths * px_per_mm - 0.2 * width))])
    long = mm * px_per_mm
    if not 20 < long < 0.6 * width:
        return light, {}
    x, y = rng.uniform(0.03, 0.3) * width, height * (1 - rng.uniform(0.03, 0.1))
    thick = max(2.0, 0.008 * height * rng.uniform(0.5, 2))
    colour = [1.0, 1.0, 1.0] if rng.uniform() < 0.6 else ([0.0, 0.0, 0.0] if rng.uniform() < 0.6 else [0.9, 0.1, 0.1])
    left, right = round(x), round(x + long)
    out = light.copy()
    out[round(y - thick) : round(y), left:right] = colour
    image = Image.new("L", (width, height), 0)
    words = f"{mm:g} mm" if mm >= 1 else f"{1000 * mm:g} um"
    ImageDraw.Draw(image).text((left, y - thick - 0.05 * height), words, fill=255, font=ImageFont.load_default(max(8, int(0.035 * height))))
    cover = np.asarray(image, np.float32)[..., None] / 255
    out = out * (1 - cover) + cover * np.array(colour, np.float32)
    ends = [[left - 0.5 + 0.5, float(y - thick / 2)], [right - 0.5 - 0.5, float(y - thick / 2)]]
    return out.astype(np.float32), {"length_mm": mm, "ends_px": ends, "px_per_mm": (right - left) / mm}


def steel_rule(
    rng: np.random.Generator, light: Array, px_per_mm: float, free: NDArray[np.bool_]
) -> tuple[Array, dict[str, object]]:
    """A steel rule or printed scale lying in the picture, if there is room for it off the metal."""
    height, width = light.shape[:2]
    pitch = float(rng.choice([0.5, 1.0, 25.4 / 64], p=[0.3, 0.5, 0.2]))
    if pitch * px_per_mm < 5:
        pitch = 1.0
    step, band = pitch * px_per_mm, float(rng.uniform(0.1, 0.18)) * height
    turn = float(rng.choice([0.0, np.pi / 2])) + rng.uniform(-0.08, 0.08)
    image = Image.new("F", (width, height), 0.0)
    cover = Image.new("L", (width, height), 0)
    side = int(rng.integers(0, 2))
    c, s = np.cos(turn), np.sin(turn)
    along, across = np.array([c, s]), np.array([-s, c])
    edge = np.array([width / 2, height / 2]) + across * (side * 2 - 1) * (0.5 * (height if abs(c) > 0.7 else width) - band)
    outward = across * (side * 2 - 1)
    reach = float(width + height)
    corners = [edge - along * reach, edge + along * reach, edge + along * reach + outward * 3 * band, edge - along * reach + outward * 3 * band]
    ImageDraw.Draw(cover).polygon([tuple(map(float, p)) for p in corners], fill=255)
    blade = np.asarray(cover, np.float32) / 255
    if (blade[~free]).sum() > 0.35 * (~free).sum() * 0.2:
        return light, {}
    draw = ImageDraw.Draw(image)
    per = 10 if pitch != 25.4 / 64 else 8
    thick = max(1, round(step * 0.18))
    for k in range(-int(reach / step), int(reach / step)):
        length = band * (0.75 if k % per == 0 else 0.55 if k % (per // 2) == 0 else 0.35)
        p = edge + along * (k + 0.37) * step
        q = p + outward * length
        draw.line((float(p[0]), float(p[1]), float(q[0]), float(q[1])), fill=1.0, width=thick)
    ticks = np.asarray(image, np.float32) * blade
    metal = np.float32(rng.uniform(0.5, 0.95))
    ink = np.float32(rng.uniform(0.0, 0.25))
    if rng.uniform() < 0.2:
        metal, ink = ink, metal
    surface = metal + 0.02 * noise(rng, (height, width), 2.0)
    rule = surface * (1 - ticks) + ink * ticks
    out = light * (1 - blade[..., None]) + (rule * blade)[..., None]
    return out.astype(np.float32), {"pitch_mm": pitch, "px_per_mm": px_per_mm}
