"""Painted pictures: the same every time, and their regions agree with their truth."""

import json
import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from etchbook.simulate import NORTHMOOR, draw_case, paint, paint_piece, paint_section, true_dimensions, truth_document
from etchbook.simulate.placing import Placing
from etchbook.simulate.raster import cover_of, enlarged
from etchbook.terms import FAMILIES, Family, dimensions_of

CENTRED = {"width": 480, "height": 360}


def upright(case, scale: float, mirror: int = 1, turn: float = 0.0) -> Placing:  # type: ignore[no-untyped-def]
    return Placing(
        px_per_mm=scale,
        turn=turn,
        mirror=mirror,
        centre=case.weld.mean(axis=0),
        at=np.array([240.0, 180.0]),
        tilt=np.zeros(2),
    )


@pytest.mark.parametrize("family", FAMILIES)
def test_same_arguments_same_bytes(family: Family) -> None:
    one, two = (paint_section(family, 5, width=256, height=192, difficulty="hard") for _ in range(2))
    assert np.array_equal(one.picture.rgb, two.picture.rgb) and np.array_equal(one.labels, two.labels)
    assert json.dumps(truth_document(one)) == json.dumps(truth_document(two))
    other = paint_section(family, 6, width=256, height=192, difficulty="hard")
    assert not np.array_equal(one.picture.rgb, other.picture.rgb)


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_counted_pixels_agree_with_the_true_area(family: Family, seed: int) -> None:
    case = draw_case(family, seed)
    scale = 200 / float(np.ptp(case.weld, axis=0).max())
    painted = paint(case, seed=seed, placing=upright(case, scale, turn=0.3), **CENTRED)
    counted = float((painted.labels == 3).sum()) / scale**2
    # Half the border's pixels may fall either way at random: far below a percent for a weld of 200 px.
    other = 0.0 if case.second is None else Polygon(case.second.weld).area
    if other == 0.0:
        assert counted == pytest.approx(painted.truth.dimensions["weld_area"], rel=0.01)
    assert painted.truth.px_per_mm == pytest.approx(scale, rel=1e-6)


@pytest.mark.parametrize("family", FAMILIES)
def test_every_dimension_has_an_entry(family: Family) -> None:
    truth = paint_section(family, 1, width=200, height=160).truth
    assert list(truth.dimensions) == [term.id for term in dimensions_of(family)]
    numbers = [value for value in truth.dimensions.values() if value is not None]
    assert all(math.isfinite(value) for value in numbers) and len(numbers) >= 0.8 * len(truth.dimensions)


@pytest.mark.parametrize("family", ["tee", "lap"])
def test_a_mirrored_section_has_the_same_truth(family: Family) -> None:
    case = draw_case(family, 8)
    here, there = (paint(case, seed=8, placing=upright(case, 18.0, mirror), **CENTRED).truth for mirror in (1, -1))
    assert here.dimensions == there.dimensions
    assert here.landmarks["toe_1"][0] + there.landmarks["toe_1"][0] == pytest.approx(480.0)


@pytest.mark.parametrize("family", ["butt", "bead"])
@pytest.mark.parametrize("mirror", [-1, 1])
def test_toe_1_is_on_the_left_as_displayed(family: Family, mirror: int) -> None:
    case = draw_case(family, 4)
    truth = paint(case, seed=4, placing=upright(case, 15.0, mirror), **CENTRED).truth
    assert truth.landmarks["toe_1"][0] < truth.landmarks["toe_2"][0]


def test_member_1_of_a_corner_is_the_flatter_one() -> None:
    case = draw_case("corner", 4, thickness_1=5, thickness_2=8)
    lying = paint(case, seed=4, placing=upright(case, 12.0), **CENTRED).truth
    turned = paint(case, seed=4, placing=upright(case, 12.0, turn=np.pi / 2), **CENTRED).truth
    assert lying.dimensions["thickness_1"] == pytest.approx(5) and turned.dimensions["thickness_1"] == pytest.approx(8)


@pytest.mark.parametrize("family", FAMILIES)
def test_labels_and_members_belong_together(family: Family) -> None:
    painted = paint_section(family, 11, width=320, height=240)
    assert set(np.unique(painted.labels)) <= {0, 1, 2, 3}
    assert np.array_equal(painted.labels == 0, painted.members == 0)
    assert np.array_equal(painted.labels == 3, painted.members == 3)
    assert painted.labels.shape == (240, 320) and painted.picture.rgb.shape == (240, 320, 3)


@pytest.mark.parametrize("family", FAMILIES)
def test_landmarks_lie_at_the_weld(family: Family) -> None:
    case = draw_case(family, 21)
    painted = paint(case, seed=21, placing=upright(case, 14.0), **CENTRED)
    weld = painted.labels == 3
    rows, columns = np.nonzero(weld)
    for name in ("toe_1", "toe_2"):
        x, y = painted.truth.landmarks[name]
        # A toe that runs out thinner than a pixel leaves its last few pixels without a label.
        assert np.hypot(columns - x, rows - y).min() < 5, name


def test_haz_labels_end_where_the_truth_says() -> None:
    case = draw_case("bead", 2, haz=1.0, thickness_1=12)
    painted = paint(case, seed=2, placing=upright(case, 20.0), **CENTRED)
    haz = painted.labels == 2
    edge = np.concatenate([chain for name, chain in painted.truth.polylines.items() if name.startswith("haz_edge")])
    inside = edge[(edge > 3).all(axis=1) & (edge[:, 0] < 476) & (edge[:, 1] < 356)]
    for x, y in inside[::25]:
        patch = haz[round(y) - 2 : round(y) + 3, round(x) - 2 : round(x) + 3]
        assert patch.any() and not patch.all()


def test_tilt_is_in_the_truth() -> None:
    case = draw_case("tee", 3)
    placing = Placing(
        px_per_mm=15.0,
        turn=0.2,
        mirror=1,
        centre=case.weld.mean(axis=0),
        at=np.array([240.0, 180.0]),
        tilt=np.array([2e-4, -1e-4]),
    )
    points = np.array([[0.0, 0.0], [3.0, -2.0], [-4.0, 5.0]])
    assert placing.mm(placing.px(points)) == pytest.approx(points, abs=1e-9)
    truth = paint(case, seed=3, placing=placing, **CENTRED).truth
    assert truth.landmarks["joint_root"] == pytest.approx(placing.px(np.zeros((1, 2)))[0])
    assert truth.dimensions == {
        **truth.dimensions,
        **{k: v for k, v in true_dimensions(case).items() if k in truth.dimensions},
    }


def test_cover_of_a_polygon_is_exact() -> None:
    square = np.array([[1.25, 2.0], [5.0, 2.0], [5.0, 6.5], [1.25, 6.5]])
    cover = cover_of(square, 8, 10)
    assert float(cover.sum()) == pytest.approx(3.75 * 4.5, abs=1e-5)
    assert cover[4, 1] == pytest.approx(0.25) and cover[4, 3] == 1.0  # pixel 1 reaches from 0.5 to 1.5
    rng = np.random.default_rng(1)
    turn = np.sort(rng.uniform(0, 2 * np.pi, 40))
    star = 30 + rng.uniform(8, 25, 40)[:, None] * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    assert float(cover_of(star, 64, 64).sum()) == pytest.approx(Polygon(star).area, rel=1e-5)


def test_cover_is_cut_at_the_border() -> None:
    wide = np.array([[-50.0, -50.0], [200.0, -50.0], [200.0, 3.0], [-50.0, 3.0]])
    cover = cover_of(wide, 10, 8)
    assert np.allclose(cover[:3], 1) and np.allclose(cover[3], 0.5) and np.allclose(cover[4:], 0)


def test_a_coarse_field_comes_back_in_register() -> None:
    y, x = np.mgrid[0:12, 0:15] * 4.0
    grown = enlarged((2 * x - y).astype(np.float32), (40, 50), 4.0)
    rows, columns = np.mgrid[0:40, 0:50]
    assert np.abs(grown - (2 * columns - rows))[4:, 4:].max() < 1e-3


def test_the_demo_tells_its_story() -> None:
    assert len(NORTHMOOR) >= 4 and len({piece.name for piece in NORTHMOOR}) == len(NORTHMOOR)
    true = {piece.name: true_dimensions(draw_case("tee", piece.seed, **piece.sizes)) for piece in NORTHMOOR}
    assert true["N1-A-02"]["missed_root"] > 0.5 and true["N1-A-02"]["undercut_2"] > 0.3
    for a in ("N2-A-01", "N2-A-02"):
        for b in ("N2-B-01", "N2-B-02"):
            assert (
                true[a]["penetration_1"] > 1.5 * true[b]["penetration_1"]
                and true[a]["convexity"] < true[b]["convexity"]
            )
    small = paint_piece(NORTHMOOR[0], width=400, height=300)
    assert small.truth.px_per_mm == pytest.approx(16.0) and small.truth.dimensions["thickness_1"] == pytest.approx(8.0)


def test_an_unknown_difficulty_is_refused() -> None:
    with pytest.raises(ValueError, match="difficulty"):
        paint_section("tee", 1, width=200, height=160, difficulty="easy")  # type: ignore[arg-type]
