"""Bad input: one sentence on stderr, exit code 2, no traceback, nothing written."""

import json
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from .conftest import Answer, Ask


def refused(answer: Answer, *said: str) -> None:
    assert answer.code == 2, answer.err
    assert answer.out == ""
    assert len(answer.err.strip().splitlines()) == 1, answer.err
    assert "Traceback" not in answer.err and "Error" not in answer.err
    for word in said:
        assert word in answer.err


def png_header(width: int, height: int) -> bytes:
    """A PNG that claims a size and holds next to nothing."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 64)) + chunk(b"IEND", b"")


@pytest.fixture
def bad(tmp_path: Path, painted: Path) -> Path:
    whole = (painted / "tee_00005.png").read_bytes()
    (tmp_path / "text.jpg").write_text("this is no picture")
    (tmp_path / "short.png").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "empty.png").write_bytes(b"")
    (tmp_path / "drawing.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')
    (tmp_path / "folder.jpg").mkdir()
    (tmp_path / "bomb.png").write_bytes(png_header(60_000, 60_000))
    (tmp_path / "large.png").write_bytes(png_header(12_000, 10_100))
    Image.new("RGB", (1, 1)).save(tmp_path / "dot.png")
    return tmp_path


@pytest.mark.parametrize(
    "name",
    ["text.jpg", "short.png", "empty.png", "drawing.svg", "folder.jpg", "bomb.png", "large.png", "dot.png", "none.jpg"],
)
def test_what_is_no_picture(ask: Ask, bad: Path, name: str) -> None:
    before = sorted(bad.iterdir())
    answer = ask("read", bad / name, "--joint", "tee", "--scale", "40", "--json", bad / "out.json")
    refused(answer, name)
    assert sorted(bad.iterdir()) == before


@pytest.mark.parametrize("scale", ["0", "-4", "nan", "inf", "wide", ""])
def test_a_scale_that_is_none(ask: Ask, painted: Path, scale: str) -> None:
    refused(ask("read", painted / "tee_00005.png", "--joint", "tee", "--scale", scale), "scale")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--joint", "mortise"), "mortise"),
        (("--joint", "tee", "--scale-from", "thumb"), "thumb"),
        (("--joint", "tee", "--scale-from", "thickness_1=-8"), "more than 0"),
        (("--joint", "tee", "--scale", "40", "--against", "iso-5817:Z"), "iso-5817:B"),
        (("--joint", "tee", "--scale", "40", "--against", "nowhere.toml"), "nowhere.toml"),
        (("--joint", "tee", "--scale", "40", "--against", "iso-5817:B", "--risk", "0.9"), "risk"),
        (("--joint", "tee", "--scale", "40", "--risk", "much"), "risk"),
        (("--joint", "tee", "--throat", "0"), "throat"),
        (("--joint", "tee", "--overlay", "look.bmp"), "look.bmp"),
        (("--joint", "tee", "--json", "no/such/folder/out.json"), "folder"),
        (("--tee",), "--tee"),
    ],
)
def test_what_cannot_be_asked(ask: Ask, painted: Path, words: tuple[str, ...], said: str) -> None:
    refused(ask("read", painted / "tee_00005.png", *words), said)


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ({"toe_1": [9999, 10]}, "outside"),
        ({"toe_1": [100, 100], "toe_2": [100, 100]}, "toe_"),
        ({"toe_1": [100, "left"]}, "toe_1"),
        ({"elbow": [100, 100]}, "elbow"),
        ({}, "no marks"),
    ],
)
def test_marks_that_do_not_hold(ask: Ask, painted: Path, tmp_path: Path, marks: dict[str, object], said: str) -> None:
    path = tmp_path / "marks.json"
    path.write_text(json.dumps(marks))
    refused(ask("read", painted / "tee_00005.png", "--joint", "tee", "--scale", "40", "--marks", path), said)


def test_pages_of_several_photos_need_places_of_their_own(ask: Ask, painted: Path, noise: Path) -> None:
    photos = (painted / "tee_00005.png", noise)
    refused(ask("read", *photos, "--joint", "tee", "--json", "out.json"), "{name}")


def test_a_photograph_is_never_overwritten(ask: Ask, painted: Path) -> None:
    photo = painted / "tee_00005.png"
    before = photo.read_bytes()
    refused(ask("read", photo, "--joint", "tee", "--overlay", photo), "overwritten")
    assert photo.read_bytes() == before


@pytest.mark.parametrize("text", ["{", "[]", '{"joint": "tee"}', "no json", '{"joint": {"family": "mortise"}}'])
def test_a_reading_that_is_none(ask: Ask, tmp_path: Path, text: str) -> None:
    path = tmp_path / "reading.json"
    path.write_text(text)
    refused(ask("judge", path, "--against", "iso-5817:B"))


def test_own_limits_that_do_not_hold(ask: Ask, painted: Path, tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text("[leg_1]\nleast = '__import__(\"os\")'\n")
    words = ("read", painted / "tee_00005.png", "--joint", "tee", "--scale", "40", "--against", path)
    refused(ask(*words))


@pytest.mark.parametrize(
    "words", [("--joint", "oak"), ("--joint", "tee", "--size", "9x9"), ("--joint", "tee", "--count", "0")]
)
def test_what_cannot_be_painted(ask: Ask, tmp_path: Path, words: tuple[str, ...]) -> None:
    refused(ask("paint", "--out", tmp_path / "new", *words))
    assert not (tmp_path / "new").exists()
