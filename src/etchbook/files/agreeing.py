"""Marks that cannot all be true."""

import numpy as np
from numpy.typing import NDArray

from etchbook.files.errors import InputError
from etchbook.section import Mark

Points = NDArray[np.float64]
SAME_PX = 1.0
"""Landmarks nearer than this are one place: nobody points finer by hand."""
APART = (("toe_1", "toe_2"), ("root_toe_1", "root_toe_2"), ("toe_1", "root_toe_1"), ("toe_2", "root_toe_2"))
NOT_CROSSING = ("surface_1 back_1", "surface_2 back_2", "fusion_line_1 haz_edge_1", "fusion_line_2 haz_edge_2")


def check_agreement(marks: tuple[Mark, ...], name: str) -> None:
    """Refuse marks that contradict one another, with a sentence that names them."""
    by_name = {mark.name: mark.points for mark in marks}
    _check_apart(by_name, name)
    _check_plates(by_name, name)
    lines = {mark.name: mark.points for mark in marks if mark.replaces}
    for pair in NOT_CROSSING:
        one, two = pair.split()
        if one in lines and two in lines and _cross(lines[one], lines[two]):
            raise InputError(f"{one} and {two} in {name} cross each other; move one of them")
    for key, points in lines.items():
        if _crosses_itself(points):
            raise InputError(f"{key} in {name} crosses itself; give its points in the order in which they follow")
    for stem in ("fusion_line", "haz_edge"):
        for part in (f"{stem}_1", f"{stem}_2"):
            if stem in by_name and part in by_name:
                raise InputError(f"{stem} and {part} are both marked in {name}; keep one of the two")


def _check_apart(by_name: dict[str, Points], name: str) -> None:
    for one, two in APART:
        if one in by_name and two in by_name:
            gap = by_name[one][0] - by_name[two][0]
            if float(np.hypot(*gap)) <= SAME_PX:
                raise InputError(f"{one} and {two} in {name} lie on the same place; move one of them")


def _check_plates(by_name: dict[str, Points], name: str) -> None:
    """The two sides of a plate: all points of one must lie on one side of the other."""
    for member in (1, 2):
        front, back = by_name.get(f"surface_{member}"), by_name.get(f"back_{member}")
        if front is None or back is None or len(front) < 2:
            continue
        start, stop = front[0], front[int(np.argmax(np.hypot(*(front - front[0]).T)))]
        run, away = stop - start, back - start
        side = run[0] * away[:, 1] - run[1] * away[:, 0]
        if side.min() < 0 < side.max() or not np.any(np.abs(side) > SAME_PX * np.hypot(*run)):
            raise InputError(f"surface_{member} and back_{member} in {name} cross or coincide; move one of them")


def _cross(one: Points, two: Points) -> bool:
    return any(_segments_cross(one[i], one[i + 1], two) for i in range(len(one) - 1))


def _segments_cross(a: Points, b: Points, chain: Points) -> bool:
    """Whether the segment a to b properly crosses any segment of a chain."""
    start, stop = chain[:-1], chain[1:]
    first, second = _turn(a, b, start), _turn(a, b, stop)
    span = stop - start
    third = span[:, 0] * (a[1] - start[:, 1]) - span[:, 1] * (a[0] - start[:, 0])
    fourth = span[:, 0] * (b[1] - start[:, 1]) - span[:, 1] * (b[0] - start[:, 0])
    return bool(((first * second < 0) & (third * fourth < 0)).any())


def _turn(a: Points, b: Points, points: Points) -> Points:
    run = b - a
    return np.asarray(run[0] * (points[:, 1] - a[1]) - run[1] * (points[:, 0] - a[0]))


def _crosses_itself(points: Points) -> bool:
    return any(_segments_cross(points[i], points[i + 1], points[i + 2 :]) for i in range(len(points) - 3))
