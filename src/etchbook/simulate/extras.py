"""What else is in view: writing, scale bar, steel rule, scale card, fingers and clamps, stains, scratches."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont
from scipy.ndimage import gaussian_filter

from etchbook.simulate import textures
from etchbook.simulate.covers import Covers
from etchbook.simulate.looks import Look
from etchbook.simulate.placing import Placing

Array = NDArray[np.float32]
Found = dict[str, object]
WORDS = (
    "A1",
    "N1-03",
    "ROOT",
    "7",
    "B2 top",
    "X",
    "etch 3",
    "No 12",
    "S275",
    "PB",
    "cut 2",
    "135 PF",
    "24.6",
    "OK",
    "->",
    "L3/4",
)


def with_extras(
    light: Array, look: Look, covers: Covers, placing: Placing, rng: np.random.Generator, keep: Array
) -> tuple[Array, Found]:
    """Everything that lies on or is printed over the picture; `keep` is where nothing may stand (weld and HAZ)."""
    found: Found = {}
    level, shape = look.level, (light.shape[0], light.shape[1])
    metal = covers.metal
    if rng.uniform() < 0.25 + 0.5 * level:
        field = textures.scratches(rng, shape, int(rng.uniform(4, 30 + 160 * level**1.5)))
        light *= (1 + np.float32(rng.uniform(0.03, 0.25) * (0.3 + level)) * field * (0.1 + 0.9 * metal))[..., None]
    if rng.uniform() < 0.12 + 0.35 * level:
        spots = textures.stains(rng, shape, int(rng.integers(1, 6)))
        colour = np.array([1, 1, 1]) if rng.uniform() < 0.6 else np.array([0.6, 1.0, 1.4])
        tone = (rng.choice([-1, 1], p=[0.7, 0.3]) * rng.uniform(0.05, 0.35 * level + 0.1) * colour).astype(np.float32)
        light *= 1 + tone * spots[..., None]
    if rng.uniform() < 0.15 + 0.25 * level:
        light = _written(rng, light, 1 - np.clip(6 * gaussian_filter(keep, 2), 0, 1))
    if rng.uniform() < 0.25:
        light, rule = _steel_rule(rng, light, placing.px_per_mm, metal)
        found |= {"rule": rule} if rule else {}
    if rng.uniform() < 0.06 + 0.1 * level:
        light = _blobs(rng, light, keep)
    return light, found


def _over(light: Array, cover: Array, colour: NDArray[np.float64]) -> Array:
    light += cover[..., None] * (colour.astype(np.float32) - light)
    return light


def _written(rng: np.random.Generator, light: Array, where: Array) -> Array:
    """Marker strokes and words, only where they may stand (never on the weld)."""
    height, width = light.shape[:2]
    image = Image.new("L", (width, height), 0)
    draw = ImageDraw.Draw(image)
    for _ in range(int(rng.integers(1, 4))):
        size = max(8, int(rng.uniform(0.03, 0.12) * width))
        tile = Image.new("L", (size * 5, size * 2), 0)
        heavy = int(rng.integers(0, max(2, size // 14)))
        ImageDraw.Draw(tile).text(
            (4, 2), str(rng.choice(WORDS)), fill=255, font=ImageFont.load_default(size), stroke_width=heavy
        )
        tile = tile.rotate(float(rng.uniform(-180, 180)) if rng.uniform() < 0.5 else 0, expand=True)
        image.paste(255, (int(rng.uniform(-0.05, 0.9) * width), int(rng.uniform(-0.05, 0.95) * height)), tile)
    if rng.uniform() < 0.4:
        points = rng.uniform(0, 1, 2) * [width, height] + np.cumsum(rng.normal(0, 0.08, (8, 2)), axis=0) * width
        draw.line(
            [(float(x), float(y)) for x, y in points],
            fill=255,
            width=max(1, int(width * rng.uniform(0.002, 0.012))),
            joint="curve",
        )
    cover = np.asarray(image, np.float32) / np.float32(255) * where * np.float32(rng.uniform(0.6, 1.0))
    ink = np.full(3, rng.choice([0.04, 0.95])) if rng.uniform() < 0.6 else rng.choice([0.05, 0.2, 0.85], 3)
    return _over(light, cover, ink)


def _blobs(rng: np.random.Generator, light: Array, keep: Array) -> Array:
    """Fingers, clamps or tape reaching in from the border, never over the weld."""
    height, width = light.shape[:2]
    image = Image.new("L", (width, height), 0)
    side, size = int(rng.integers(4)), rng.uniform(0.06, 0.16) * width
    along, reach = rng.uniform(0.1, 0.9), rng.uniform(0.5, 2.0) * size
    x, y = [(along * width, 0), (along * width, height), (0, along * height), (width, along * height)][side]
    half = (size / 2, reach) if side < 2 else (reach, size / 2)
    ImageDraw.Draw(image).rounded_rectangle(
        (x - half[0], y - half[1], x + half[0], y + half[1]), radius=size * rng.uniform(0.05, 0.5), fill=255
    )
    cover = gaussian_filter(np.asarray(image, np.float32) / 255, float(rng.uniform(0.8, 3)))
    if float((cover * keep).sum()) > 1:
        return light
    skin = np.array([0.8, 0.58, 0.47]) * rng.uniform(0.5, 1.15) if rng.uniform() < 0.5 else rng.uniform(0.05, 0.9, 3)
    shade = 1 + 0.15 * textures.noise(rng, (height, width), float(size))
    light *= (1 - cover)[..., None]
    light += (cover * shade)[..., None] * skin.astype(np.float32)
    return light


def scale_bar(rng: np.random.Generator, light: Array, px_per_mm: float) -> tuple[Array, Found]:
    """A bar burnt into the picture with its length written beside it; its ends are exact."""
    height, width = light.shape[:2]
    lengths = np.array([0.1, 0.2, 0.5, 1, 2, 5, 10, 20])
    mm = float(lengths[np.argmin(np.abs(lengths * px_per_mm - rng.uniform(0.12, 0.3) * width))])
    long = mm * px_per_mm
    if not 20 < long < 0.6 * width:
        return light, {}
    left, low = (
        round(rng.uniform(0.03, 0.95 - long / width) * width),
        round(height * (rng.uniform(0.9, 0.97) if rng.uniform() < 0.75 else 0.09)),
    )
    thick = max(2, round(0.008 * height * rng.uniform(0.4, 2)))
    ink = np.array(
        [[1.0, 1, 1], [0, 0, 0], [0.9, 0.1, 0.1], [1, 0.9, 0.1]][int(rng.choice(4, p=[0.55, 0.25, 0.12, 0.08]))],
        np.float32,
    )
    size = max(9, int(rng.uniform(0.03, 0.055) * height))
    if rng.uniform() < 0.3:
        top = max(0, low - thick - int(1.5 * size))
        light[top : low + int(0.4 * size), max(0, left - 8) : round(left + long) + 8] = (
            1 - ink if ink.mean() in (0, 1) else 0
        )
    cover = np.zeros(width, np.float32)
    edge = left + long
    cover[left : int(edge)] = 1
    cover[int(edge)] = edge - int(edge)
    bar = light[low - thick : low]
    bar += cover[None, :, None] * (ink - bar)
    if rng.uniform() < 0.4:
        for x in (left, round(edge) - 1):
            light[max(0, low - 3 * thick) : low + 2 * thick, x : x + max(1, thick // 2)] = ink
    words = f"{mm:g} mm" if mm >= 1 or rng.uniform() < 0.4 else f"{1000 * mm:g} µm"
    image = Image.new("L", (width, height), 0)
    ImageDraw.Draw(image).text((left, low - thick - 1.35 * size), words, fill=255, font=ImageFont.load_default(size))
    light = _over(light, np.asarray(image, np.float32) / np.float32(255), ink.astype(float))
    # Pixel centres at whole numbers: the bar covers left - 0.5 to left - 0.5 + long.
    ends = [[left - 0.5, low - thick / 2 - 0.5], [left - 0.5 + long, low - thick / 2 - 0.5]]
    return light, {"length_mm": mm, "ends_px": ends, "px_per_mm": px_per_mm}


def _steel_rule(rng: np.random.Generator, light: Array, px_per_mm: float, metal: Array) -> tuple[Array, Found]:
    """A steel rule or printed card at any angle where there is room off the metal; None when there is not."""
    height, width = light.shape[:2]
    inch = rng.uniform() < 0.2
    pitch = 25.4 / 64 if inch else float(rng.choice([0.5, 1.0], p=[0.35, 0.65]))
    pitch = pitch if pitch * px_per_mm > 4 else (25.4 / 32 if inch else 1.0)
    step, band = pitch * px_per_mm, float(rng.uniform(0.1, 0.2)) * height
    if step < 3:
        return light, {}
    turn = float(
        rng.choice([0.0, np.pi / 2, np.pi, 1.5 * np.pi])
        + (rng.normal(0, 0.06) if rng.uniform() < 0.75 else rng.uniform(-0.7, 0.7))
    )
    along, outward = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    half = 0.5 * np.abs(outward) @ [width, height]
    edge = (
        np.array([width, height]) / 2
        + outward * (half - band * rng.uniform(0.75, 1.1))
        + along * rng.normal(0, 0.03) * width
    )
    reach = float(width + height)
    blade = Image.new("L", (width, height), 0)
    corners = [
        edge - along * reach,
        edge + along * reach,
        edge + along * reach + 3 * band * outward,
        edge - along * reach + 3 * band * outward,
    ]
    ImageDraw.Draw(blade).polygon([(float(x), float(y)) for x, y in corners], fill=255)
    cover = gaussian_filter(np.asarray(blade, np.float32) / 255, 0.5)
    if float((cover * metal).sum()) > 0.06 * float(cover.sum()):
        return light, {}
    parts = round(25.4 / pitch) if inch else 0
    ticks = _ticks(rng, (height, width), edge, along, outward, step, band, parts, pitch)
    metal_tone, ink = (
        (rng.uniform(0.5, 0.98), rng.uniform(0, 0.3))
        if rng.uniform() < 0.8
        else (rng.uniform(0, 0.2), rng.uniform(0.7, 1))
    )
    surface = metal_tone * (1 + 0.03 * textures.noise(rng, (height, width), float(rng.uniform(1, 30))))
    rule = surface + ticks * (np.float32(ink) - surface)
    light += cover[..., None] * (rule[..., None] - light)
    return light, {"pitch_mm": pitch, "px_per_mm": px_per_mm, "turn": turn}


def _share(k: int, parts: int, pitch: float) -> float:
    """Length of a graduation as a share of the longest: as steel rules have them."""
    if parts:
        halvings = sum(int(k % (1 << n) == 0) for n in range(1, parts.bit_length()))
        return 0.4 + 0.6 * halvings / (parts.bit_length() - 1)
    whole = round(1 / pitch)
    if k % (10 * whole) == 0:
        return 1.0
    if k % (5 * whole) == 0:
        return 0.73
    return 0.52 if k % whole == 0 else 0.36


def _ticks(
    rng: np.random.Generator, shape: tuple[int, int], edge: NDArray[np.float64], along: NDArray[np.float64],
    outward: NDArray[np.float64], step: float, band: float, parts: int, pitch: float,
) -> Array:  # fmt: skip
    """Graduations drawn finely and brought down, so that their places are true to a small part of a pixel.

    `parts` is how many make an inch, 0 on a rule in millimetres with this `pitch` [mm].
    """
    numbered = parts or round(10 / pitch)
    fine = 3 if shape[0] * shape[1] < 4_000_000 else 1
    image = Image.new("L", (shape[1] * fine, shape[0] * fine), 0)
    draw = ImageDraw.Draw(image)
    reach, first = int((shape[0] + shape[1]) / step) + 1, float(rng.uniform())
    wide = max(1, round(fine * step * float(rng.uniform(0.12, 0.3))))
    font = ImageFont.load_default(max(8, int(fine * 0.28 * band)))
    longest = 0.66 * float(rng.uniform(0.8, 1.1))
    for k in range(-reach, reach):
        p = edge + along * (k + first) * step
        q = p + outward * longest * _share(k, parts, pitch) * band
        draw.line([(float(x + 0.5) * fine, float(y + 0.5) * fine) for x, y in (p, q)], fill=255, width=wide)
        if k % numbered == 0:
            at = (p + outward * 0.72 * band + along * 0.03 * band) * fine
            draw.text((float(at[0]), float(at[1])), str(abs(k // numbered)), fill=255, font=font)
    image = image.resize((shape[1], shape[0]), Image.Resampling.BOX) if fine > 1 else image
    return np.asarray(image, np.float32) / np.float32(255)
