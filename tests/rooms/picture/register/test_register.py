"""Pairs of pictures whose views are known exactly, and pictures that do not belong together."""

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from etchbook.picture import Picture, make_picture
from etchbook.picture.register import NotRegistered, Registration, moved, register
from etchbook.simulate.pairs import PaintedPair, paint_pair

REAL = Path(__file__).resolve().parents[3] / "pictures_real"


@cache
def pair(seed: int, kind: str, times: float, mirror: bool, twin: bool = False) -> PaintedPair:
    return paint_pair(
        seed, width=800, height=600, family="tee", kind=kind, times=times, mirror=mirror, same=not twin, twin=twin
    )


def error(found: Registration, truth: np.ndarray, first: Picture, second: Picture) -> float:
    """Root mean square distance from the truth over the overlap [px of the coarser picture]."""
    x, y = np.meshgrid(np.linspace(0, first.width - 1, 25), np.linspace(0, first.height - 1, 25))
    points = np.stack([x.ravel(), y.ravel()], axis=1)
    there = moved(truth, points)
    inside = (there >= 0).all(axis=1) & (there <= [second.width - 1, second.height - 1]).all(axis=1)
    gap = np.hypot(*(found.to_second(points[inside]) - there[inside]).T)
    return float(np.sqrt((gap**2).mean())) / max(found.size, 1.0)


@pytest.mark.parametrize(
    ("seed", "kind", "times", "mirror"),
    [(1, "view", 4.0, False), (3, "polish", 1.4, True), (5, "inverted", 1.2, False)],
)
def test_a_painted_pair_is_laid_within_a_pixel(seed: int, kind: str, times: float, mirror: bool) -> None:
    painted = pair(seed, kind, times, mirror)
    found = register(*painted.pictures)
    assert isinstance(found, Registration), found
    assert painted.matrix is not None and error(found, painted.matrix, *painted.pictures) < 1
    assert found.mirror == mirror and found.size == pytest.approx(times, rel=0.03) and found.coarser == 1


def test_the_way_back_is_the_way_back() -> None:
    found = register(*pair(1, "view", 4.0, False).pictures)
    assert isinstance(found, Registration)
    points = np.array([[100.0, 200.0], [300.0, 50.0]])
    assert found.turned_round().to_second(found.to_second(points)) == pytest.approx(points, abs=1e-6)
    assert found.turned_round().coarser == 2


def test_the_same_question_gets_the_same_answer() -> None:
    first, second = (register(*pair(5, "inverted", 1.2, False).pictures) for _ in range(2))
    assert isinstance(first, Registration) and isinstance(second, Registration)
    assert (first.matrix == second.matrix).all() and first.u == second.u


@pytest.mark.parametrize("seed", [2, 4])
def test_a_twin_section_is_refused_in_words(seed: int) -> None:
    found = register(*pair(seed, "view", 1.0, False, twin=True).pictures)
    assert isinstance(found, NotRegistered)
    assert len(found.reason) > 20 and "photograph" in found.remedy


def test_noise_and_plain_pictures_are_refused() -> None:
    rng = np.random.default_rng(3)
    noise = make_picture(rng.integers(0, 255, (300, 400), dtype=np.uint8))
    other = make_picture(rng.integers(0, 255, (300, 400), dtype=np.uint8))
    plain = make_picture(np.full((300, 400), 90, np.uint8))
    for one, two in ((noise, other), (plain, noise), (plain, plain)):
        assert isinstance(register(one, two), NotRegistered)


def test_a_real_picture_turned_and_cropped_by_another_library() -> None:
    with Image.open(REAL / "melt_track_1.tif") as opened:
        whole = opened.convert("L")
    turned = whole.rotate(30, Image.Resampling.BICUBIC, expand=False)
    found = register(make_picture(np.asarray(whole)), make_picture(255 - np.asarray(turned)))
    assert isinstance(found, Registration), found
    # The library turns about the middle of the picture's area, counter-clockwise as seen.
    middle = np.array([whole.width, whole.height]) / 2 - 0.5
    c, s = np.cos(np.radians(30)), np.sin(np.radians(30))
    points = middle + np.array([[0, 0], [150.0, 40.0], [-120.0, -60.0], [30.0, 150.0]])
    truth = (points - middle) @ np.array([[c, s], [-s, c]]).T + middle
    assert found.to_second(points) == pytest.approx(truth, abs=0.7)


def test_known_scales_bound_the_size() -> None:
    painted = pair(1, "view", 4.0, False)
    assert isinstance(register(*painted.pictures, ratio=(3.8, 4.2)), Registration)
    assert isinstance(register(*painted.pictures, ratio=(0.9, 1.1)), NotRegistered)
