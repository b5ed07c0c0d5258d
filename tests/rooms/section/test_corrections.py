"""A person's marks laid over an outline: on a plain painted bead whose shape is known to the pixel."""

from functools import cache

import numpy as np
import pytest
from scipy import ndimage

from etchbook.picture import Picture, make_picture
from etchbook.section.corrections import corrected
from etchbook.section.draft import Draft
from etchbook.section.records import Mark

MIDDLE, RADIUS = np.array([150.0, 90.0]), 60.0
LEFT, RIGHT = np.array([90.0, 90.0]), np.array([210.0, 90.0])
DEEPEST = np.array([150.0, 150.0])
NUDGED = np.array([94.0, 90.0])


@cache
def bead() -> tuple[Picture, np.ndarray]:
    """A grey plate below y = 90 in black, and a bright round weld half in it and half above."""
    y, x = np.mgrid[0:200, 0:300].astype(float)
    light = np.where(y >= MIDDLE[1], 120.0, 15.0)
    light[np.hypot(x - MIDDLE[0], y - MIDDLE[1]) < RADIUS] = 220.0
    light = ndimage.gaussian_filter(light, 1.0) + np.random.default_rng(1).normal(0, 2, light.shape)
    rgb = np.repeat(np.clip(light, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    picture = make_picture(rgb)
    return picture, (picture.rgb / np.float32(65535)).astype(np.float32)


def mark(name: str, *places: tuple[float, float] | np.ndarray, replaces: bool = False) -> Mark:
    return Mark(name=name, points=np.array(places, float), replaces=replaces)


def laid(draft: Draft | None, *marks: Mark) -> Draft | str:
    picture, small = bead()
    return corrected(draft, marks, picture, small, 1.0, "bead")


def marked(draft: Draft | None, *marks: Mark) -> Draft:
    found = laid(draft, *marks)
    assert isinstance(found, Draft), found
    return found


@cache
def first() -> Draft:
    """A draft from marks alone: both toes and the deepest point of the fusion line."""
    return marked(None, mark("toe_1", LEFT), mark("toe_2", RIGHT), mark("fusion_line_1", DEEPEST))


@pytest.mark.parametrize(
    ("given", "word"),
    [
        ((), "toe 1"),
        ((mark("toe_1", LEFT),), "toe 2"),
        ((mark("toe_2", RIGHT),), "toe 1"),
        ((mark("toe_1", LEFT), mark("toe_2", RIGHT)), "fusion line"),
    ],
)
def test_too_few_marks_without_an_outline_are_asked_for_by_name(given: tuple[Mark, ...], word: str) -> None:
    found = laid(None, *given)
    assert isinstance(found, str)
    assert word in found


def test_three_marks_are_enough_to_follow_a_clear_weld() -> None:
    """The fusion line is the lower half of the circle, the face its upper half."""
    draft = first()
    away = np.abs(np.hypot(*(draft.fusion.points - MIDDLE).T) - RADIUS)
    assert np.median(away) < 0.7 and np.percentile(away, 95) < 2.5
    assert draft.fusion.points[:, 1].max() == pytest.approx(MIDDLE[1] + RADIUS, abs=1.0)
    assert draft.face.points[:, 1].min() == pytest.approx(MIDDLE[1] - RADIUS, abs=3.0)
    np.testing.assert_allclose(draft.toes[0].point, LEFT)
    np.testing.assert_allclose(draft.toes[1].point, RIGHT)


def test_a_moved_toe_moves_the_ends_and_leaves_the_rest() -> None:
    moved = marked(first(), mark("toe_1", NUDGED))
    for old, new in ((first().fusion, moved.fusion), (first().face, moved.face)):
        np.testing.assert_allclose(new.points[0] - old.points[0], NUDGED - old.points[0], atol=0.01)
        half = len(old.points) // 2
        np.testing.assert_allclose(new.points[half:], old.points[half:], atol=0.1)
    assert moved.toes[0].pinned
    np.testing.assert_allclose(moved.toes[1].point, RIGHT)


def test_a_boundary_that_is_to_follow_the_points_follows_them() -> None:
    """Straight from toe to point to toe, whatever the picture shows."""
    corner = (150.0, 120.0)
    drawn = marked(first(), mark("fusion_line_1", corner, replaces=True)).fusion.points
    share = np.abs(drawn[:, 0] - MIDDLE[0]) / RADIUS
    np.testing.assert_allclose(drawn[:, 1], MIDDLE[1] + 30 * (1 - share), atol=0.6)


def test_marked_points_pin_the_fitted_boundary() -> None:
    places = [MIDDLE + RADIUS * np.array([np.cos(turn), np.sin(turn)]) for turn in (2.4, 1.5, 0.7)]
    drawn = marked(first(), mark("fusion_line_1", *places)).fusion.points
    for place in places:
        assert np.hypot(*(drawn - place).T).min() < 1.0


def test_points_given_in_any_order_make_the_same_line() -> None:
    places = [MIDDLE + RADIUS * np.array([np.cos(turn), np.sin(turn)]) for turn in (2.4, 1.5, 0.7)]
    one = marked(first(), mark("fusion_line_1", *places)).fusion.points
    other = marked(first(), mark("fusion_line_1", *places[::-1])).fusion.points
    np.testing.assert_allclose(one, other)


def test_a_hand_drawn_surface_is_the_line_through_its_points() -> None:
    line = marked(first(), mark("surface_1", (10, 92), (290, 96), replaces=True)).lines["surface_1"].line
    np.testing.assert_allclose(line.across(np.array([[10.0, 92.0], [290.0, 96.0]])), 0.0, atol=1e-6)


def test_a_surface_marked_roughly_is_found_again_on_the_plate() -> None:
    """Marked a pixel too low, as well as a hand can; the plate begins between rows 89 and 90."""
    line = marked(first(), mark("surface_1", (5, 90.5), (70, 90.5))).lines["surface_1"].line
    assert abs(float(line.across(np.array([[40.0, 89.5]]))[0])) < 0.5


def test_a_marked_haz_edge_is_kept_for_its_member() -> None:
    haz = marked(first(), mark("haz_edge_1", (100, 160), (150, 170), (200, 160), replaces=True)).haz
    assert set(haz) == {"1"}
    np.testing.assert_allclose(haz["1"].points[[0, -1]], [[100, 160], [200, 160]], atol=0.5)


def test_what_was_marked_is_remembered() -> None:
    twice = marked(first(), mark("joint_root", MIDDLE))
    assert {"toe_1", "toe_2", "fusion_line_1", "joint_root"} <= twice.pinned
