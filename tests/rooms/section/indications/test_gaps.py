"""The gap between two plates, laid in by hand: never told, while a line as dark in the plate beside it is."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from etchbook.geometry import Line, LineFit
from etchbook.picture import Picture, Scale
from etchbook.section import Boundary, Outline, Regions
from etchbook.section.indications import find_indications
from etchbook.terms import Family

HEIGHT, WIDTH, TOP, JOINT, BOTTOM, FUSION, END = 420, 900, 40, 200, 380, 640, 120
"""Two plates on each other, TOP to JOINT and JOINT to BOTTOM; the upper one begins at END, the weld at FUSION."""
SCALE = Scale(px_per_mm=40.0, u=0.0, origin="given")


def level_line(y: float, heading: float = 0.0) -> LineFit:
    return LineFit(line=Line(x=450.0, y=y, heading=heading), u_shift=0.05, u_turn=1e-4, rms=0.1, used=100)


def picture(gap: int, *, lamination: bool = False, seed: int = 2) -> Picture:
    light = np.full((HEIGHT, WIDTH), 0.05)
    light[TOP:JOINT, END:] = 0.6
    light[JOINT:BOTTOM] = 0.6
    light[JOINT - gap : JOINT, END:FUSION] = 0.05
    light[TOP:300, FUSION:] = 0.75
    if lamination:
        light[320:323, 60:600] *= 0.3
    light = gaussian_filter(light, 1.0) + np.random.default_rng(seed).normal(0, 0.01, light.shape)
    grey = np.clip(light * 65535, 0, 65535).astype(np.uint16)
    return Picture(rgb=np.repeat(grey[..., None], 3, axis=2))


def section(family: Family, *, off: float = 0.0, turned: float = 0.0) -> tuple[Outline, Regions]:
    labels = np.zeros((HEIGHT, WIDTH), np.uint8)
    labels[TOP:JOINT, END:] = 1
    labels[JOINT:BOTTOM] = 1
    labels[TOP:300, FUSION:] = 3
    weld = np.array([[FUSION, TOP], [WIDTH - 1.0, TOP], [WIDTH - 1.0, 300.0], [FUSION, 300.0]])
    fusion = np.array([[FUSION, float(y)] for y in range(TOP, 301)])
    part = Boundary(name="fusion_line_1", points=fusion, sd=np.full(len(fusion), 0.3), confidence=1.0)
    lines = {
        "surface_1": level_line(JOINT - 0.5 + off, turned), "back_1": level_line(BOTTOM - 0.5),
        "top_2": level_line(TOP - 0.5), "back_2": level_line(JOINT - 0.5 + off, turned),
    }  # fmt: skip
    outline = Outline(boundaries={"fusion_line_1": part}, landmarks={}, lines=lines, weld=(weld,))
    return outline, Regions(labels=labels, factor=1.0)


def rows(found: tuple[object, ...]) -> list[float]:
    return [float(np.median(one.points[:, 1])) for one in found if one.kind != "blob"]  # type: ignore[attr-defined]


@pytest.mark.parametrize("gap", [2, 4, 8])
@pytest.mark.parametrize(("off", "turned"), [(0.0, 0.0), (6.0, 0.0), (-8.0, 0.012), (12.0, -0.02)])
def test_a_gap_between_lapped_plates_is_never_told_however_the_outline_lies(
    gap: int, off: float, turned: float
) -> None:
    assert rows(find_indications(picture(gap), *section("lap", off=off, turned=turned), "lap", SCALE)) == []


@pytest.mark.parametrize("gap", [2, 4, 8])
def test_a_line_as_dark_in_the_plate_beneath_is_told_beside_the_gap(gap: int) -> None:
    found = rows(find_indications(picture(gap, lamination=True), *section("lap"), "lap", SCALE))
    assert found == [pytest.approx(321, abs=0.5)]


def test_where_plates_meet_goes_on_as_a_face_even_where_no_face_was_traced() -> None:
    outline, regions = section("lap", off=400.0)
    lines = {"surface_1": level_line(JOINT + 140.0, 0.6)}
    lost = Outline(boundaries=outline.boundaries, landmarks={}, lines=lines, weld=outline.weld)
    assert rows(find_indications(picture(3), lost, regions, "lap", SCALE)) == []
