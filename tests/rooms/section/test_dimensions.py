"""Dimensions of shapes small enough to be worked out by hand."""

import math

import numpy as np
import pytest

from etchbook.geometry import Line
from etchbook.section.dimensions import values
from etchbook.section.shape import Shape

UP, RIGHT = np.array([0.0, 1.0]), np.array([1.0, 0.0])


def chain(*points: tuple[float, float]) -> np.ndarray:
    corners = np.array(points, float)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(corners, axis=0).T))])
    at = np.linspace(0, run[-1], 401)
    return np.stack([np.interp(at, run, corners[:, 0]), np.interp(at, run, corners[:, 1])], axis=1)


def line(x: float, y: float, degrees: float) -> Line:
    return Line(x=x, y=y, heading=math.radians(degrees))


def flat_tee(leg_1: float = 60.0, leg_2: float = 80.0, depth: float = 10.0) -> Shape:
    """A flat fillet, melted to `depth` square below both plates, with a HAZ edge 5 further in."""
    fusion = chain((leg_1, 0), (leg_1, -depth), (-depth, -depth), (-depth, leg_2), (0, leg_2))
    return Shape(
        family="tee",
        face=chain((leg_1, 0), (0, leg_2)),
        fusion=fusion,
        beside=np.where(fusion[:, 1] > 0, 2, 1),
        toes=np.array([[leg_1, 0.0], [0.0, leg_2]]),
        root=np.zeros(2),
        lines={
            "surface_1": line(0, 0, 0),
            "surface_2": line(0, 0, 90),
            "back_1": line(0, -100, 0),
            "back_2": line(-70, 0, 90),
        },
        outward={"1": UP, "2": RIGHT},
        haz={"1": chain((leg_1, -depth - 5), (-depth, -depth - 5))},
        rims={"1": chain((leg_1, 0), (leg_1 + 50, 0)), "2": chain((0, leg_2), (0, leg_2 + 50))},
        pore_area=0.0,
    )


def test_a_flat_fillet_is_measured_as_its_drawing_says() -> None:
    found = values(flat_tee(), "tee")
    expected = {
        "leg_1": 60.0,
        "leg_2": 80.0,
        "asymmetry": 20.0,
        "theoretical_throat": 48.0,  # 60 x 80 / 100, check vector 50 of the standards note
        "throat": 48.0,
        "nominal_throat": 60 / math.sqrt(2),  # inscribed isosceles triangle: shorter leg over root two
        "convexity": 0.0,
        "thickness_1": 100.0,
        "thickness_2": 70.0,
        "penetration_1": 10.0,
        "penetration_2": 10.0,
        "root_penetration": 10 * math.sqrt(2),
        "missed_root": 0.0,
        "undercut_1": 0.0,
        "overlap_1": 0.0,
        "toe_angle_1": 180 - math.degrees(math.atan2(80, 60)),
        "toe_angle_2": 180 - math.degrees(math.atan2(60, 80)),
        "deposited_area": 2400.0,
        "fused_plate_area": 60 * 10 + 80 * 10 + 100,
        "weld_area": 2400 + 1500,
        "dilution": 1500 / 3900,
    }
    for name, value in expected.items():
        assert found[name] == pytest.approx(value, abs=0.6 if "area" not in name else 12), name


def test_a_root_that_was_missed_is_told_by_how_much() -> None:
    shape = flat_tee()
    fusion = chain((60, 0), (10, 0), (0, 10), (0, 80))
    missed = Shape(
        family="tee", face=shape.face, fusion=fusion, beside=np.where(fusion[:, 1] > 5, 2, 1), toes=shape.toes,
        root=shape.root, lines=shape.lines, outward=shape.outward, haz={}, rims=shape.rims,
    )  # fmt: skip
    found = values(missed, "tee")
    assert found["root_penetration"] == 0.0
    assert found["missed_root"] == pytest.approx(10 / math.sqrt(2), abs=0.1)
    assert isinstance(found["haz_width_1"], str)


def test_a_half_round_bead_has_the_area_of_half_a_circle_and_no_dilution() -> None:
    angle = np.linspace(math.pi, 0, 400)
    face = 50 * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    fusion = chain((-50, 0), (50, 0))
    bead = Shape(
        family="bead", face=face, fusion=fusion, beside=np.ones(len(fusion), int), toes=np.array([[-50.0, 0], [50, 0]]),
        root=None, lines={"surface_1": line(0, 0, 0), "back_1": line(0, -80, 0)}, outward={"1": UP}, haz={},
        rims={}, pore_area=100.0,
    )  # fmt: skip
    found = values(bead, "bead")
    assert found["weld_area"] == pytest.approx(math.pi * 2500 / 2, rel=1e-3)
    assert found["dilution"] == pytest.approx(0.0, abs=1e-9)
    assert found["weld_width"] == pytest.approx(100.0)
    assert found["excess_weld_metal"] == pytest.approx(50.0, abs=0.01)
    assert found["depth_to_width"] == pytest.approx(0.5, abs=0.01)
    assert found["pore_area_percent"] == pytest.approx(100 * 100 / (math.pi * 1250), rel=1e-3)
    assert found["toe_angle_1"] == pytest.approx(90.0, abs=4.0)


def test_a_square_butt_with_a_sagging_root() -> None:
    face = chain((-40, 100), (0, 110), (40, 100))
    root = chain((-20, 0), (0, -8), (20, 0))
    fusion = np.concatenate([chain((-40, 100), (-20, 0)), root, chain((20, 0), (40, 100))])
    beside = np.repeat([1, 0, 2], 401)
    butt = Shape(
        family="butt", face=face, fusion=fusion, beside=beside,
        toes=np.array([[-40.0, 100], [40, 100]]), root=np.zeros(2),
        lines={
            "surface_1": line(-60, 100, 0), "surface_2": line(60, 97, 0),
            "back_1": line(-60, 0, 0), "back_2": line(60, 0, 0),
        },
        outward={"1": UP, "2": UP}, haz={}, rims={}, root_toes=np.array([[-20.0, 0], [20, 0]]), root_face=root,
    )  # fmt: skip
    found = values(butt, "butt")
    assert found["excess_weld_metal"] == pytest.approx(10.0, abs=0.1)
    assert found["weld_width"] == pytest.approx(80.0)
    assert found["root_width"] == pytest.approx(40.0)
    assert found["excess_penetration"] == pytest.approx(8.0, abs=0.1)
    assert found["misalignment"] == pytest.approx(3.0)
    assert found["root_concavity"] == pytest.approx(0.0, abs=0.1)
    assert isinstance(found["dilution"], str)


def test_undercut_is_the_depth_below_the_plate_surface_line() -> None:
    shape = flat_tee()
    rim = chain((60, -4), (66, -4), (70, 0), (110, 0))
    cut = Shape(
        family="tee", face=chain((60, -4), (55, 6), (0, 80)), fusion=shape.fusion, beside=shape.beside, toes=shape.toes,
        root=shape.root, lines=shape.lines, outward=shape.outward, haz={}, rims={"1": rim},
    )  # fmt: skip
    assert values(cut, "tee")["undercut_1"] == pytest.approx(4.0)
