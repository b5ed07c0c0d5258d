"""Truth held against figures worked out by hand and against shapely."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon

from etchbook.simulate import Case, draw_case, true_dimensions
from etchbook.terms import FAMILIES, Family

X, Y = np.array([1.0, 0.0]), np.array([0.0, 1.0])
CASES = [(family, seed) for family in FAMILIES for seed in range(12)]


def flat_fillet() -> Case:
    """A flat 8 x 6 fillet in a square corner, melted in as an 0.5 mm deep box beneath both legs."""
    t1, t2 = 10.0, 8.0
    face = np.linspace([8.0, 0.0], [0.0, 6.0], 200)
    fusion = np.array([[8.0, 0.0], [8.0, -0.5], [4.0, -0.5], [-0.5, -0.5], [-0.5, 3.0], [-0.5, 6.0], [0.0, 6.0]])
    plate = np.array([[-40, 0], [40, 0], [40, -t1], [-40, -t1]], float)
    other = np.array([[-t2, 0], [0, 0], [0, 40], [-t2, 40]], float)
    toes = (np.array([8.0, 0.0]), np.array([0.0, 6.0]))
    return Case(
        family="tee", face=face, fusion=fusion, beside=np.array([1, 1, 1, 1, 2, 2, 2]), haz=np.full(7, 1.0),
        members=(plate, other), root=np.zeros(2),
        lines={
            "surface_1": (toes[0], X, Y), "back_1": (np.array([0, -t1]), X, -Y), "surface_2": (toes[1], Y, X),
            "back_2": (np.array([-t2, 0]), Y, -X), "toe_1": (toes[0], X, Y), "toe_2": (toes[1], Y, X),
        },
    )  # fmt: skip


def test_flat_fillet_by_hand() -> None:
    true = true_dimensions(flat_fillet())
    assert true["leg_1"] == pytest.approx(8.0) and true["leg_2"] == pytest.approx(6.0)
    assert true["theoretical_throat"] == pytest.approx(4.80, abs=1e-9)  # 8 x 6 / 10
    assert true["nominal_throat"] == pytest.approx(4.243, abs=5e-4)  # 6 / sqrt 2, the shorter leg
    assert true["throat"] == pytest.approx(4.80, abs=1e-4)
    assert true["convexity"] == pytest.approx(0.0, abs=1e-9)
    assert true["asymmetry"] == pytest.approx(2.0)
    assert true["thickness_1"] == pytest.approx(10.0) and true["thickness_2"] == pytest.approx(8.0)


def test_flat_fillet_areas_and_depths_by_hand() -> None:
    true = true_dimensions(flat_fillet())
    # Triangle 24; below: 8.5 x 0.5 beneath plate 1, 6 x 0.5 behind plate 2.
    assert true["deposited_area"] == pytest.approx(24.0)
    assert true["fused_plate_area"] == pytest.approx(4.25 + 3.0)
    assert true["dilution"] == pytest.approx(7.25 / 31.25)
    assert true["penetration_1"] == pytest.approx(0.5) and true["penetration_2"] == pytest.approx(0.5)
    assert true["root_penetration"] == pytest.approx(0.5 * np.sqrt(2)) and true["missed_root"] == 0.0
    assert true["deep_throat"] == pytest.approx(6 / np.sqrt(2) + 0.5 * np.sqrt(2), abs=5e-4)


def test_toe_angles_of_a_flat_fillet() -> None:
    true = true_dimensions(flat_fillet())
    assert true["toe_angle_1"] == pytest.approx(180 - np.degrees(np.arctan2(6, 8)), abs=1e-6)
    assert true["toe_angle_2"] == pytest.approx(180 - np.degrees(np.arctan2(8, 6)), abs=1e-6)


def circle_bead(width: float, height: float, depth: float) -> Case:
    """A bead whose face and fusion line are arcs of circles."""

    def arc(rise: float, count: int) -> np.ndarray:
        radius = (width**2 / 4 + rise**2) / (2 * rise)
        half = np.arcsin(min(1.0, width / 2 / radius))
        turn = np.linspace(-half, half, count)
        return np.stack([radius * np.sin(turn), radius * (np.cos(turn) - 1) + rise], axis=1)

    face, fusion = arc(height, 2001), arc(depth, 2001) * [1, -1]
    a, b = face[0], face[-1]
    return Case(
        family="bead", face=face, fusion=fusion, beside=np.ones(2001, int), haz=np.full(2001, 0.8),
        members=(np.array([[-40, 0], [40, 0], [40, -9], [-40, -9]], float),), root=np.zeros(2),
        lines={"surface_1": (a, X, Y), "back_1": (np.array([0, -9.0]), X, -Y), "toe_1": (a, -X, Y), "toe_2": (b, X, Y)},
    )  # fmt: skip


def segment_area(width: float, rise: float) -> float:
    """Circular segment: r²(θ - sin θ)/2."""
    radius = (width**2 / 4 + rise**2) / (2 * rise)
    angle = 2 * np.arcsin(width / 2 / radius)
    return float(radius**2 * (angle - np.sin(angle)) / 2)


def test_bead_of_two_circle_segments() -> None:
    true = true_dimensions(circle_bead(8.0, 2.0, 3.0))
    assert true["weld_width"] == pytest.approx(8.0)
    assert true["excess_weld_metal"] == pytest.approx(2.0, abs=1e-5)
    assert true["penetration_1"] == pytest.approx(3.0, abs=1e-5)
    assert true["deposited_area"] == pytest.approx(segment_area(8, 2), rel=1e-5)
    assert true["fused_plate_area"] == pytest.approx(segment_area(8, 3), rel=1e-5)
    assert true["depth_to_width"] == pytest.approx(5 / 8, abs=1e-5)
    assert true["haz_width_1"] == pytest.approx(0.8, abs=0.01)


@pytest.mark.parametrize(("family", "seed"), CASES)
def test_areas_agree_with_shapely(family: Family, seed: int) -> None:
    case = draw_case(family, seed)
    true, weld = true_dimensions(case), Polygon(case.weld).buffer(0)
    fused = sum(weld.intersection(Polygon(member)).area for member in case.members)
    pores = sum(Polygon(pore).area for pore in case.pores)
    assert true["weld_area"] == pytest.approx(weld.area, rel=2e-4)
    assert true["fused_plate_area"] == pytest.approx(fused, rel=1e-3, abs=1e-3)
    assert true["pore_area_percent"] == pytest.approx(100 * pores / weld.area, rel=1e-3, abs=1e-9)


@pytest.mark.parametrize(("family", "seed"), [(f, s) for f, s in CASES if f not in ("bead",)])
def test_throat_is_the_way_to_the_face(family: Family, seed: int) -> None:
    case = draw_case(family, seed)
    assert true_dimensions(case)["throat"] == pytest.approx(LineString(case.face).distance(Point(case.root)), abs=2e-4)


@pytest.mark.parametrize(("family", "seed"), [(f, s) for f, s in CASES if f in ("tee", "lap", "corner")])
def test_root_is_either_melted_or_missed(family: Family, seed: int) -> None:
    case = draw_case(family, seed)
    true = true_dimensions(case)
    melted = Polygon(case.weld).buffer(0).contains(Point(case.root))
    assert (true["root_penetration"] > 0) == melted and (true["missed_root"] > 0) == (not melted)


@pytest.mark.parametrize("depth", [0.3, 0.5, 0.8])
def test_undercut_asked_for_is_there(depth: float) -> None:
    true = true_dimensions(
        draw_case("tee", 4, leg_1=8, leg_2=8, undercut_1=depth, undercut_2=0, overlap_2=0, depth_1=1.5)
    )
    assert 0.5 * depth < true["undercut_1"] <= 1.05 * depth and true["undercut_2"] == 0.0
    assert true["toe_angle_1"] > 180  # the face goes down into the groove first


def test_overlap_asked_for_is_there() -> None:
    true = true_dimensions(draw_case("tee", 4, overlap_1=0.8, undercut_1=0.0))
    assert true["overlap_1"] == pytest.approx(0.8, abs=0.05) and true["toe_angle_1"] < 120


def test_root_of_a_butt() -> None:
    held = {"thickness_1": 8.0, "thickness_2": 8.0, "misalignment": 0.0, "fused": 1.0}
    proud = true_dimensions(draw_case("butt", 1, root_bead=1.2, **held))
    hollow = true_dimensions(draw_case("butt", 1, root_bead=-0.6, **held))
    open_root = true_dimensions(draw_case("butt", 1, **(held | {"fused": 0.0})))
    assert proud["excess_penetration"] == pytest.approx(1.2, abs=0.01) and proud["root_concavity"] == pytest.approx(
        0, abs=1e-6
    )
    assert hollow["root_concavity"] == pytest.approx(0.6, abs=0.01) and hollow["excess_penetration"] == pytest.approx(
        0, abs=1e-6
    )
    assert open_root.get("root_width") is None


def test_misalignment_of_a_butt() -> None:
    true = true_dimensions(draw_case("butt", 2, thickness_1=8, thickness_2=8, misalignment=0.7))
    assert true["misalignment"] == pytest.approx(0.7)


def test_larger_leg_means_larger_area() -> None:
    held = {"leg_2": 6.0, "bulge": 0.2, "root": 0.5, "undercut_1": 0.0, "overlap_1": 0.0}
    small, large = (true_dimensions(draw_case("tee", 9, leg_1=leg, **held))["weld_area"] for leg in (5.0, 7.0))
    assert large > small


def test_naming_the_members_the_other_way_round_swaps_their_dimensions() -> None:
    from etchbook.simulate.paint import swapped

    case = draw_case("butt", 3, undercut_1=0.4, thickness_1=8, thickness_2=10)
    one, two = true_dimensions(case), true_dimensions(swapped(case))
    for name in ("thickness", "undercut", "penetration", "toe_angle", "haz_width"):
        assert one[f"{name}_1"] == pytest.approx(two[f"{name}_2"], rel=2e-3), name
        assert one[f"{name}_2"] == pytest.approx(two[f"{name}_1"], rel=2e-3), name
    assert one["weld_area"] == pytest.approx(two["weld_area"])


def test_a_missed_root_lacks_what_was_asked_for() -> None:
    true = true_dimensions(draw_case("tee", 6, leg_1=7, leg_2=7, root=-0.8, angle=90, wave=0))
    assert true["missed_root"] == pytest.approx(0.8, abs=0.03) and true["root_penetration"] == 0


def test_haz_width_holds_along_normals() -> None:
    case = replace(circle_bead(6.0, 1.5, 2.0), haz=np.full(2001, 1.3))
    true = true_dimensions(case)
    assert true["haz_width_1"] == pytest.approx(1.3, abs=0.01) and true["haz_width_max"] == pytest.approx(1.3, abs=0.01)
