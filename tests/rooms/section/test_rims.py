"""The metal's rim on drawn shapes: walking away from the weld, straight runs, the far side."""

import numpy as np
import pytest

from etchbook.geometry import Line, fit_line
from etchbook.section.guess import Guess
from etchbook.section.rims import far_side, parallel_cluster, rim_rings, straight_run, walk_from

TOP, BOTTOM = 60, 110


def plate() -> Guess:
    """A plate across the whole window, its metal in rows 60 to 109."""
    share = np.zeros((6, 192, 256), np.float32)
    share[0] = 1.0
    share[0, TOP:BOTTOM], share[1, TOP:BOTTOM] = 0.0, 1.0
    heat = np.zeros((4, 192, 256), np.float32)
    return Guess(share=share, heat=heat, joint={"bead": 1.0}, left=0.0, top=0.0, factor=1.0)


def test_the_rim_runs_between_the_last_row_of_air_and_the_first_of_metal() -> None:
    levels = sorted(float(np.median(ring[:, 1])) for ring in rim_rings(plate()))
    assert levels == pytest.approx([TOP - 0.5, BOTTOM - 0.5], abs=0.05)


@pytest.mark.parametrize("away", [-1, 1])
def test_the_walk_leads_away_from_the_weld_face(away: int) -> None:
    toe = np.array([128.0, TOP - 0.5])
    walk = walk_from(rim_rings(plate()), toe, toe - (20.0 * away, 15.0))
    assert len(walk) > 100
    assert np.all(np.diff(walk[:, 0]) * away > 0)
    assert np.hypot(*(walk[0] - toe)) < 1.0


def test_without_a_rim_there_is_no_walk() -> None:
    assert len(walk_from([], np.zeros(2), np.ones(2))) == 0


def test_a_straight_run_ends_where_the_rim_bends() -> None:
    flat = np.stack([np.arange(80.0), np.zeros(80)], axis=1)
    bent = np.stack([79 + 0.7 * np.arange(1, 60.0), 0.7 * np.arange(1, 60.0)], axis=1)
    run = straight_run(np.concatenate([flat, bent]))
    assert 60 <= len(run) <= 84
    assert abs(np.degrees(fit_line(run, 0.5).line.heading) + 90) % 180 - 90 == pytest.approx(0.0, abs=1.5)


def test_rays_into_the_plate_leave_it_at_its_far_side() -> None:
    run = np.stack([np.arange(40.0, 200.0), np.full(160, TOP - 0.5)], axis=1)
    found = far_side(plate(), run, np.array([0.0, 1.0]))
    assert len(found) > 60
    np.testing.assert_allclose(found[:, 1], BOTTOM - 0.5, atol=0.6)


def test_a_plate_that_leaves_the_picture_has_no_far_side() -> None:
    run = np.stack([np.arange(40.0, 200.0), np.full(160, TOP - 0.5)], axis=1)
    guess = plate()
    guess.share[0, TOP:], guess.share[1, TOP:] = 0.0, 1.0
    assert len(far_side(guess, run, np.array([0.0, 1.0]))) == 0


def test_the_largest_group_at_one_distance_is_kept() -> None:
    near = np.stack([np.arange(10.0), np.full(10, 20.0)], axis=1)
    far = np.stack([np.arange(30.0), np.full(30, 50.0)], axis=1)
    kept = parallel_cluster(np.concatenate([near, far]), Line(x=0.0, y=0.0, heading=0.0))
    np.testing.assert_array_equal(kept, far)
