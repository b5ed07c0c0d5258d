"""What the outline gets wrong or cannot know: faces that are lines, seams on part of the fusion line, broken lines."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from etchbook.geometry import Line, LineFit
from etchbook.picture import Picture, Scale
from etchbook.quantity import Measured
from etchbook.section import Boundary, Outline, Regions
from etchbook.section.indications import find_indications
from etchbook.section.indications.ridges import Ridge, linked

HEIGHT, WIDTH, TOP, BOTTOM, FUSION = 360, 900, 40, 320, 450
SCALE = Scale(px_per_mm=40.0, u=0.0, origin="given")


def level_line(y: float) -> LineFit:
    return LineFit(line=Line(x=450.0, y=y, heading=0.0), u_shift=0.05, u_turn=1e-4, rms=0.1, used=100)


def picture(light: np.ndarray, seed: int = 3) -> Picture:
    rng = np.random.default_rng(seed)
    noisy = gaussian_filter(light, 1.0) + rng.normal(0, 0.01, light.shape)
    grey = np.clip(noisy * 65535, 0, 65535).astype(np.uint16)
    return Picture(rgb=np.repeat(grey[..., None], 3, axis=2))


def plate() -> np.ndarray:
    light = np.full((HEIGHT, WIDTH), 0.05)
    light[TOP:BOTTOM] = 0.6
    return light


def labels() -> np.ndarray:
    found = np.zeros((HEIGHT, WIDTH), np.uint8)
    found[TOP:BOTTOM] = 1
    return found


def part(name: str, points: np.ndarray) -> Boundary:
    return Boundary(name=name, points=points, sd=np.full(len(points), 0.3), confidence=1.0)


def test_a_line_that_was_taken_for_the_far_face_is_found_and_its_depth_told_from_the_true_one() -> None:
    light = plate()
    light[199:202, 100:800] *= 0.5
    weld = np.array([[860.0, 39.5], [890.0, 39.5], [890.0, 60.0], [860.0, 60.0]])
    regions = labels()
    regions[TOP:60, 860:890] = 3
    outline = Outline(
        boundaries={"fusion_line_1": part("fusion_line_1", weld[[0, 3, 2]])}, landmarks={}, weld=(weld,),
        lines={"surface_1": level_line(TOP - 0.5), "back_1": level_line(200.0)},
    )  # fmt: skip
    found = find_indications(picture(light), outline, Regions(labels=regions, factor=1.0), "bead", SCALE)
    assert [one.where for one in found] == ["member_1"]
    assert np.median(found[0].points[:, 1]) == pytest.approx(200, abs=0.3)
    depth = found[0].depth_fraction
    assert isinstance(depth, Measured) and depth.value == pytest.approx((200 - 39.5) / 280, abs=3e-3)


def welded(lost: float, rows: slice) -> tuple[Picture, Outline, Regions]:
    """Weld metal left of an upright fusion line, plate right of it, light lost on some rows of the line itself."""
    light = plate()
    light[TOP:BOTTOM, :FUSION] = 0.5
    # The seam that every etched fusion line shows.
    light[TOP:BOTTOM, FUSION - 1 : FUSION + 1] *= 0.9
    light[rows, FUSION - 2 : FUSION + 2] *= 1 - lost
    regions = labels()
    regions[TOP:BOTTOM, :FUSION] = 3
    chain = np.stack([np.full(281, FUSION - 0.5), np.arange(TOP, BOTTOM + 1) - 0.5], axis=1)
    weld = np.array([[0.0, 39.5], [449.5, 39.5], [449.5, 319.5], [0.0, 319.5]])
    lines = {"surface_1": level_line(TOP - 0.5), "back_1": level_line(BOTTOM - 0.5)}
    outline = Outline(
        boundaries={"fusion_line_1": part("fusion_line_1", chain)}, landmarks={}, lines=lines, weld=(weld,)
    )
    return picture(light), outline, Regions(labels=regions, factor=1.0)


def test_a_part_of_the_fusion_line_that_is_darker_than_the_rest_is_told() -> None:
    photo, outline, regions = welded(0.6, slice(120, 220))
    found = [one for one in find_indications(photo, outline, regions, "butt", SCALE) if one.kind == "line"]
    assert [one.where for one in found] == ["fusion_line_1"]
    length = found[0].length
    assert isinstance(length, Measured) and length.value == pytest.approx(100 / 40, abs=0.2)
    assert found[0].meets.along_fusion > 0.9


def test_the_seam_of_a_sound_fusion_line_is_none() -> None:
    photo, outline, regions = welded(0.0, slice(0, 0))
    assert find_indications(photo, outline, regions, "butt", SCALE) == ()


def ridge(first: float, last: float, y: float, *, sign: int = 1) -> Ridge:
    x = np.arange(first, last)
    points = np.stack([x, np.full(len(x), y)], axis=1)
    return Ridge(
        points=points, weight=np.ones(len(x)), middle=points.mean(axis=0), way=np.array([1.0, 0.0]),
        length=last - first, breadth=0.5, mean=8.0, sign=sign, weld=0.0,
    )  # fmt: skip


def test_pieces_of_one_line_are_joined_and_neighbours_are_not() -> None:
    joined = linked([ridge(0, 60, 10), ridge(90, 160, 10.5), ridge(0, 60, 30), ridge(90, 160, 10, sign=-1)])
    assert sorted(len(one.points) for one in joined) == [60, 70, 130]
    far = linked([ridge(0, 60, 10), ridge(400, 460, 10)])
    assert len(far) == 2


def test_depth_is_told_from_the_faces_beside_the_line_where_the_outline_is_off() -> None:
    light = plate()
    light[199:202, 100:400] *= 0.5
    weld = np.array([[860.0, 39.5], [890.0, 39.5], [890.0, 60.0], [860.0, 60.0]])
    regions = labels()
    regions[TOP:60, 860:890] = 3
    outline = Outline(
        boundaries={"fusion_line_1": part("fusion_line_1", weld[[0, 3, 2]])}, landmarks={}, weld=(weld,),
        lines={"surface_1": level_line(TOP + 4.5), "back_1": level_line(BOTTOM - 5.5)},
    )  # fmt: skip
    found = find_indications(picture(light), outline, Regions(labels=regions, factor=1.0), "bead", SCALE)
    depth = found[0].depth_fraction
    assert isinstance(depth, Measured) and depth.value == pytest.approx((200 - 39.5) / 280, abs=2e-3)


def test_a_line_is_found_along_the_rim_where_the_outline_knows_no_face() -> None:
    light = plate()
    light[199:202, 100:700] *= 0.6
    outline = Outline(boundaries={}, landmarks={}, lines={}, weld=(np.array([[860.0, 50], [890, 50], [890, 60]]),))
    found = find_indications(picture(light), outline, Regions(labels=labels(), factor=1.0), "bead", SCALE)
    assert [round(float(np.median(one.points[:, 1]))) for one in found] == [200]


def test_a_step_from_dark_metal_to_light_is_no_line() -> None:
    light = plate()
    light[200:320] = 0.45
    weld = np.array([[860.0, 39.5], [890.0, 39.5], [890.0, 60.0], [860.0, 60.0]])
    outline = Outline(
        boundaries={"fusion_line_1": part("fusion_line_1", weld[[0, 3, 2]])}, landmarks={}, weld=(weld,),
        lines={"surface_1": level_line(TOP - 0.5), "back_1": level_line(BOTTOM - 0.5)},
    )  # fmt: skip
    assert find_indications(picture(light), outline, Regions(labels=labels(), factor=1.0), "bead", SCALE) == ()
