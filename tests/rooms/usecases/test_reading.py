"""Where the scale comes from, and what is said about it."""

import numpy as np
import pytest

from etchbook.picture import NoScale, Picture, Scale
from etchbook.section import KnownThickness
from etchbook.usecases import RefusedError
from etchbook.usecases.reading import NO_SCALE, find_scale, unlike_drawing
from etchbook.usecases.scales import GivenScale, PointsScale, RuleScale, ThicknessScale
from rooms.acceptance.sections import reading_of


@pytest.fixture(scope="module")
def bench() -> Picture:
    """A picture of nothing in particular: grain without a rule."""
    grey = np.random.default_rng(3).normal(30_000, 3_000, (300, 400, 1)).clip(0, 65535)
    return Picture(rgb=np.repeat(grey, 3, axis=2).astype(np.uint16))


def test_a_given_scale_is_taken_as_given(bench: Picture) -> None:
    found = find_scale(bench, GivenScale(px_per_mm=41.2, u=0.3))
    assert isinstance(found, Scale) and (found.px_per_mm, found.u, found.origin) == (41.2, 0.3, "given")


def test_two_points_a_known_length_apart(bench: Picture) -> None:
    found = find_scale(bench, PointsScale(first=(10, 20), second=(310, 20), length_mm=10.0))
    assert isinstance(found, Scale) and found.px_per_mm == pytest.approx(30.0) and found.u > 0


@pytest.mark.parametrize("second", [(400.0, 20.0), (-1.0, 20.0), (10.0, 300.0)])
def test_points_outside_the_picture_are_refused(bench: Picture, second: tuple[float, float]) -> None:
    with pytest.raises(RefusedError, match="outside"):
        find_scale(bench, PointsScale(first=(10, 20), second=second, length_mm=10.0))


def test_a_known_thickness_is_left_to_the_reader_of_the_section(bench: Picture) -> None:
    assert find_scale(bench, ThicknessScale(member=2, mm=6.0, u_mm=0.01)) == KnownThickness(member=2, mm=6.0, u_mm=0.01)
    assert find_scale(bench, ThicknessScale(member=1, mm=8.0)) == KnownThickness(member=1, mm=8.0)


def test_without_a_rule_there_is_no_scale(bench: Picture) -> None:
    assert find_scale(bench, RuleScale(asked=False)) == NoScale(reason=NO_SCALE)
    asked = find_scale(bench, RuleScale())
    assert isinstance(asked, NoScale) and asked.reason != NO_SCALE


def test_a_plate_that_is_not_as_stated_makes_the_scale_suspect() -> None:
    # Half the scale, twice the plate: 19.5 mm read where 10 mm was stated.
    (doubt,) = unlike_drawing(reading_of("tee", {"thickness_1": (19.5, 0.1)}, thickness_1=10.0))
    assert doubt.part == "scale" and "check the scale" in doubt.remedy
    assert "19.5" in doubt.reason and "10 mm was stated" in doubt.reason
    rolled = reading_of("tee", {"thickness_1": (10.7, 0.1), "thickness_2": (6.0, 0.1)}, thickness_1=10.0)
    assert unlike_drawing(rolled) == ()
