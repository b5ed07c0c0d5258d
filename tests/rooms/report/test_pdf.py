"""The report as PDF: tagged, our own letters, the same bytes for the same input, names harmless."""

from datetime import date
from io import BytesIO

import pikepdf
import pytest

from etchbook.report import pdf
from etchbook.section import PictureFacts, Preparation
from rooms.report import example, others

DAY = date(2026, 3, 9)


@pytest.fixture(scope="module")
def made() -> bytes:
    return pdf(example.reading(), example.picture(), example.judgement(), today=DAY)


def test_it_is_tagged_titled_and_in_a_language(made: bytes) -> None:
    with pikepdf.open(BytesIO(made)) as opened:
        root = opened.Root
        assert bool(root.MarkInfo.Marked)
        assert "/StructTreeRoot" in root
        assert str(root.Lang).lower().startswith("en")
        assert str(opened.docinfo["/Title"]) == "Reading of an etched weld section, N1-3_face_A.jpg"
        assert b"pdfuaid" in bytes(root.Metadata.read_bytes())
        assert 3 <= len(opened.pages) <= 6


def test_it_uses_our_own_letters_and_embeds_them(made: bytes) -> None:
    with pikepdf.open(BytesIO(made)) as opened:
        fonts = [
            item for item in opened.objects if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font"
        ]
        names = {str(item.BaseFont) for item in fonts}
        descriptors = [
            item
            for item in opened.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/FontDescriptor"
        ]
        assert names and all("B612" in name for name in names)
        assert descriptors and all("/FontFile3" in item or "/FontFile2" in item for item in descriptors)


def test_pictures_are_told_in_words(made: bytes) -> None:
    with pikepdf.open(BytesIO(made)) as opened:
        told = [str(item.Alt) for item in opened.objects if isinstance(item, pikepdf.Dictionary) and "/Alt" in item]
    assert any("leg 1: 6.20 mm" in alt for alt in told)


def test_the_same_day_gives_the_same_bytes(made: bytes) -> None:
    assert pdf(example.reading(), example.picture(), example.judgement(), today=DAY) == made
    assert pdf(example.reading(), example.picture(), example.judgement(), today=date(2026, 3, 10)) != made


def test_words_of_people_are_never_taken_for_instructions() -> None:
    name = PictureFacts(sha256="", name=example.HOSTILE, width=1000, height=800)
    said = Preparation(
        etchant='#read("/etc/hostname")', finish="#panic()", specimen=example.HOSTILE, reader="*a* _b_ $c$ @d <e>"
    )
    reading = example.reading(picture=name, preparation=said, notes=('#import "@preview/x:1.0.0"', "= heading", "\\"))
    made = pdf(reading, example.picture(), example.judgement(reading), today=DAY)
    with pikepdf.open(BytesIO(made)) as opened:
        assert '#include("/etc/passwd")' in str(opened.docinfo["/Title"])
        assert "/JavaScript" not in opened.Root.get("/Names", pikepdf.Dictionary())


@pytest.mark.parametrize("name", ["no scale", "nothing", "butt"])
def test_every_kind_of_reading_can_be_printed(name: str) -> None:
    reading = {"no scale": lambda: example.reading(scaled=False), "nothing": others.nothing, "butt": others.butt}[
        name
    ]()
    made = pdf(reading, others.blank(reading.picture.width, reading.picture.height), today=DAY)
    assert made.startswith(b"%PDF-1.7")
