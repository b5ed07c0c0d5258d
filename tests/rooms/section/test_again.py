"""A section kept open: moved marks give what a whole reading with the same marks gives."""

from functools import cache

import numpy as np
import pytest

import etchbook
from etchbook.joint import Joint
from etchbook.picture import Scale
from etchbook.quantity import Absent, Measured
from etchbook.section import Mark, Reading, read_section
from etchbook.section.again import Again, OpenSection, measured_again, open_section
from etchbook.simulate import PaintedSection

PX_PER_MM = Scale(px_per_mm=40.0, u=0.2, origin="given")


@cache
def painted() -> PaintedSection:
    return next(iter(etchbook.paint("tee", seed=3, difficulty="plain")))


@cache
def section() -> OpenSection:
    return open_section(painted().picture, Joint(family="tee"))


def marks() -> tuple[Mark, ...]:
    truth = painted().truth
    line = truth.polylines["fusion_line"]
    return (
        Mark(name="toe_1", points=truth.landmarks["toe_1"][None] + [12.0, 0.0]),
        Mark(name="fusion_line", points=line[[len(line) // 3, len(line) // 2]]),
    )


@cache
def whole() -> Reading:
    return read_section(painted().picture, Joint(family="tee"), PX_PER_MM, marks=marks())


def tried(*given: Mark, quick: bool = False) -> Again:
    return measured_again(section(), PX_PER_MM, given, quick=quick)


@pytest.mark.parametrize("quick", [True, False])
def test_the_values_are_those_of_a_whole_reading(quick: bool) -> None:
    again = tried(*marks(), quick=quick)
    assert again.dimensions.keys() == whole().dimensions.keys()
    for name, value in whole().dimensions.items():
        now = again.dimensions[name]
        assert type(now) is type(value), name
        if isinstance(value, Measured) and isinstance(now, Measured):
            assert now.value == pytest.approx(value.value), name
            if not quick:
                assert now.u == pytest.approx(value.u), name


def test_a_toe_moved_along_its_plate_moves_that_leg_alone() -> None:
    """By 20 px at 40 px/mm, that is by 0.5 mm; the other leg ends elsewhere."""
    start = tried()
    toe, root = (start.outline.landmarks[name].point for name in ("toe_1", "joint_root"))
    out = (toe - root) / np.hypot(*(toe - root))
    moved = tried(Mark(name="toe_1", points=(toe + 20 * out)[None]), quick=True)
    before, after = start.dimensions["leg_1"], moved.dimensions["leg_1"]
    assert isinstance(before, Measured) and isinstance(after, Measured)
    assert after.value - before.value == pytest.approx(0.5, abs=0.01)
    assert moved.dimensions["leg_2"] == start.dimensions["leg_2"]


def test_it_says_what_is_pinned() -> None:
    again = tried(*marks())
    assert again.outline.landmarks["toe_1"].pinned and not again.outline.landmarks["toe_2"].pinned
    assert again.outline.boundaries["fusion_line_1"].pinned


def test_without_an_outline_it_asks_for_the_marks_that_lack() -> None:
    grey = etchbook.picture.make_picture(np.full((300, 400, 3), 128, np.uint8))
    blank = open_section(grey, Joint(family="tee"))
    assert blank.automatic is None
    again = measured_again(blank, PX_PER_MM, [Mark(name="toe_1", points=np.array([[100.0, 100.0]]))])
    assert "toe 2" in again.asked
    assert all(isinstance(value, Absent) for value in again.dimensions.values())
