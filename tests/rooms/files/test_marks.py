"""Marks files: what they mean and what is refused."""

import json

import numpy as np
import pytest

from etchbook.files import InputError, load_groove, load_marks, marks_from, read_text
from etchbook.joint import Groove

TOML = """
toe_1 = [10.5, 20]
toe_2 = [60, 70.25]
fusion_line_1 = [[12, 30], [15, 40], [22, 55]]
weld_face = { follow = true, points = [[10.5, 20], [40, 35], [60, 70.25]] }
"""


def test_toml_and_json_say_the_same(tmp_path):
    same = {
        "toe_1": [10.5, 20],
        "toe_2": [60, 70.25],
        "fusion_line_1": [[12, 30], [15, 40], [22, 55]],
        "weld_face": {"follow": True, "points": [[10.5, 20], [40, 35], [60, 70.25]]},
    }
    (tmp_path / "m.toml").write_text(TOML)
    (tmp_path / "m.json").write_text(json.dumps({"marks": same}))
    one, two = load_marks(tmp_path / "m.toml", size=(100, 80)), load_marks(tmp_path / "m.json")
    assert [mark.name for mark in one] == ["toe_1", "toe_2", "fusion_line_1", "weld_face"]
    assert [mark.replaces for mark in one] == [False, False, False, True]
    assert np.array_equal(one[0].points, [[10.5, 20]])
    assert one[2].points.shape == (3, 2)
    for a, b in zip(one, two, strict=True):
        assert (a.name, a.replaces) == (b.name, b.replaces)
        assert np.array_equal(a.points, b.points)


def test_a_single_point_is_enough_for_a_pin():
    (mark,) = marks_from("haz_edge_2 = [5, 6]", "m.toml")
    assert mark.points.tolist() == [[5.0, 6.0]]


def test_the_borders_of_the_picture_are_the_outer_edges_of_its_pixels():
    assert marks_from("toe_1 = [-0.5, 79.5]", "m", size=(100, 80))[0].points.tolist() == [[-0.5, 79.5]]


BAD = {
    "": "no marks",
    "toe_1 = [1, 2": "not proper TOML",
    '{"toe_1": [1, 2}': "not proper JSON",
    "toe_3 = [1, 2]": "toe_3",
    "toe_1 = [1, 2, 3]": r"\[x, y\]",
    'toe_1 = "here"': r"\[x, y\]",
    "toe_1 = [nan, 2]": "finite",
    "toe_1 = [inf, 2]": "finite",
    "toe_1 = [true, 2]": "finite number",
    "toe_1 = [[1, 2], [3, 4]]": r"\[x, y\]",
    "toe_1 = [100, 2]": "outside the picture",
    "toe_1 = [5, -3]": "outside the picture",
    "toe_1 = [5, 5]\ntoe_1 = [6, 6]": "twice",
    '{"toe_1": [5, 5], "toe_1": [6, 6]}': "twice",
    "toe_1 = [5, 5]\ntoe_2 = [5.5, 5]": "same place",
    "weld_face = []": r"\[x, y\]",
    "weld_face = {follow = true, points = [[1, 2]]}": "at least two",
    "weld_face = {points = [[1, 2]], colour = 3}": "follow = true",
    "surface_1 = [[5, 10], [90, 10]]\nback_1 = [[5, 5], [90, 20]]": "cross",
    "fusion_line = [5, 5]\nfusion_line_1 = [6, 6]": "keep one",
    "weld_face = {follow = true, points = [[1, 1], [50, 50], [50, 1], [1, 50]]}": "crosses itself",
    "fusion_line_1 = {follow=true,points=[[1,1],[5,5]]}\nhaz_edge_1 = {follow=true,points=[[5,1],[1,5]]}": "cross",
}


@pytest.mark.parametrize("text", BAD)
def test_marks_that_cannot_be_meant_are_refused(text):
    with pytest.raises(InputError, match=BAD[text]) as caught:
        marks_from(text, "m.toml", size=(100, 80))
    assert "\n" not in str(caught.value)


def test_text_must_be_text(tmp_path):
    (tmp_path / "a").write_bytes(b"\xff\xfe\x00\x01")
    with pytest.raises(InputError, match="UTF-8"):
        read_text(tmp_path / "a")
    (tmp_path / "b").write_bytes(b"\xef\xbb\xbftoe_1 = [1, 2]")
    assert read_text(tmp_path / "b").startswith("toe_1")
    with pytest.raises(InputError, match="larger than"):
        read_text(tmp_path / "b", largest=5)


def test_a_marks_file_may_state_the_preparation(tmp_path):
    (tmp_path / "m.toml").write_text("toe_1 = [1, 2]\n[groove]\ngap = 2\nangle = 60.0\nu_gap = 0.1\nbevelled = '1'\n")
    assert load_groove(tmp_path / "m.toml") == Groove(gap=2.0, angle=60.0, u_gap=0.1, bevelled="1")
    assert [mark.name for mark in load_marks(tmp_path / "m.toml")] == ["toe_1"]
    (tmp_path / "n.json").write_text('{"groove": {"gap": 0}, "marks": {}}')
    assert load_marks(tmp_path / "n.json") == () and load_groove(tmp_path / "n.json") == Groove(gap=0.0)
    (tmp_path / "o.toml").write_text("toe_1 = [1, 2]")
    assert load_groove(tmp_path / "o.toml") is None


@pytest.mark.parametrize("stated", ["gap = -1", "gap = 'wide'", "width = 2", "bevelled = 'left'", "gap = nan", ""])
def test_a_preparation_that_makes_no_sense_is_refused(stated, tmp_path):
    (tmp_path / "m.toml").write_text(f"toe_1 = [1, 2]\n[groove]\n{stated}\n")
    with pytest.raises(InputError, match=r"m\.toml"):
        load_groove(tmp_path / "m.toml")
