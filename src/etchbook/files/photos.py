"""Photographs from disk, made pictures."""

import hashlib
import io
import warnings
from pathlib import Path
from typing import TYPE_CHECKING

from etchbook.files.errors import InputError
from etchbook.files.kinds import kind_of
from etchbook.files.pixels import pixels_of
from etchbook.files.reading import read_bytes
from etchbook.picture import Picture
from etchbook.picture.door import make_picture

if TYPE_CHECKING:
    from PIL import Image

MOST_PIXELS = 120_000_000
SMALLEST_SIDE = 64
PILLOW_NAMES = {"jpeg": ("JPEG", "MPO"), "png": ("PNG",), "tiff": ("TIFF",)}
ORIENTATION = 0x0112
DNG_VERSION = 0xC612


def load_photo(path: Path | str) -> Picture:
    """The photograph at a path.

    Parameters
    ----------
    path : JPEG (also the several-picture files of phones), PNG, TIFF or HEIC

    Returns
    -------
    Picture
        sRGB, 16 bit, turned as the camera noted, exactly once. Where it was taken is not kept.
    """
    path = Path(path)
    return picture_from(read_bytes(path), path.name)


def picture_from(data: bytes, name: str) -> Picture:
    """The same for bytes already read."""
    kind = kind_of(data, name)
    with warnings.catch_warnings():
        # The size is checked here, before anything is decoded; the decoder's own words would go astray.
        warnings.simplefilter("ignore")
        image = _opened(data, name, kind)
        _check_size(image, name)
        _decode(image, name)
        array, notes = pixels_of(image, data, name, kind)
        orientation = 1 if kind == "heic" else int(image.getexif().get(ORIENTATION, 1) or 1)
    digest = hashlib.sha256(data).hexdigest()
    turn = _turned_already(image, kind)
    del image  # the decoder's own copy is as large again as the picture
    return make_picture(array, orientation=orientation, name=name, sha256=digest, notes=(*notes, *turn))


def _opened(data: bytes, name: str, kind: str) -> "Image.Image":
    from PIL import Image, UnidentifiedImageError

    try:
        if kind == "heic":
            return _opened_heic(data)
        return Image.open(io.BytesIO(data), formats=PILLOW_NAMES[kind])
    except Image.DecompressionBombError:
        raise InputError(_too_large(name, "more than 178")) from None
    except UnidentifiedImageError:
        raise InputError(_damaged(name)) from None
    except MemoryError:
        raise InputError(_no_memory(name)) from None
    except Exception:  # decoders raise whatever they like on broken files
        raise InputError(_damaged(name)) from None


def _opened_heic(data: bytes) -> "Image.Image":
    import pi_heif  # 40 ms, wanted only for these files

    return pi_heif.HeifImageFile(io.BytesIO(data))  # type: ignore[no-any-return]


def _check_size(image: "Image.Image", name: str) -> None:
    width, height = image.size
    if width * height > MOST_PIXELS:
        raise InputError(_too_large(name, f"{width * height / 1e6:.0f}"))
    if min(width, height) < SMALLEST_SIDE:
        raise InputError(
            f"{name} is only {width} x {height} pixels, too small to read a section on; "
            f"take a photograph with sides of at least {SMALLEST_SIDE} pixels, better 2000"
        )
    if DNG_VERSION in getattr(image, "tag_v2", {}):
        raise InputError(f"{name} is a raw camera file; develop it and save it as JPEG, PNG, TIFF or HEIC")


def _decode(image: "Image.Image", name: str) -> None:
    try:
        image.load()
    except MemoryError:
        raise InputError(_no_memory(name)) from None
    except Exception:
        raise InputError(_damaged(name)) from None


def _turned_already(image: "Image.Image", kind: str) -> tuple[str, ...]:
    turned = image.info.get("original_orientation") if kind == "heic" else None
    return ("turned as the camera noted",) if turned not in (None, 1) else ()


def _too_large(name: str, megapixels: str) -> str:
    return f"{name} has {megapixels} megapixels, above the {MOST_PIXELS // 1_000_000} read here; save a smaller copy"


def _damaged(name: str) -> str:
    return f"{name} is cut short or damaged; copy it again from the camera, or save it anew as JPEG"


def _no_memory(name: str) -> str:
    return f"{name} does not fit into this machine's memory; save a smaller copy"
