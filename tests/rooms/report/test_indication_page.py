"""Pages of indications: what stands on them, and that words of people stay words."""

import html
import re
from dataclasses import replace
from datetime import date
from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pikepdf
import pytest

from etchbook.picture import NoScale, Picture
from etchbook.quantity import Absent, Measured
from etchbook.report import page, pdf
from etchbook.report.indication_drawings import close_window, crop_window, place_svg
from etchbook.report.indication_page import MOST_PAGES, indication_pages
from etchbook.report.indication_words import figures, width_words
from etchbook.section import PictureFacts
from etchbook.section.indications.profiles import bar
from etchbook.usecases.answering import said_in
from etchbook.usecases.explaining import explain
from etchbook.usecases.profiling import profile_across
from rooms.usecases.marked import mm, plate_line, reading_with

DAY = date(2026, 5, 4)


def _picture(width_px: float = 6.0, blur: float = 1.2) -> Picture:
    """Grey metal with one level dark line at row 150, as sharp as the blur lets it be."""
    rows = np.arange(300.0) - 150.0
    light = 0.6 * (1 - 0.5 * bar(rows, width_px, blur))
    rgb = np.repeat(np.repeat(light[:, None], 500, axis=1)[..., None], 3, axis=2)
    return Picture(rgb=(rgb * 65535).astype(np.uint16), sha256="ab" * 32, name="plate.jpg")


def _line(**changes):
    points = np.stack([np.arange(40.0, 460.0), np.full(420, 150.0)], axis=1)
    return plate_line(points=points, pieces=((0, 420),), sharpest_rise=mm(3.08, 0.1, "px"), **changes)


def test_the_profile_is_the_painted_bar_again():
    seen = profile_across(_picture(), _line(width=mm(0.15, 0.01)), reading_with().scale)
    # 6 px at 40 px/mm: beside the line 1, on it 1 - 0.5 of the light, half of that at 0.075 mm to either side
    assert float(np.interp(0.0, seen.across, seen.light)) == pytest.approx(0.5, abs=0.02)
    for side in (-0.075, 0.075):
        assert float(np.interp(side, seen.across, seen.light)) == pytest.approx(0.75, abs=0.02)
    assert np.abs(seen.light - seen.fitted).max() < 0.01
    assert seen.unit == "mm"


def test_without_a_scale_the_profile_is_in_pixels_and_a_blob_has_none():
    none = NoScale(reason="no rule")
    assert profile_across(_picture(), _line(), none).unit == "px"
    assert isinstance(profile_across(_picture(), _line(kind="blob"), none), Absent)


def test_windows_hold_the_line_and_stay_in_the_picture():
    left, top, right, bottom = crop_window(_line(), _picture())
    assert left <= 40 and right >= 459 and top < 150 < bottom
    assert left >= 0 and top >= 0 and right <= 500 and bottom <= 300
    left, top, right, bottom = close_window(_line(), _picture())
    assert left < 250 < right and top < 150 < bottom


def test_the_sketch_puts_the_line_where_it_lies():
    drawn = ElementTree.fromstring(place_svg(_line(depth_fraction=mm(0.25, 0.01, ""))))
    dots = [float(dot.get("cy")) for dot in drawn.iter("{http://www.w3.org/2000/svg}circle")]
    assert dots == pytest.approx([10.0, 10.0 + 0.25 * 30.0])


def test_a_width_below_what_the_picture_shows_is_told_as_a_bound():
    fine = _line(width=Absent(reason="too fine"), width_limit=mm(0.031, 0.002))
    assert width_words(fine) == "below 0.031 mm, the picture shows no finer"
    assert {"label": "Width", "value": width_words(fine)} in figures(fine)


def test_fields_that_were_not_read_are_left_out():
    rows = figures(_line(contrast=Absent(reason="too dark")))
    assert "Contrast" not in [row["label"] for row in rows]


def _reading(*lines):
    reading = reading_with(*lines)
    return replace(reading, picture=PictureFacts(sha256="ab" * 32, name="plate.jpg", width=500, height=300))


def test_every_line_has_its_page_with_verdict_evidence_and_next_test():
    reading = _reading(_line())
    pages, rest = indication_pages(reading, explain(reading), _picture())
    (one,) = pages
    assert rest == []
    assert set(one.drawings) == {"crop", "close", "place", "profile"}
    assert one.entries["verdict"] == "likely: centreline segregation."
    assert one.entries["causes"][0]["for"] and one.entries["tests"][0]["results"]


def test_lines_come_before_blobs_and_what_has_no_page_is_listed():
    lines = [_line(name=f"l{number}") for number in range(MOST_PAGES)]
    blob = _line(name="pore", kind="blob", where="weld_metal", roundness=mm(0.9, 0.05, ""))
    reading = _reading(blob, *lines)
    pages, rest = indication_pages(reading, explain(reading), _picture())
    assert [one.entries["name"] for one in pages] == [line.name for line in lines]
    assert [row["name"] for row in rest] == ["pore"]


def test_both_reports_carry_the_page_and_words_of_people_stay_words():
    evil = '<script>alert("1")</script> #read("/etc/passwd")'
    reading = _reading(_line())
    explained = explain(reading, said_in(f"by = 'MK7'\n[a]\nwords = '''{evil}'''"))
    shown = page(reading, _picture(), today=DAY, explained=explained)
    assert html.escape(evil) in shown and "<script" not in shown
    assert "Indication a: line, plate 1" in shown
    made = pdf(reading, _picture(), today=DAY, explained=explained)
    with pikepdf.open(BytesIO(made)) as document:
        assert len(document.pages) >= 3
    assert made == pdf(reading, _picture(), today=DAY, explained=explained)


def test_a_report_without_explanations_has_no_such_page():
    assert not re.search("<h2>Indication", page(_reading(_line()), _picture(), today=DAY))


def test_measured_values_keep_their_u_on_the_page():
    rows = {row["label"]: row["value"] for row in figures(_line(length=Measured(value=20.0, u=0.1, unit="mm")))}
    assert rows["Length"] == "20.00 ± 0.20 mm"
