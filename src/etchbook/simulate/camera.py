"""What the camera does to the light: shading, glare, blur, noise, sharpening, compression."""

import io

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter, uniform_filter1d

Array = NDArray[np.float32]


def lit(rng: np.random.Generator, light: Array, level: float) -> Array:
    """Uneven light: a slope, darker corners, spots of glare."""
    height, width = light.shape[:2]
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    y, x = y / height - 0.5, x / width - 0.5
    way = rng.uniform(0, 2 * np.pi)
    shade = 1 + rng.uniform(0, 0.9) * level * (x * np.cos(way) + y * np.sin(way)) * 2 * 0.5
    shade *= 1 - rng.uniform(0, 0.8) * level * (x**2 + y**2)
    for _ in range(int(rng.integers(0, 3)) if rng.uniform() < level else 0):
        cx, cy, size = rng.uniform(-0.5, 0.5), rng.uniform(-0.5, 0.5), rng.uniform(0.04, 0.3)
        shade += rng.uniform(0.1, 0.6) * level * np.exp(-(((x - cx) ** 2 + (y - cy) ** 2) / (2 * size**2)))
    return np.asarray(light * shade[..., None], np.float32)


def blurred(rng: np.random.Generator, light: Array, sigma: float, level: float) -> Array:
    """Out of focus, a little motion."""
    out = np.stack([gaussian_filter(light[..., k], sigma) for k in range(3)], axis=2)
    if rng.uniform() < 0.25 * level:
        out = uniform_filter1d(out, int(rng.integers(2, 4)), axis=int(rng.integers(2)))
    return np.asarray(out, np.float32)


def sensed(rng: np.random.Generator, light: Array, level: float) -> Array:
    """Exposure, white balance, tone, shot and read noise, denoising and sharpening; 8 bit."""
    light = light * rng.uniform(1 - 0.35 * level, 1 + 0.25 * level)
    light = light * np.exp(rng.normal(0, 0.05 + 0.08 * level, 3))
    light = np.clip(light, 0, 1.2) ** np.exp(rng.normal(0, 0.2))
    if rng.uniform() < 0.2:
        light = light.mean(axis=2, keepdims=True).repeat(3, axis=2)
    size = rng.uniform(0.002, 0.012 + 0.045 * level)
    shared = rng.standard_normal(light.shape[:2], np.float32)[..., None]
    own = rng.standard_normal(light.shape, np.float32)
    light = light + size * (0.4 + 0.8 * np.sqrt(np.clip(light, 0, 1))) * (0.7 * shared + 0.7 * own)
    if rng.uniform() < 0.35:
        soft = np.stack([gaussian_filter(light[..., k], 0.8) for k in range(3)], axis=2)
        wide = np.stack([gaussian_filter(soft[..., k], 1.6) for k in range(3)], axis=2)
        light = soft + rng.uniform(0.2, 1.0) * (soft - wide)
    return np.asarray(np.clip(light, 0, 1) * 255 + 0.5, np.uint8)


def compressed(pixels: NDArray[np.uint8], quality: int) -> NDArray[np.uint8]:
    """Through JPEG and back, in memory."""
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "JPEG", quality=quality)
    return np.asarray(Image.open(held).convert("RGB"))
