"""What a file is by its first bytes, whatever its name says."""

from dataclasses import dataclass

from etchbook.files.errors import InputError

ADVICE = "save it as JPEG, PNG, TIFF or HEIC"
HEIF_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
RAW_ENDINGS = (".dng", ".nef", ".arw", ".cr2", ".cr3", ".orf", ".rw2", ".pef", ".raf")


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """A file type that is not read: how its bytes begin and what it is called."""

    start: bytes
    called: str


STRANGERS = (
    Kind(start=b"GIF8", called="a GIF picture"),
    Kind(start=b"BM", called="a BMP picture"),
    Kind(start=b"%PDF", called="a PDF document"),
    Kind(start=b"PK\x03\x04", called="a ZIP archive or office document"),
    Kind(start=b"8BPS", called="a layered picture of a drawing program"),
    Kind(start=b"\x00\x00\x00\x0cJXL ", called="a JPEG XL picture"),
    Kind(start=b"\xff\x0a", called="a JPEG XL picture"),
    Kind(start=b"\x00\x00\x00\x0cjP", called="a JPEG 2000 picture"),
    Kind(start=b"\x1f\x8b", called="a compressed archive"),
)


def kind_of(data: bytes, name: str) -> str:
    """``"jpeg"``, ``"png"``, ``"tiff"`` or ``"heic"``; anything else is refused with what it seems to be."""
    if not data:
        raise InputError(f"{name} is empty; copy the photograph again from the camera")
    if name.lower().endswith(RAW_ENDINGS):
        raise InputError(f"{name} is a raw camera file; develop it and {ADVICE}")
    if data[:3] == b"\xff\xd8\xff":
        return "jpeg"
    if data[:8] == b"\x89PNG\r\n\x1a\n":
        return "png"
    if data[:4] in (b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+"):
        return "tiff"
    if data[4:8] == b"ftyp":
        return _boxed(data, name)
    raise InputError(f"{name} is {_stranger(data)}; {ADVICE}")


def _boxed(data: bytes, name: str) -> str:
    size = int.from_bytes(data[:4], "big")
    brands = data[8 : min(max(size, 16), 256)]
    if any(brand in brands for brand in (b"avif", b"avis")):
        raise InputError(f"{name} is an AVIF picture; {ADVICE}")
    if any(brand in brands for brand in HEIF_BRANDS):
        return "heic"
    raise InputError(f"{name} is a film or another file that is not a photograph; take a photograph and {ADVICE}")


def _stranger(data: bytes) -> str:
    for kind in STRANGERS:
        if data.startswith(kind.start):
            return kind.called
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "a WebP picture"
    head = data[:4096].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if b"<svg" in head:
        return "an SVG drawing, which has no pixels to measure on"
    if head.startswith((b"<!doctype html", b"<html")):
        return "a web page"
    return "not a picture that can be read here"
