"""Table, labelled example, PNG files."""

import csv
import json
from io import BytesIO, StringIO

import numpy as np
import pytest
from PIL import Image

from etchbook.picture import Picture
from etchbook.report import dimensions_csv, labelled_example, picture_png, regions_png
from etchbook.report.photos import photo_print
from etchbook.section import PictureFacts
from etchbook.terms import dimensions_of
from rooms.report import example, others


def rows(text: str) -> dict[str, dict[str, str]]:
    return {row["dimension"]: row for row in csv.DictReader(StringIO(text, newline=""))}


def test_the_table_has_a_row_for_every_dimension() -> None:
    found = rows(dimensions_csv(example.reading(), example.judgement()))
    assert list(found) == [term.id for term in dimensions_of("tee")]
    leg = found["leg_1"]
    assert (leg["value"], leg["u"], leg["unit"], leg["U"], leg["k"]) == ("6.2", "0.041", "mm", "0.082", "2")
    assert found["haz_width_2"]["value"] == ""
    assert found["haz_width_2"]["not read because"].startswith("the HAZ edge")
    assert found["convexity"]["verdict"] == "1.10 met"


def test_no_cell_is_taken_for_a_formula() -> None:
    name = PictureFacts(sha256="", name='=HYPERLINK("x")', width=10, height=10)
    found = rows(dimensions_csv(example.reading(picture=name)))
    assert found["leg_1"]["picture"] == '\'=HYPERLINK("x")'


def test_a_labelled_example_holds_photo_regions_marks_and_reading() -> None:
    regions = regions_png(example.labels())
    files = labelled_example(example.corrected(), b"the photo", ".JPG", regions)
    assert sorted(files) == ["marks.json", "photo.jpg", "reading.json", "regions.png"]
    assert files["photo.jpg"] == b"the photo" and files["regions.png"] == regions
    marks = json.loads(files["marks.json"])["marks"]
    assert marks["toe_1"] == [668.0, 430.0]
    assert marks["fusion_line"] == {"follow": True, "points": [[400.0, 450.0], [516.0, 482.0]]}
    assert json.loads(files["reading.json"])["dimensions"]["leg_1"]["value"] == 6.2


def test_a_suffix_cannot_lead_out_of_the_folder() -> None:
    assert "photo.etcpasswd" in labelled_example(example.reading(), b"", "/../etc/passwd", b"")


def test_regions_come_back_as_they_went() -> None:
    labels = example.labels()
    image = Image.open(BytesIO(regions_png(labels)))
    assert image.mode == "L" and image.size == (1000, 800)
    assert np.array_equal(np.asarray(image), labels)
    with pytest.raises(TypeError):
        regions_png(labels.astype(np.int64))


def test_eight_bit_pictures_keep_every_value() -> None:
    ramp = np.arange(256, dtype=np.uint16).reshape(16, 16)
    picture = Picture(rgb=np.repeat((ramp * 257)[..., None], 3, axis=2))
    back = np.asarray(Image.open(BytesIO(picture_png(picture))))
    assert np.array_equal(back[..., 0], ramp)


def test_a_print_shows_its_window() -> None:
    picture = others.blank(400, 300)
    made = photo_print(picture, (100, 50, 300, 250), longest=100)
    assert (made.width, made.height, made.window) == (100, 100, (100, 50, 300, 250))
    assert Image.open(BytesIO(made.jpeg)).size == (100, 100)
