"""Scales that a person states."""

import math

import pytest

from etchbook.picture import from_two_points, given


def test_a_given_scale_is_trusted_to_half_a_per_cent_unless_said():
    assert given(40.0).u == pytest.approx(0.2)
    assert given(40.0, 0.05).u == 0.05
    assert given(40.0, 0.0).u == 0.0
    assert given(40.0).origin == "given"


def test_two_points():
    """3-4-5: 500 px for 10 mm; each end 1 px, so sqrt(2)/500 of the scale."""
    scale = from_two_points((100, 100), (400, 500), 10.0)
    assert scale.px_per_mm == pytest.approx(50.0)
    assert scale.u == pytest.approx(50 * math.sqrt(2) / 500)
    both = from_two_points((100, 100), (400, 500), 10.0, u_px=0.0, u_mm=0.02)
    assert both.relative == pytest.approx(0.002)


@pytest.mark.parametrize("value", [0.0, -3.0, math.nan, math.inf])
def test_a_scale_must_be_a_positive_number(value):
    with pytest.raises(ValueError, match="more than 0"):
        given(value)


@pytest.mark.parametrize("u", [-1.0, math.nan])
def test_its_uncertainty_must_not_be_negative(u):
    with pytest.raises(ValueError, match="uncertainty"):
        given(40.0, u)


@pytest.mark.parametrize(
    ("p", "q", "length"), [((1, 1), (1, 1), 5), ((0, 0), (9, 9), 0), ((0, 0), (9, 9), -1), ((math.nan, 0), (9, 9), 1)]
)
def test_two_points_that_make_no_scale(p, q, length):
    with pytest.raises(ValueError, match="points"):
        from_two_points(p, q, length)
