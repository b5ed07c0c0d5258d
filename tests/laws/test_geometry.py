"""Laws of plane geometry: what turning, mirroring, moving and scaling may and may not change."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from etchbook.geometry import (
    Line,
    arc_length,
    area,
    clip_half_plane,
    contains,
    crossing,
    distances_to_polyline,
    fit_line,
    hausdorff_mean,
    largest_isosceles_height,
    rasterise,
    resample,
)
from etchbook.geometry.lines import Points

seeds = st.integers(0, 10_000)
turns = st.floats(-math.pi, math.pi)
scales = st.floats(0.05, 50)
shifts = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


def star(seed: int) -> Points:
    generator = np.random.default_rng(seed)
    turn = np.sort(generator.uniform(0, 2 * np.pi, 15))
    return (generator.uniform(4, 30, 15) * np.array([np.cos(turn), np.sin(turn)])).T


def walk(seed: int) -> Points:
    return np.cumsum(np.random.default_rng(seed).normal(0, 1, (20, 2)), axis=0)


def turned(points: Points, turn: float) -> Points:
    matrix = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return np.asarray(points @ matrix.T)


@given(seeds, turns, scales, shifts)
def test_area_turns_moves_and_scales(seed: int, turn: float, scale: float, shift: tuple[float, float]) -> None:
    moved = scale * turned(star(seed), turn) + np.array(shift)
    assert area(moved) == pytest.approx(scale**2 * area(star(seed)), rel=1e-7)
    assert area(moved * [-1, 1]) == pytest.approx(scale**2 * area(star(seed)), rel=1e-7)


@given(seeds, turns, st.floats(-20, 20))
def test_the_two_sides_of_a_cut_make_the_whole(seed: int, turn: float, across: float) -> None:
    line = Line(x=-across * math.sin(turn), y=across * math.cos(turn), heading=turn)
    other = Line(x=line.x, y=line.y, heading=turn + math.pi)
    parts = [clip_half_plane(star(seed), side) for side in (line, other)]
    assert sum(area(part) for part in parts if len(part)) == pytest.approx(area(star(seed)), rel=1e-7)


@given(seeds, turns, shifts)
def test_inside_stays_inside(seed: int, turn: float, shift: tuple[float, float]) -> None:
    points = np.random.default_rng(seed + 1).uniform(-30, 30, (50, 2))
    edge = distances_to_polyline(points, np.vstack([star(seed), star(seed)[:1]]))
    points = points[edge > 1e-6]
    before = contains(star(seed), points)
    after = contains(turned(star(seed), turn) + np.array(shift), turned(points, turn) + np.array(shift))
    assert np.array_equal(before, after)


@given(seeds)
@settings(max_examples=40)
def test_counted_pixels_come_near_the_area(seed: int) -> None:
    polygon = star(seed) * 4 + 130
    ring = arc_length(np.vstack([polygon, polygon[:1]]))[-1]
    # Counting errs by less than one pixel for each pixel of the outline, nearly always by far less.
    assert abs(rasterise(polygon, (260, 260)).sum() - area(polygon)) < ring


@given(seeds, turns, scales)
def test_a_fit_turns_with_its_points(seed: int, turn: float, scale: float) -> None:
    generator = np.random.default_rng(seed)
    points = np.stack([np.linspace(0, 50, 40), generator.normal(0, 0.2, 40)], axis=1)
    first, second = fit_line(points, 0.2), fit_line(scale * turned(points, turn), 0.2 * scale)
    assert math.sin(second.line.heading - first.line.heading - turn) == pytest.approx(0.0, abs=1e-6)
    assert second.u_shift == pytest.approx(scale * first.u_shift, rel=1e-5)
    assert second.u_turn == pytest.approx(first.u_turn, rel=1e-5)


@given(seeds)
def test_a_fit_mirrors_with_its_points(seed: int) -> None:
    generator = np.random.default_rng(seed)
    points = np.stack([np.linspace(0, 50, 40), generator.normal(0, 0.2, 40)], axis=1)
    first, second = fit_line(points, 0.2), fit_line(points * [1, -1], 0.2)
    assert second.line.heading == pytest.approx(-first.line.heading, abs=1e-9)
    assert second.u_shift == pytest.approx(first.u_shift)


@given(turns, turns, shifts, shifts)
def test_a_crossing_lies_on_both_lines(a: float, b: float, p: tuple[float, float], q: tuple[float, float]) -> None:
    first, second = Line(x=p[0], y=p[1], heading=a), Line(x=q[0], y=q[1], heading=b)
    point = crossing(first, second)
    assume(point is not None and abs(math.sin(a - b)) > 1e-3)
    assert point is not None
    assert abs(first.across(point)[0]) < 1e-6 and abs(second.across(point)[0]) < 1e-6


@given(seeds, st.floats(0.05, 3))
def test_resampling_stays_on_the_chain(seed: int, step: float) -> None:
    chain = walk(seed)
    points = resample(chain, step)
    assert distances_to_polyline(points, chain).max() < 1e-9
    assert arc_length(points)[-1] <= arc_length(chain)[-1] * (1 + 1e-9)


@given(seeds, seeds)
def test_a_mean_distance_has_no_direction(first: int, second: int) -> None:
    there, back = hausdorff_mean(walk(first), walk(second)), hausdorff_mean(walk(second), walk(first))
    assert there == pytest.approx(back)
    assert hausdorff_mean(walk(first), walk(first)) < 1e-9


@given(st.floats(2, 14), st.floats(2, 14), st.floats(-0.2, 0.2), st.floats(0.9, 2.1), scales)
def test_a_throat_scales_and_mirrors(leg_1: float, leg_2: float, bow: float, angle: float, scale: float) -> None:
    far = leg_2 * np.array([math.cos(angle), math.sin(angle)])
    share = np.linspace(0, 1, 101)[:, None]
    chord = far - [leg_1, 0.0]
    out = np.array([chord[1], -chord[0]])
    face = (1 - share) * np.array([leg_1, 0.0]) + share * far + bow * 4 * share * (1 - share) * out
    height = largest_isosceles_height(face, leg_1, leg_2, angle)
    assert largest_isosceles_height(scale * face, scale * leg_1, scale * leg_2, angle) == pytest.approx(scale * height)
    flipped = turned(face * [1, -1], angle)[::-1]
    assert largest_isosceles_height(flipped, leg_2, leg_1, angle) == pytest.approx(height, abs=1e-9)
    assert height <= min(leg_1, leg_2) * math.cos(angle / 2) + 1e-9
