"""Photographs in every format, depth, turn and state of damage."""

import hashlib
import io
import struct
import zlib
from pathlib import Path

import numpy as np
import pillow_heif
import pytest
import tifffile
from PIL import Image, ImageCms

from etchbook.files import InputError, load_photo, picture_from

REAL = Path(__file__).parents[2] / "pictures_real"


def corner_picture() -> np.ndarray:
    """80 x 120, red in the top left quarter, green top right, blue bottom left, white bottom right."""
    array = np.full((80, 120, 3), 255, np.uint8)
    array[:40, :60] = (230, 20, 20)
    array[:40, 60:] = (20, 230, 20)
    array[40:, :60] = (20, 20, 230)
    return array


def saved(image: Image.Image, form: str, **extra: object) -> bytes:
    out = io.BytesIO()
    image.save(out, form, **extra)
    return out.getvalue()


def with_orientation(number: int) -> Image.Exif:
    exif = Image.Exif()
    exif[0x0112] = number
    return exif


def png_16(array: np.ndarray) -> bytes:
    """A 16-bit PNG written by hand, since the usual writers only know 8 bits in colour."""
    height, width, channels = array.shape
    rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in array)

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    colour = {1: 0, 2: 4, 3: 2, 4: 6}[channels]
    head = struct.pack(">IIBBBBB", width, height, 16, colour, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def ramp_16(channels: int) -> np.ndarray:
    return (np.arange(70 * 90 * channels).reshape(70, 90, channels) * 10007 % 65536).astype(np.uint16)


def corners(picture) -> list[str]:
    """Which colour rules in each quarter: top left, top right, bottom left, bottom right."""
    names = []
    height, width = picture.rgb.shape[:2]
    for y in (height // 4, 3 * height // 4):
        for x in (width // 4, 3 * width // 4):
            bright = picture.rgb[y, x] > 32768
            names.append("white" if bright.all() else ["red", "green", "blue"][int(np.argmax(bright))])
    return names


UPRIGHT = ["red", "green", "blue", "white"]
# What a viewer sees when the camera wrote orientation n (Exif 2.32, tag 0x0112): the row 0 / column 0 sides.
SEEN = {
    1: ["red", "green", "blue", "white"],
    2: ["green", "red", "white", "blue"],
    3: ["white", "blue", "green", "red"],
    4: ["blue", "white", "red", "green"],
    5: ["red", "blue", "green", "white"],
    6: ["blue", "red", "white", "green"],
    7: ["white", "green", "blue", "red"],
    8: ["green", "white", "red", "blue"],
}


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF"])
def test_the_cameras_turn_is_applied_exactly_once(form, orientation):
    extra = {"quality": 95} if form == "JPEG" else {}
    data = saved(Image.fromarray(corner_picture()), form, exif=with_orientation(orientation), **extra)
    picture = picture_from(data, f"photo.{form.lower()}")
    assert corners(picture) == SEEN[orientation]
    assert (picture.width, picture.height) == ((80, 120) if orientation >= 5 else (120, 80))


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_a_heic_is_turned_once_although_its_decoder_turns_it_already(orientation):
    out = io.BytesIO()
    heif = pillow_heif.from_pillow(Image.fromarray(corner_picture()))
    heif.save(out, quality=90, exif=with_orientation(orientation).tobytes())
    picture = picture_from(out.getvalue(), "phone.heic")
    assert corners(picture) == SEEN[orientation]
    assert (picture.width, picture.height) == ((80, 120) if orientation >= 5 else (120, 80))


def test_several_pictures_in_one_phone_file_give_the_first():
    first, second = Image.fromarray(corner_picture()), Image.new("RGB", (120, 80), (0, 0, 0))
    out = io.BytesIO()
    first.save(out, "MPO", save_all=True, append_images=[second])
    picture = picture_from(out.getvalue(), "burst.jpg")
    assert corners(picture) == UPRIGHT
    assert any("2 pictures" in note for note in picture.notes)


def test_eight_bits_are_stretched_so_that_white_stays_white():
    data = saved(Image.fromarray(corner_picture()), "PNG")
    picture = picture_from(data, "a.png")
    assert picture.rgb.dtype == np.uint16
    assert np.array_equal(picture.rgb, corner_picture().astype(np.uint16) * 257)
    assert picture.sha256 == hashlib.sha256(data).hexdigest()
    assert picture.name == "a.png"


@pytest.mark.parametrize("channels", [1, 3])
def test_sixteen_bit_png_is_kept_whole(channels):
    array = ramp_16(channels)
    assert np.array_equal(picture_from(png_16(array), "deep.png").rgb, np.broadcast_to(array, (70, 90, 3)))


def test_sixteen_bit_png_with_full_opacity_is_kept_whole():
    array = ramp_16(4)
    array[..., 3] = 65535
    assert np.array_equal(picture_from(png_16(array), "deep.png").rgb, array[..., :3])


def test_sixteen_bit_grey_png_with_opacity_says_that_it_was_brought_down():
    picture = picture_from(png_16(np.full((70, 90, 2), 65535, np.uint16)), "deep.png")
    assert picture.rgb.min() == 65535
    assert "16 bits brought down to 8" in picture.notes


@pytest.mark.parametrize("byteorder", ["<", ">"])
@pytest.mark.parametrize("compression", [None, "zlib"])
@pytest.mark.parametrize("channels", [1, 3])
def test_sixteen_bit_tiff_is_kept_whole(tmp_path, byteorder, compression, channels):
    array = ramp_16(channels)
    path = tmp_path / "deep.tif"
    content = array[..., 0] if channels == 1 else array
    photometric = "minisblack" if channels == 1 else "rgb"
    tifffile.imwrite(path, content, byteorder=byteorder, compression=compression, photometric=photometric)
    assert np.array_equal(load_photo(path).rgb, np.broadcast_to(array, (70, 90, 3)))


@pytest.mark.parametrize("mode", ["L", "P", "1", "LA", "RGBA", "CMYK"])
def test_every_common_mode_gives_its_light(mode):
    grey = Image.new("L", (80, 70), 0)
    grey.paste(255, (40, 0, 80, 70))
    image = grey.convert("RGB").convert("CMYK") if mode == "CMYK" else grey.convert(mode)
    picture = picture_from(saved(image, "TIFF"), "a.tif")
    assert picture.rgb[35, 10].max() < 2000
    assert picture.rgb[35, 70].min() > 63000


def test_what_is_transparent_lies_on_white():
    image = Image.new("RGBA", (80, 70), (0, 0, 0, 0))
    image.paste((0, 0, 0, 255), (0, 0, 40, 70))
    picture = picture_from(saved(image, "PNG"), "a.png")
    assert picture.rgb[10, 10].max() == 0
    assert picture.rgb[10, 70].min() == 65535
    assert any("laid on white" in note for note in picture.notes)


def icc_matrix_profile(primaries: list[tuple[float, float, float]]) -> bytes:
    """A plain matrix profile (ICC.1:2010, tone curve gamma 2.2) written by hand from its D50 primaries."""

    def fixed(value: float) -> bytes:
        return struct.pack(">i", round(value * 65536))

    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(2.2 * 256)) + b"\0\0"
    described = b"desc\0\0\0\0" + struct.pack(">I", 5) + b"Wide\0" + b"\0" * 78
    tags = {b"desc": described, b"cprt": b"text\0\0\0\0none\0", b"wtpt": _xyz((0.9642, 1.0, 0.8249), fixed)}
    for name, primary in zip((b"rXYZ", b"gXYZ", b"bXYZ"), primaries, strict=True):
        tags[name] = _xyz(primary, fixed)
    for name in (b"rTRC", b"gTRC", b"bTRC"):
        tags[name] = curve
    table, body, at = struct.pack(">I", len(tags)), b"", 128 + 4 + 12 * len(tags)
    for name, content in tags.items():
        content += b"\0" * (-len(content) % 4)
        table += name + struct.pack(">II", at + len(body), len(content))
        body += content
    head = b"\0" * 8 + struct.pack(">I", 0x02400000) + b"mntrRGB XYZ " + b"\0" * 12 + b"acsp" + b"\0" * 28
    head += b"".join(fixed(v) for v in (0.9642, 1.0, 0.8249))
    whole = head.ljust(128, b"\0") + table + body
    return struct.pack(">I", len(whole)) + whole[4:]


def _xyz(value, fixed) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(fixed(part) for part in value)


# Primaries adapted to D50: Adobe RGB (1998) annex, and Display P3 (both from memory).
ADOBE = [(0.60974, 0.31111, 0.01947), (0.20528, 0.62567, 0.06087), (0.14919, 0.06322, 0.74457)]
P3 = [(0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189), (0.15710, 0.06657, 0.78407)]


@pytest.mark.parametrize("primaries", [ADOBE, P3], ids=["adobe", "p3"])
@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF"])
def test_wide_colours_are_converted(form, primaries):
    colour = np.array([100, 150, 120]) / 255
    data = saved(
        Image.new("RGB", (80, 70), (100, 150, 120)),
        form,
        icc_profile=icc_matrix_profile(primaries),
        **({"quality": 100, "subsampling": 0} if form == "JPEG" else {}),
    )
    picture = picture_from(data, f"wide.{form.lower()}")
    # By hand: gamma 2.2, primaries to XYZ (D50), then sRGB from D50 and its curve (IEC 61966-2-1, from memory).
    xyz = np.array(primaries).T @ colour**2.2
    to_srgb = np.array([[3.1339, -1.6169, -0.4906], [-0.9788, 1.9161, 0.0335], [0.0719, -0.2290, 1.4052]])
    linear = to_srgb @ xyz
    expected = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    assert np.allclose(picture.rgb[35, 40] / 65535, expected, atol=0.012)
    assert abs(expected[0] - colour[0]) > 0.03, "the case must differ from doing nothing"
    assert any("sRGB" in note for note in picture.notes)


def test_srgb_is_left_alone():
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    data = saved(Image.new("RGB", (80, 70), (100, 150, 120)), "PNG", icc_profile=profile)
    assert picture_from(data, "a.png").rgb[0, 0].tolist() == [100 * 257, 150 * 257, 120 * 257]


def test_a_broken_profile_is_said_and_does_no_harm():
    data = saved(Image.new("RGB", (80, 70), (100, 150, 120)), "PNG", icc_profile=b"nonsense" * 20)
    picture = picture_from(data, "a.png")
    assert picture.rgb[0, 0].tolist() == [100 * 257, 150 * 257, 120 * 257]
    assert any("could not be used" in note for note in picture.notes)


def test_where_it_was_taken_is_not_kept():
    exif = Image.Exif()
    exif.get_ifd(0x8825)[2] = (52.0, 31.0, 7.25)
    data = saved(Image.fromarray(corner_picture()), "JPEG", exif=exif)
    assert b"GPS" not in repr(picture_from(data, "a.jpg")).encode()
    assert "52" not in " ".join(picture_from(data, "a.jpg").notes)


def png_head(width: int, height: int) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunk = struct.pack(">I", 13) + b"IHDR" + head + struct.pack(">I", zlib.crc32(b"IHDR" + head))
    body = zlib.compress(b"\0" * 1000)
    data = struct.pack(">I", len(body)) + b"IDAT" + body + struct.pack(">I", zlib.crc32(b"IDAT" + body))
    return b"\x89PNG\r\n\x1a\n" + chunk + data


JPEG = saved(Image.fromarray(np.random.default_rng(1).integers(0, 255, (90, 120, 3), np.uint8)), "JPEG")
BAD = {
    "empty": (b"", "empty"),
    "cut short": (JPEG[: len(JPEG) // 2], "cut short"),
    "cut short png": (saved(Image.fromarray(corner_picture()), "PNG")[:-60], "cut short"),
    "only a head": (JPEG[:30], "cut short"),
    "words": (b"no picture at all", "not a picture"),
    "drawing": (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"></svg>', "SVG"),
    "one pixel": (saved(Image.new("RGB", (1, 1)), "PNG"), "too small"),
    "thin": (saved(Image.new("RGB", (2000, 63)), "PNG"), "too small"),
    "bomb": (png_head(60000, 60000), "megapixels"),
    "150 megapixels": (png_head(15000, 10000), "150 megapixels"),
    "gif": (saved(Image.new("P", (80, 80)), "GIF"), "GIF"),
    "bmp": (saved(Image.new("RGB", (80, 80)), "BMP"), "BMP"),
    "document": (b"%PDF-1.7", "PDF"),
    "film": (b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "film"),
    "broken heic": (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 50, "cut short"),
    "numbers": (saved(Image.fromarray(np.ones((80, 80), np.float32)), "TIFF"), "8 or 16 bit"),
}


@pytest.mark.parametrize("case", BAD)
def test_what_cannot_be_read_is_refused_in_one_sentence(case):
    data, word = BAD[case]
    with pytest.raises(InputError) as caught:
        picture_from(data, "file.bin")
    text = str(caught.value)
    assert word in text
    assert "\n" not in text and "Traceback" not in text and len(text) < 250
    assert ";" in text, "it must say what would do"


def test_a_large_phone_picture_below_the_limit_is_not_called_a_bomb():
    data = saved(Image.new("L", (11000, 9000), 90), "PNG", compress_level=1)
    assert picture_from(data, "large.png").width == 11000


def test_a_raw_file_is_named_as_such():
    with pytest.raises(InputError, match="raw camera file"):
        picture_from(b"II*\0" + b"\0" * 100, "IMG_1.NEF")


def test_paths_that_lead_nowhere(tmp_path):
    with pytest.raises(InputError, match="folder"):
        load_photo(tmp_path)
    with pytest.raises(InputError, match="does not exist"):
        load_photo(tmp_path / "gone.jpg")


@pytest.mark.parametrize(
    ("name", "size"), [("melt_track_1.tif", (1600, 1200)), ("plate_with_scale.jpg", (1296, 864)), ("crack_1.png", None)]
)
def test_real_pictures_come_in_as_the_usual_library_shows_them(name, size):
    picture = load_photo(REAL / name)
    reference = np.asarray(Image.open(REAL / name).convert("RGB"))
    assert np.array_equal(picture.rgb, reference.astype(np.uint16) * 257)
    assert size is None or (picture.width, picture.height) == size
