"""What the camera does to the light: shading, glare, blur, noise, sharpening, compression."""

import io

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter, median_filter, uniform_filter1d

from etchbook.simulate.raster import enlarged
from etchbook.simulate.textures import layered

Array = NDArray[np.float32]


def lit(rng: np.random.Generator, light: Array, level: float) -> Array:
    """Uneven light: a slope, darker corners, spots of glare, cloudy reflections."""
    height, width = light.shape[:2]
    step = max(1.0, max(height, width) / 160)
    rows, columns = int(height / step) + 2, int(width / step) + 2
    y, x = np.mgrid[0:rows, 0:columns] * step
    y, x = y / height - 0.5, x / width - 0.5
    way = rng.uniform(0, 2 * np.pi)
    shade = 1 + rng.uniform(0, 0.9) * level * (x * np.cos(way) + y * np.sin(way))
    shade *= 1 - rng.uniform(0, 0.9) * level * (x**2 + y**2)
    glare = np.zeros_like(shade)
    for _ in range(int(rng.integers(1, 4)) if rng.uniform() < 0.6 * level else 0):
        cx, cy, size = rng.uniform(-0.5, 0.5), rng.uniform(-0.5, 0.5), rng.uniform(0.02, 0.25)
        stretch = rng.uniform(0.4, 1.0)
        glare += (
            rng.uniform(0.05, 0.5)
            * level
            * np.exp(-((x - cx) ** 2 / (2 * size**2) + (y - cy) ** 2 / (2 * (stretch * size) ** 2)))
        )
    if rng.uniform() < 0.25 * level:
        shade *= 1 + 0.12 * level * layered(rng, (rows, columns), 0.3 * rows)
    shape = (height, width)
    light *= enlarged(shade.astype(np.float32), shape, step)[..., None]
    if glare.any():
        light += enlarged(glare.astype(np.float32), shape, step)[..., None]
    return light


def blurred(rng: np.random.Generator, light: Array, sigma: float, level: float) -> Array:
    """Out of focus, more so to one side, a little motion."""
    soft = np.stack([gaussian_filter(light[..., k], sigma) for k in range(3)], axis=2)
    if rng.uniform() < 0.12 * level:
        far = np.stack([gaussian_filter(light[..., k], 2.2 * sigma + 0.5) for k in range(3)], axis=2)
        ramp = np.linspace(0, 1, light.shape[1], dtype=np.float32)[None, :, None]
        soft = soft + (ramp if rng.uniform() < 0.5 else ramp[:, ::-1]) * (far - soft)
    if rng.uniform() < 0.15 * level:
        soft = uniform_filter1d(soft, int(rng.integers(2, 5)), axis=int(rng.integers(2)))
    return np.asarray(soft, np.float32)


def sensed(rng: np.random.Generator, light: Array, level: float) -> NDArray[np.uint8]:
    """Exposure, white balance, tone, shot and read noise, denoising and sharpening; 8 bit."""
    gain = rng.uniform(1 - 0.4 * level, 1 + 0.3 * level) * np.exp(rng.normal(0, 0.015 + 0.05 * level, 3))
    light = np.clip(light * gain.astype(np.float32), 0, 1.25)
    light **= np.float32(np.exp(rng.normal(0, 0.22)))
    if rng.uniform() < 0.2:
        light = light.mean(axis=2, keepdims=True).repeat(3, axis=2)
    size = np.float32(np.exp(rng.uniform(np.log(0.0015), np.log(0.008 + 0.05 * level))))
    shared = rng.standard_normal(light.shape[:2], np.float32)[..., None]
    for k in range(3):
        own = rng.standard_normal(light.shape[:2], np.float32)
        strength = size * (0.4 + 0.8 * np.sqrt(np.clip(light[..., k], 0, 1)))
        light[..., k] += strength * (0.75 * shared[..., 0] + 0.65 * own)
    light = _phone(rng, light, level)
    if rng.uniform() < 0.5:
        light = 0.5 + (light - 0.5) * np.float32(rng.uniform(0.8, 1.3))
    return np.asarray(np.clip(light, 0, 1) * 255 + 0.5, np.uint8)


def _phone(rng: np.random.Generator, light: Array, level: float) -> Array:
    """Smoothing and sharpening as a phone does them, with a halo at edges."""
    lot = rng.uniform()
    if lot < 0.12:
        light = np.stack([median_filter(light[..., k], 3) for k in range(3)], axis=2)
    if 0.08 < lot < 0.4:
        soft = np.stack([gaussian_filter(light[..., k], 0.7) for k in range(3)], axis=2)
        wide = np.stack([gaussian_filter(soft[..., k], float(rng.uniform(1.2, 2.5))) for k in range(3)], axis=2)
        light = soft + np.float32(rng.uniform(0.2, 0.6 + 0.7 * level)) * (soft - wide)
    return light


def resized(rng: np.random.Generator, pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Sent through a smaller size and back, as chats and office programs do."""
    image = Image.fromarray(pixels)
    share = rng.uniform(0.45, 0.9)
    small = image.resize(
        (max(32, int(image.width * share)), max(32, int(image.height * share))), Image.Resampling.BICUBIC
    )
    return np.asarray(small.resize(image.size, Image.Resampling.BICUBIC))


def compressed(pixels: NDArray[np.uint8], quality: int) -> NDArray[np.uint8]:
    """Through JPEG and back, in memory."""
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "JPEG", quality=quality)
    return np.asarray(Image.open(held).convert("RGB"))
