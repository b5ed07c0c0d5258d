"""Rules painted by plain geometry, so that their scale is known exactly; nothing of the package is used but Picture."""

from collections.abc import Callable

import numpy as np
from scipy import ndimage

from etchbook.picture import Picture


def millimetres(k: int) -> int:
    return 3 if k % 10 == 0 else 2 if k % 5 == 0 else 1


def half_millimetres(k: int) -> int:
    return 4 if k % 20 == 0 else 3 if k % 10 == 0 else 2 if k % 2 == 0 else 1


def halved_inch(k: int) -> int:
    return 1 + sum(k % part == 0 for part in (2, 4, 8, 16, 32, 64))


def all_alike(_: int) -> int:
    return 1


def painted_rule(
    kind: Callable[[int], int],
    pitch: float,
    angle: float = 0.0,
    *,
    size: tuple[int, int] = (1300, 900),
    ink: float = 0.15,
    metal: float = 0.7,
    base: float = 2.5,
    more: float = 1.0,
    blur: float = 0.8,
    noise: float = 0.01,
    tilt: float = 0.0,
    shift: float = 0.3,
    seed: int = 0,
) -> Picture:
    """A rule across the middle of a cloudy picture.

    pitch : graduations' step [px] at the middle of the picture; base, more : length of the plainest graduation
    and of every rank above it [pitches]; tilt : change of scale along the rule, relative, a pixel.
    """
    width, height = size
    rng = np.random.default_rng(seed)
    y, x = np.mgrid[:height, :width].astype(float)
    turn = np.deg2rad(angle)
    dx, dy = x - (width - 1) / 2, y - (height - 1) / 2
    nearness = 1 + 0.5 * tilt * (dx * np.cos(turn) + dy * np.sin(turn))
    along = (dx * np.cos(turn) + dy * np.sin(turn)) / nearness
    down = (-dx * np.sin(turn) + dy * np.cos(turn)) / nearness
    number = np.rint(along / pitch - shift).astype(int)
    ranks = np.array([kind(k) for k in range(-2000, 2000)])
    length = (base + more * (ranks[number + 2000] - 1)) * pitch
    thick = max(0.15 * pitch, 1.0)
    away = np.abs(along - (number + shift) * pitch)
    drawn = np.clip(thick / 2 + 0.5 - away, 0, 1) * np.clip(down + 0.5, 0, 1) * np.clip(length - down + 0.5, 0, 1)
    plate = np.clip(down + 0.6 * pitch, 0, 1) * np.clip(max(8, base + 8 * more) * pitch - down, 0, 1)
    clouds = 0.35 + 0.6 * ndimage.gaussian_filter(rng.normal(size=(height, width)), 3)
    light = clouds * (1 - plate) + plate * (metal * (1 - drawn) + ink * drawn)
    light = ndimage.gaussian_filter(light, blur) + rng.normal(size=light.shape) * noise
    grey = np.rint(np.clip(light, 0, 1) * 65535).astype(np.uint16)
    return Picture(rgb=np.repeat(grey[..., None], 3, axis=2))
