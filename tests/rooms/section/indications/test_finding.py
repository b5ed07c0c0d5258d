"""Lines laid into plain pictures by hand: found where they lie, measured to what they are."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from etchbook.geometry import Line, LineFit
from etchbook.picture import NoScale, Picture, Scale
from etchbook.quantity import Absent, Measured
from etchbook.section import Boundary, Outline, Regions
from etchbook.section.indications import find_indications

HEIGHT, WIDTH, TOP, BOTTOM = 360, 900, 40, 320
SCALE = Scale(px_per_mm=40.0, u=0.0, origin="given")


def level_line(y: float) -> LineFit:
    return LineFit(line=Line(x=450.0, y=y, heading=0.0), u_shift=0.05, u_turn=1e-4, rms=0.1, used=100)


def plate(rows: dict[int, float], *, start: int = 150, stop: int = 750, noise: float = 0.01, seed: int = 1) -> Picture:
    """A level plate on a dark ground with dark rows of light lost from `start` to `stop`."""
    rng = np.random.default_rng(seed)
    light = np.full((HEIGHT, WIDTH), 0.05)
    light[TOP:BOTTOM] = 0.6
    for row, lost in rows.items():
        light[row, start:stop] *= 1 - lost
    light = gaussian_filter(light, 1.0) + rng.normal(0, noise, light.shape)
    grey = np.clip(light * 65535, 0, 65535).astype(np.uint16)
    return Picture(rgb=np.repeat(grey[..., None], 3, axis=2))


def section() -> tuple[Outline, Regions]:
    """The plate's two faces, and a weld far off that only names its fusion line."""
    weld = np.array([[860.0, 39.5], [890.0, 39.5], [890.0, 60.0], [860.0, 60.0]])
    fusion = np.array([[860.0, 39.5], [860.0, 60.0], [890.0, 60.0]])
    labels = np.zeros((HEIGHT, WIDTH), np.uint8)
    labels[TOP:BOTTOM] = 1
    labels[TOP:60, 860:890] = 3
    part = Boundary(name="fusion_line_1", points=fusion, sd=np.full(3, 0.3), confidence=1.0)
    lines = {"surface_1": level_line(TOP - 0.5), "back_1": level_line(BOTTOM - 0.5)}
    outline = Outline(boundaries={"fusion_line_1": part}, landmarks={}, lines=lines, weld=(weld,))
    return outline, Regions(labels=labels, factor=1.0)


def value(quantity: object) -> float:
    assert isinstance(quantity, Measured)
    return quantity.value


def test_a_line_is_found_where_it_was_laid() -> None:
    found = find_indications(plate({180: 0.5, 181: 0.5, 182: 0.5}), *section(), "bead", SCALE)
    assert len(found) == 1
    line = found[0]
    assert line.name == "a" and line.kind == "line" and line.where == "member_1"
    # Rows 180 to 182 have their middle at 181; the faces lie at 39.5 and 319.5.
    assert value(line.depth_fraction) == pytest.approx((181 - 39.5) / 280, abs=5e-4)
    assert value(line.length) == pytest.approx(600 / 40, abs=0.1)
    assert value(line.width) == pytest.approx(3 / 40, rel=0.1)
    assert value(line.angle_to_surface) < 0.1 and value(line.straightness) < 0.01
    assert value(line.continuity) > 0.95 and len(line.pieces) == 1
    assert line.meets.fusion == "does not reach"
    # From its right end (750, 181) the nearest fusion point is (860, 60).
    assert value(line.fusion_distance) == pytest.approx(np.hypot(110, 121) / 40, abs=0.1)


def test_a_faint_streak_of_one_pixel_is_found_over_its_length() -> None:
    # Behind the blur it is 0.2 x 0.4 = 8 % dark at its middle: 1.6 times the noise of a pixel.
    found = find_indications(plate({200: 0.2}, noise=0.03), *section(), "bead", SCALE)
    assert [one.where for one in found] == ["member_1"]
    assert isinstance(found[0].width_limit, Measured) and found[0].width_limit.value >= 1 / 40


@pytest.mark.parametrize("seed", range(5))
def test_a_clean_plate_gives_none(seed: int) -> None:
    assert find_indications(plate({}, noise=0.02, seed=seed), *section(), "bead", SCALE) == ()


def test_without_a_scale_shares_stay_and_lengths_are_absent() -> None:
    found = find_indications(plate({180: 0.5, 181: 0.5}), *section(), "bead", NoScale(reason="none was given"))
    assert len(found) == 1 and isinstance(found[0].length, Absent) and isinstance(found[0].width, Absent)
    assert value(found[0].depth_fraction) == pytest.approx((180.5 - 39.5) / 280, abs=1e-3)


def test_parallel_lines_are_told_as_one_family() -> None:
    rows = {row + k: 0.35 for row in (120, 140, 160, 180, 200) for k in (0, 1)}
    found = find_indications(plate(rows), *section(), "bead", SCALE)
    assert len(found) == 1 and found[0].kind == "family" and found[0].count == 5
    assert value(found[0].spacing) == pytest.approx(20 / 40, abs=0.01)


def test_no_outline_no_indication() -> None:
    bare = Outline(boundaries={}, landmarks={}, lines={})
    assert find_indications(plate({180: 0.5}), bare, section()[1], "bead", SCALE) == ()
