"""A fusion line etched as a seam: painted seams of known place, and what must not be taken for one."""

import numpy as np
import pytest
from scipy.special import ndtr

from etchbook.picture import Picture
from etchbook.section.edges import Trace
from etchbook.section.seaming import seamed

TRUE_Y = 60.3
PLACES = np.arange(20.0, 380.0)


def picture(step: float, depth: float, width: float) -> Picture:
    """A step in light at TRUE_Y with a seam of this depth along it, in fine grain."""
    y, _ = np.mgrid[0:120, 0:400].astype(float)
    light = 0.5 + step * (ndtr((y - TRUE_Y) / 1.5) - 0.5) - depth * np.exp(-0.5 * ((y - TRUE_Y) / width) ** 2)
    light += np.random.default_rng(7).normal(0, 0.02, light.shape)
    return Picture(rgb=np.repeat((light.clip(0, 1) * 65535).astype(np.uint16)[..., None], 3, axis=2))


def level(off: float) -> Trace:
    """A trace that runs `off` px below the true place."""
    points = np.stack([PLACES, np.full(len(PLACES), TRUE_Y + off)], axis=1)
    return Trace(points=points, sd=np.full(len(PLACES), 0.5), clarity=np.full(len(PLACES), 9.0), blur=1.0)


def shift(step: float, depth: float, *, off: float = 3.0, guess: float = 0.5, width: float = 2.5) -> float:
    """How far from the true place the trace lies afterwards."""
    found = seamed(picture(step, depth, width), level(off), level(guess).points,
                   reach=12.0, along_px=4.0, stiffness_px=10.0)  # fmt: skip
    return float(np.median(found.points[20:-20, 1]) - TRUE_Y)


@pytest.mark.parametrize("depth", [0.2, -0.2])
@pytest.mark.parametrize("step", [0.0, 0.1, -0.1])
@pytest.mark.parametrize("off", [3.0, -3.0])
def test_trace_at_a_flank_comes_into_the_middle(step: float, depth: float, off: float) -> None:
    assert shift(step, depth, off=off) == pytest.approx(0.0, abs=0.3)


def test_plain_step_leaves_the_trace_where_it_was() -> None:
    assert shift(0.3, 0.0) == pytest.approx(3.0)


def test_haz_that_wears_off_is_no_seam() -> None:
    y, _ = np.mgrid[0:120, 0:400].astype(float)
    light = 0.6 - 0.3 * ndtr((y - TRUE_Y) / 1.2) * np.exp(-np.maximum(y - TRUE_Y, 0) / 8)
    light += np.random.default_rng(3).normal(0, 0.02, light.shape)
    shown = Picture(rgb=np.repeat((light * 65535).astype(np.uint16)[..., None], 3, axis=2))
    found = seamed(shown, level(0.0), level(2.0).points, reach=12.0, along_px=4.0, stiffness_px=10.0)
    assert float(np.median(found.points[20:-20, 1]) - TRUE_Y) == pytest.approx(0.0, abs=0.3)


def test_seam_that_the_first_guess_is_against_is_left_alone() -> None:
    assert shift(0.0, 0.2, off=4.0, guess=6.0) == pytest.approx(4.0)
