"""Legs, throats and the root: tee, lap and open outside corner."""

import numpy as np

from etchbook.geometry import distances_to_polyline, largest_isosceles_height, ray_crossings
from etchbook.geometry.lines import through
from etchbook.section.shape import Shape, once

Value = float | str
NO_ROOT = "the joint root could not be placed, because a plate surface line beside the weld was not found"


def leg_1(shape: Shape) -> Value:
    """Joint root to toe 1 along surface line 1."""
    return _leg(shape, 0, "surface_1")


def leg_2(shape: Shape) -> Value:
    """Joint root to toe 2 along surface line 2."""
    return _leg(shape, 1, "surface_2")


@once
def _leg(shape: Shape, toe: int, name: str) -> Value:
    if shape.root is None or name not in shape.lines:
        return NO_ROOT
    line = shape.lines[name]
    run = line.along(np.stack([shape.root, shape.toes[toe]]))
    return float(abs(run[1] - run[0]))


def asymmetry(shape: Shape) -> Value:
    """Absolute difference of the legs."""
    first, second = leg_1(shape), leg_2(shape)
    if isinstance(first, str) or isinstance(second, str):
        return NO_ROOT
    return abs(first - second)


@once
def nominal_throat(shape: Shape) -> Value:
    """Height of the largest isosceles triangle in the weld section."""
    first, second = leg_1(shape), leg_2(shape)
    if shape.root is None or isinstance(first, str) or isinstance(second, str):
        return NO_ROOT
    face, angle = _on_lines(shape)
    return largest_isosceles_height(face, first, second, angle)


def _on_lines(shape: Shape) -> tuple[np.ndarray, float]:
    """The face with surface line 1 as x axis, turned so that line 2 opens anticlockwise; and the joint angle."""
    assert shape.root is not None
    one, two = shape.away_from_weld("1"), shape.away_from_weld("2")
    assert one is not None and two is not None
    angle = float(np.arccos(np.clip(one @ two, -1, 1)))
    side = two - (two @ one) * one
    side /= max(float(np.hypot(*side)), 1e-12)
    off = shape.face - shape.root
    return np.stack([off @ one, off @ side], axis=1), angle


def theoretical_throat(shape: Shape) -> Value:
    """Joint root to the straight line from toe to toe."""
    if shape.root is None:
        return NO_ROOT
    return float(abs(through(shape.toes[0], shape.toes[1]).across(shape.root)[0]))


def throat(shape: Shape) -> Value:
    """Shortest distance from the joint root to the weld face."""
    if shape.root is None:
        return NO_ROOT
    return float(distances_to_polyline(shape.root, shape.face)[0])


def deep_throat(shape: Shape) -> Value:
    """Nominal throat plus root penetration."""
    height, depth = nominal_throat(shape), root_penetration(shape)
    if isinstance(height, str):
        return height
    return depth if isinstance(depth, str) else height + depth


def convexity(shape: Shape) -> Value:
    """Largest distance of the face from the chord, outside positive."""
    chord = through(shape.toes[0], shape.toes[1])
    away = chord.across(shape.face)
    inner = shape.root if shape.root is not None else shape.fusion.mean(axis=0)
    if chord.across(inner)[0] > 0:
        away = -away
    return float(away[int(np.argmax(np.abs(away)))])


def root_penetration(shape: Shape) -> Value:
    """Joint root to the fusion line along the bisector, away from the face; zero where the root was not melted."""
    hit = _root_run(shape)
    return hit if isinstance(hit, str) else max(hit, 0.0)


def missed_root(shape: Shape) -> Value:
    """What is lacking from the joint root to the weld metal along the bisector; zero where it was melted."""
    hit = _root_run(shape)
    return hit if isinstance(hit, str) else max(-hit, 0.0)


@once
def _root_run(shape: Shape) -> Value:
    """Signed depth of the weld metal beyond the root along the bisector: positive melted, negative missed."""
    inward = bisector(shape)
    if shape.root is None or inward is None:
        return NO_ROOT
    ring = np.concatenate([shape.weld, shape.weld[:1]])
    deeper = ray_crossings(shape.root, inward, ring)
    outer = ray_crossings(shape.root, -inward, ring)
    if len(deeper) % 2 == 1:
        return float(deeper[0])
    if len(outer) >= 2:
        return -float(outer[0])
    return "the weld metal does not lie on the line that halves the joint angle"


def bisector(shape: Shape) -> np.ndarray | None:
    """Unit vector from the joint root away from the weld face, halving the joint angle."""
    if shape.root is None:
        return None
    if shape.family == "corner":
        one, two = shape.lines.get("back_1"), shape.lines.get("back_2")
        if one is None or two is None:
            return None
        toward = [
            line.direction * np.sign(line.direction @ (toe - shape.root) or 1.0)
            for line, toe in zip((two, one), shape.toes, strict=True)
        ]
        inward = -(toward[0] + toward[1])
    else:
        first, second = shape.away_from_weld("1"), shape.away_from_weld("2")
        if first is None or second is None:
            return None
        inward = -(first + second)
    length = float(np.hypot(*inward))
    return inward / length if length > 1e-9 else None
