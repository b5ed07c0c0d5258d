"""Lines drawn by formula and looked for again."""

import numpy as np
import pytest
from scipy.special import ndtr

from etchbook.quantity import Measured
from etchbook.section.sightings import blur_of, sight

POINTS = np.stack([np.linspace(40, 360, 161), np.full(161, 150.0)], axis=1)


def drawn(width: float, contrast: float, *, at: float = 150.0, blur: float = 1.0, noise: float = 0.01) -> np.ndarray:
    """A straight line of this width behind a Gaussian blur, on plain ground with noise."""
    y = np.arange(300.0)
    bar = ndtr((y - at + width / 2) / blur) - ndtr((y - at - width / 2) / blur)
    light = np.repeat((0.5 * (1 - contrast * bar))[:, None], 400, axis=1)
    return (light + np.random.default_rng(1).normal(0, noise, light.shape)).astype(np.float32)


@pytest.mark.parametrize(("width", "at"), [(3.0, 150.0), (6.0, 152.0), (10.0, 148.5)])
def test_a_dark_line_has_its_width_place_and_contrast(width: float, at: float) -> None:
    found = sight(drawn(width, 0.4, at=at), POINTS, blur=1.0, slack=3.0, expected=width)
    assert found.look == "dark" and found.share == pytest.approx(1)
    assert isinstance(found.width, Measured) and abs(found.width.value - width) < 3 * found.width.u
    assert isinstance(found.contrast, Measured) and found.contrast.value == pytest.approx(
        0.4 * (2 * ndtr(width / 2) - 1), abs=0.03
    )
    assert found.points[:, 1].mean() == pytest.approx(at, abs=0.4)


def test_a_bright_line_is_bright() -> None:
    assert sight(drawn(4.0, -0.3), POINTS, blur=1.0, slack=3.0, expected=4.0).look == "bright"


@pytest.mark.parametrize("seed_noise", [0.005, 0.02, 0.05])
def test_nothing_is_seen_where_nothing_is(seed_noise: float) -> None:
    found = sight(drawn(3.0, 0.0, noise=seed_noise), POINTS, blur=1.0, slack=3.0, expected=3.0)
    assert found.look == "not seen" and found.why


def test_a_line_further_off_than_the_slack_is_not_taken() -> None:
    found = sight(drawn(3.0, 0.4, at=190.0), POINTS, blur=1.0, slack=3.0, expected=3.0)
    assert found.look == "not seen"


def test_a_fine_line_gets_an_upper_bound_that_holds() -> None:
    found = sight(drawn(0.5, 0.9), POINTS, blur=1.5, slack=2.0, expected=1.0)
    assert found.look == "dark"
    assert isinstance(found.width_limit, Measured) and found.width_limit.value > 0.5


def test_out_of_the_picture_is_not_in_view() -> None:
    assert (
        sight(drawn(3.0, 0.4), POINTS + np.array([500.0, 0.0]), blur=1.0, slack=2.0, expected=3.0).look == "not in view"
    )


def test_blur_of_a_gaussian_edge() -> None:
    assert blur_of(2.563) == pytest.approx(1.0, abs=1e-3)
