"""The pixels of an opened photograph as one array, at full depth and in sRGB."""

import io
import sys
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from etchbook.files.errors import InputError

if TYPE_CHECKING:
    from PIL import Image

Pixels = tuple[NDArray[np.generic], list[str]]
GREY_16 = ("I;16", "I;16B", "I;16L", "I;16N")
PLAIN = ("L", "RGB", "RGBA")


def pixels_of(image: "Image.Image", data: bytes, name: str, kind: str) -> Pixels:
    """(h, w), (h, w, 3) or (h, w, 4) of 8 or 16 bits, not turned beyond what the decoder did, and notes.

    Parameters
    ----------
    image : opened and loaded
    data : the file's bytes, for a second look where the decoder drops half of 16 bits
    """
    notes = _frames(image)
    if kind == "jpeg":
        notes += _jpeg_quality(image)
    if image.mode in GREY_16:
        return np.asarray(image).astype(np.uint16, copy=False), [*notes, "16 bits grey"]
    if image.mode in ("I", "F"):
        return _whole_numbers(image, name), [*notes, "16 bits grey"]
    deep = kind in ("png", "tiff") and _raw_mode(_reopened(data)).find(";16") > 0
    foreign = _foreign_profile(image)
    if deep and foreign is None and image.mode in ("RGB", "RGBA") and not _raw_mode(_reopened(data)).startswith("LA"):
        return _both_halves(image, data), [*notes, "16 bits colour"]
    if deep:
        notes.append("16 bits brought down to 8")
    return _plain(image, foreign, notes)


def _reopened(data: bytes) -> "Image.Image":
    from PIL import Image

    return Image.open(io.BytesIO(data), formats=("PNG", "TIFF"))


def _raw_mode(image: "Image.Image") -> str:
    """How the samples lie in the file, in the decoder's own words."""
    tiles = getattr(image, "tile", [])
    args = tiles[0][3] if tiles else ""
    return str(args if isinstance(args, str) else args[0])


def _both_halves(image: "Image.Image", data: bytes) -> NDArray[np.uint16]:
    """16-bit colour: the decoder keeps one byte of two, so it is asked a second time for the other."""
    again = _reopened(data)
    again.tile = [tile._replace(args=_other_half(tile[3])) for tile in again.tile]  # type: ignore[attr-defined]
    deep = np.asarray(image).astype(np.uint16)
    deep <<= 8
    deep |= np.asarray(again)
    return deep


def _other_half(args: str | tuple[object, ...]) -> str | tuple[object, ...]:
    if not isinstance(args, str):
        return (_other_half(str(args[0])), *args[1:])
    stem, _, order = args.partition(";16")
    big = order == "B" or (order == "N" and sys.byteorder == "big")
    return f"{stem};16{'L' if big else 'B'}"


def _whole_numbers(image: "Image.Image", name: str) -> NDArray[np.uint16]:
    values = np.asarray(image)
    if image.mode == "F" or values.min() < 0 or values.max() > 65535:
        raise InputError(f"{name} holds numbers that are not 8 or 16 bit light; save it as an 8 or 16 bit picture")
    return values.astype(np.uint16)


def _frames(image: "Image.Image") -> list[str]:
    count = int(getattr(image, "n_frames", 1) or 1)
    return [f"the file holds {count} pictures, the first was read"] if count > 1 else []


def _jpeg_quality(image: "Image.Image") -> list[str]:
    """About how hard a JPEG was pressed, from its table of steps."""
    tables = getattr(image, "quantization", None)
    if not tables:
        return []
    steps = float(np.mean(next(iter(tables.values()))))
    # The mean of the luminance table of ITU-T T.81 annex K.1 is 57.6 at quality 50 (from memory).
    percent = 100 * steps / 57.625
    quality = 100 - percent / 2 if percent <= 100 else 5000 / percent
    return [f"strong compression: JPEG quality about {quality:.0f}"] if quality < 80 else []


def _foreign_profile(image: "Image.Image") -> bytes | None:
    """The colour profile, when there is one that is not sRGB."""
    profile = image.info.get("icc_profile")
    if not profile or image.mode in ("L", "LA", "1", "I;16"):
        return None
    return None if b"sRGB" in profile[:4096] or b"s\x00R\x00G\x00B" in profile[:4096] else bytes(profile)


def _plain(image: "Image.Image", foreign: bytes | None, notes: list[str]) -> Pixels:
    if foreign is not None:
        converted = _to_srgb(image, foreign)
        if converted is not None:
            return np.asarray(converted[0]), [*notes, converted[1]]
        notes = [*notes, "the colour profile in the file could not be used; colours were taken as sRGB"]
    if image.mode == "CMYK":
        notes = [*notes, "printing colours (CMYK) were turned into sRGB"]
    return np.asarray(_simple(image)), notes


def _simple(image: "Image.Image") -> "Image.Image":
    """Palettes, printing colours and bits as grey, RGB or RGBA."""
    if image.mode in PLAIN:
        return image
    see_through = image.mode in ("LA", "La", "PA", "RGBa") or "transparency" in image.info
    return image.convert("RGBA" if see_through else "L" if image.mode == "1" else "RGB")


def _to_srgb(image: "Image.Image", profile: bytes) -> tuple["Image.Image", str] | None:
    from PIL import Image, ImageCms

    source = image if image.mode in ("RGB", "CMYK") else _simple(image)
    opacity = source.getchannel("A") if source.mode == "RGBA" else None
    try:
        here = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        name = ImageCms.getProfileDescription(here).strip()
        base = source.convert("RGB") if opacity is not None else source
        made = ImageCms.profileToProfile(base, here, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None
    if made is None:
        return None
    if opacity is not None and opacity.getextrema() != (255, 255):
        made = Image.merge("RGBA", (*made.split(), opacity))
    return made, f"colours converted from {name or 'the profile in the file'} to sRGB"
