"""Whether a photograph is good enough for what is asked of it, in words with what to do about it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from etchbook.picture.compression import blockiness
from etchbook.picture.records import Picture
from etchbook.picture.reduce import block_mean, grey
from etchbook.picture.sharpness import edge_rise

# What is called too much or too little: planning values of this program, from common practice in photography.
SOFT_PX = 7.0
SOFT_SHARE = 0.5
DARK_LIGHTEST = 0.25
CLIPPED_WHITE = 0.01
FEWEST_PX = 10.0
BLOCKY = 1.35


@dataclass(frozen=True, kw_only=True, slots=True)
class Blemish:
    """One thing that is wrong with a photograph.

    Parameters
    ----------
    kind : soft, dark, glaring, coarse or compressed
    words : what it is and what can be done about it
    value, unit : the number behind it
    """

    kind: str
    words: str
    value: float
    unit: str


def look_over(
    picture: Picture,
    *,
    px_per_mm: float | None = None,
    smallest_mm: float | None = None,
    inside: NDArray[np.bool_] | None = None,
) -> tuple[Blemish, ...]:
    """What is wrong with a photograph.

    Parameters
    ----------
    picture : the photograph
    px_per_mm : scale [px/mm], where it is known
    smallest_mm : smallest dimension that is wanted [mm]
    inside : (height, width) True on the specimen; None looks at the whole picture

    Returns
    -------
    tuple of Blemish, the worst for measuring first
    """
    found = [_coarse(px_per_mm, smallest_mm), _soft(picture, px_per_mm, smallest_mm)]
    small, on = _small(picture, inside)
    found += [_glaring(small, on), _dark(small, on), _compressed(picture)]
    return tuple(blemish for blemish in found if blemish is not None)


def _small(picture: Picture, inside: NDArray[np.bool_] | None) -> tuple[NDArray[np.float32], NDArray[np.bool_]]:
    """Every so manieth pixel: shares need no more, and single clipped pixels must not be averaged away."""
    if inside is not None and inside.shape != (picture.height, picture.width):
        raise ValueError("the mask of the specimen must have the size of the picture")
    stride = max(1, round((picture.width * picture.height / 4e5) ** 0.5))
    small = picture.rgb[::stride, ::stride].astype(np.float32) / np.float32(65535)
    on = np.ones(small.shape[:2], bool) if inside is None else np.asarray(inside[::stride, ::stride], bool)
    return small, on if on.any() else np.ones(small.shape[:2], bool)


def _coarse(px_per_mm: float | None, smallest_mm: float | None) -> Blemish | None:
    if px_per_mm is None or smallest_mm is None or px_per_mm * smallest_mm >= FEWEST_PX:
        return None
    pixels = px_per_mm * smallest_mm
    return Blemish(
        kind="coarse",
        words=f"the picture is too coarse for {smallest_mm:g} mm, which is only {pixels:.1f} pixels in it "
        f"({px_per_mm:.3g} px/mm); go nearer or use a macro lens until 1 mm has at least "
        f"{FEWEST_PX / smallest_mm:.0f} pixels",
        value=pixels,
        unit="px",
    )


def _soft(picture: Picture, px_per_mm: float | None, smallest_mm: float | None) -> Blemish | None:
    rise = edge_rise(picture)
    if rise is None:
        return None
    known = px_per_mm is not None
    too_wide = known and smallest_mm is not None and rise / px_per_mm > SOFT_SHARE * smallest_mm  # type: ignore[operator]
    if rise <= SOFT_PX and not too_wide:
        return None
    microns = f", {1000 * rise / px_per_mm:.0f} µm" if px_per_mm is not None else ""
    return Blemish(
        kind="soft",
        words=f"the picture is soft: its sharpest edges rise over {rise:.1f} pixels (10 to 90 %{microns}); "
        "rest the camera on something, focus on the etched face and photograph again",
        value=rise,
        unit="px",
    )


def _glaring(small: NDArray[np.float32], on: NDArray[np.bool_]) -> Blemish | None:
    share = float((small.max(axis=2) > 0.995)[on].mean())
    if share <= CLIPPED_WHITE:
        return None
    return Blemish(
        kind="glaring",
        words=f"{100 * share:.1f} % of the picture is burnt out to plain white; light it from the side "
        "through tracing paper, turn the specimen until the glare is gone, or expose less",
        value=100 * share,
        unit="%",
    )


def _dark(small: NDArray[np.float32], on: NDArray[np.bool_]) -> Blemish | None:
    light = grey(small)[on]
    # A dark mount is no fault: what counts is the lightest part of the picture.
    lighter = float(np.quantile(light, 0.95))
    if lighter >= DARK_LIGHTEST:
        return None
    return Blemish(
        kind="dark",
        words=f"the picture is dark: nearly all of it lies below {100 * lighter:.0f} % of full light; "
        "use more light or a longer exposure",
        value=100 * lighter,
        unit="%",
    )


def _compressed(picture: Picture) -> Blemish | None:
    strength = blockiness(grey(block_mean(picture.rgb[: 8 * 128, : 8 * 128], 1)))
    if strength <= BLOCKY:
        return None
    return Blemish(
        kind="compressed",
        words=f"the picture was compressed strongly: steps at the borders of its 8-pixel blocks are {strength:.1f} "
        "times those inside them; send the camera's original file, not a copy from a messenger",
        value=strength,
        unit="",
    )
