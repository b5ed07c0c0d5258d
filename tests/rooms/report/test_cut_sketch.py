"""The sketch of the cut: places worked out by hand on a sheet of 170 mm with 15 mm free at both ends."""

import re

from etchbook.report.cut_sketch import cut_caption, cut_sketch, cut_words
from etchbook.section import CutPlace

CUT = CutPlace(at=50.0, seam=100.0, start=50.0, stop=75.0, towards="start")


def places(svg: str, kind: str) -> list[float]:
    return [float(x) for x in re.findall(rf'<{kind} c?x="([0-9.]+)"', svg)]


def test_the_face_stands_where_it_was_cut() -> None:
    svg = cut_sketch(CUT, "N1-03-B")
    assert places(svg, "circle") == [85.0, 85.0]  # half way along 140 mm of paper, from 15 mm on
    piece = re.search(r'<rect x="([0-9.]+)" y="[0-9.]+" width="([0-9.]+)"', svg)
    assert piece is not None and [float(part) for part in piece.groups()] == [85.0, 35.0]
    assert "N1-03-B" in svg and "section at 50 mm from the start" in svg and ">stop<" in svg


def test_the_arrow_looks_the_way_of_the_face() -> None:
    assert "h-5" in cut_sketch(CUT) and "h5m" not in cut_sketch(CUT)
    other = CutPlace(at=50.0, seam=100.0, towards="stop")
    assert "h5m" in cut_sketch(other)
    assert "h5m" not in cut_sketch(CutPlace(at=50.0, seam=100.0))


def test_a_place_that_is_not_known_leaves_a_coupon_to_draw_on() -> None:
    svg = cut_sketch(None)
    assert "not given: draw the cut here by hand" in svg and places(svg, "circle") == []
    assert cut_words(None) == "" and "not given" in cut_caption(None)


def test_without_the_length_of_the_seam_it_is_not_to_scale_and_says_so() -> None:
    svg = cut_sketch(CutPlace(at=40.0))
    assert ">stop<" not in svg
    assert "Not to scale" in cut_caption(CutPlace(at=40.0)) and "Not to scale" not in cut_caption(CUT)
    assert cut_words(CUT) == "50 mm from the start of a seam of 100 mm, the face looking to the start"
