"""The place is taken out of photographs, and nothing else: pixels and every other tag stay."""

import io
import struct

import numpy as np
import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from etchbook.files import OutputError, without_location
from etchbook.files.location import names_place

GPS, MAKE, ORIENTATION, DATE = 0x8825, 0x010F, 0x0112, 0x0132
XMP = (
    b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF><rdf:Description exif:GPSLatitude="51,30.0N" '
    b'exif:GPSLongitude="0,7.0W"/></rdf:RDF></x:xmpmeta>'
)


def pixels() -> Image.Image:
    return Image.fromarray(np.random.default_rng(1).integers(0, 255, (40, 60, 3), dtype=np.uint8))


def tags(*, place: bool) -> Image.Exif:
    exif = Image.Exif()
    exif[MAKE], exif[ORIENTATION], exif[DATE] = "camera of no make", 6, "2026:03:14 09:30:00"
    if place:
        exif.get_ifd(GPS).update({1: "N", 2: (51.0, 30.0, 26.5), 3: "W", 4: (0.0, 7.0, 39.9), 29: "2026:03:14"})
    return exif


def saved(kind: str, *, place: bool = True, **more: object) -> bytes:
    out = io.BytesIO()
    pixels().save(out, kind, exif=tags(place=place), **more)  # type: ignore[arg-type]
    return out.getvalue()


def plain_tiff() -> bytes:
    """A grey TIFF of 3 x 2 pixels by hand, its location table behind the pixels."""
    rows = [(256, 3, 3), (257, 3, 2), (258, 3, 8), (259, 3, 1), (262, 3, 1), (273, 4, 8), (277, 3, 1), (278, 3, 2),
            (279, 4, 6), (GPS, 4, 16)]  # fmt: skip
    table = struct.pack("<H", len(rows)) + b"".join(struct.pack("<HHII", tag, kind, 1, v) for tag, kind, v in rows)
    place = struct.pack("<HHHI4sI", 1, 1, 2, 2, b"N\x00\x00\x00", 0)
    assert len(place) == 18
    return b"II*\x00" + struct.pack("<I", 16 + 18) + bytes(range(10, 16)) + b"\x00\x00" + place + table + bytes(4)


def test_a_tiff_loses_its_place_too() -> None:
    before = plain_tiff()
    assert names_place(before)
    after = without_location(before, "p")
    assert not names_place(after) and len(after) == len(before)
    with Image.open(io.BytesIO(after)) as image:
        assert np.asarray(image).tolist() == [[10, 11, 12], [13, 14, 15]]


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_the_place_goes_and_all_else_stays(kind: str) -> None:
    before = saved(kind)
    assert names_place(before)
    after = without_location(before, "p")
    assert not names_place(after) and len(after) == len(before)
    with Image.open(io.BytesIO(before)) as old, Image.open(io.BytesIO(after)) as new:
        new.load()
        assert np.array_equal(np.asarray(old), np.asarray(new))
        kept = new.getexif()
        assert {tag: kept[tag] for tag in (MAKE, ORIENTATION, DATE)} == {
            MAKE: "camera of no make", ORIENTATION: 6, DATE: "2026:03:14 09:30:00",
        }  # fmt: skip
        assert GPS not in kept
    assert struct.pack("<II", 2650, 100) not in after and b"2026:03:14\x00" not in after.replace(b"2026:03:14 09", b"")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF"])
def test_a_photograph_without_a_place_is_left_to_the_byte(kind: str) -> None:
    data = saved(kind, place=False)
    assert without_location(data, "p") == data


def test_heic_loses_its_place() -> None:
    heif = pytest.importorskip("pillow_heif")
    out = io.BytesIO()
    heif.from_pillow(pixels()).save(out, exif=tags(place=True).tobytes(), quality=80)
    before = out.getvalue()
    after = without_location(before, "p")
    assert len(after) == len(before) and after != before

    def place(data: bytes) -> dict[int, object]:
        exif = Image.Exif()
        exif.load(heif.open_heif(io.BytesIO(data)).info["exif"])
        return dict(exif.get_ifd(GPS))

    assert place(before) and not place(after)
    assert np.array_equal(np.asarray(heif.open_heif(io.BytesIO(before))), np.asarray(heif.open_heif(io.BytesIO(after))))


def test_packets_that_name_a_place_are_blanked() -> None:
    data = saved("JPEG", place=False, xmp=XMP)
    after = without_location(data, "p")
    assert b"GPSLatitude" in data and b"GPSLatitude" not in after and len(after) == len(data)
    plain = saved(
        "JPEG", place=False, xmp=XMP.replace(b"exif:GPSLatitude", b"a:Mood").replace(b"exif:GPSLongitude", b"a:Tone")
    )
    assert without_location(plain, "p") == plain


def test_press_entries_that_name_a_place_are_blanked() -> None:
    entries = b"".join(struct.pack(">BBBH", 0x1C, 2, number, len(text)) + text
                       for number, text in ((5, b"Title"), (90, b"Town"), (101, b"Land")))  # fmt: skip
    block = (
        b"Photoshop 3.0\x008BIM\x04\x04\x00\x00"
        + struct.pack(">I", len(entries))
        + entries
        + b"\x00" * (len(entries) % 2)
    )
    jpeg = saved("JPEG", place=False)
    data = jpeg[:2] + b"\xff\xed" + struct.pack(">H", len(block) + 2) + block + jpeg[2:]
    after = without_location(data, "p")
    assert b"Title" in after and b"Town" not in after and b"Land" not in after and len(after) == len(data)
    with Image.open(io.BytesIO(after)) as image:
        image.load()


def test_a_packed_copy_in_a_png_goes() -> None:
    notes = PngInfo()
    notes.add_text("Raw profile type exif", "GPS and all that", zip=True)
    out = io.BytesIO()
    pixels().save(out, "PNG", pnginfo=notes)
    after = without_location(out.getvalue(), "p")
    with Image.open(io.BytesIO(after)) as image:
        assert "Raw profile type exif" not in image.info
        assert np.array_equal(np.asarray(image), np.asarray(pixels()))


def test_what_cannot_be_cleaned_does_not_leave(monkeypatch: pytest.MonkeyPatch) -> None:
    import etchbook.files.location as location

    monkeypatch.setattr(location, "_empty_tables", lambda held: True)
    with pytest.raises(OutputError, match="could not be taken out"):
        without_location(saved("JPEG"), "p.jpg")


@pytest.mark.parametrize(
    "data", [b"", b"\x89PNG\r\n\x1a\n", b"II*\x00", b"MM\x00*\x00\x00\x00\x08\xff\xff", b"8BIM\x04\x04"]
)
def test_scraps_do_no_harm(data: bytes) -> None:
    assert without_location(data, "p") == data
