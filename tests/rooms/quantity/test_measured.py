"""A value, or the reason why there is none."""

import math

import pytest

from etchbook.quantity import Absent, Measured


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_value_that_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Measured(value=value, u=0.1, unit="mm")


@pytest.mark.parametrize("u", [-0.1, math.nan, math.inf])
def test_an_uncertainty_is_finite_and_not_negative(u: float) -> None:
    with pytest.raises(ValueError, match="uncertainty"):
        Measured(value=1.0, u=u, unit="mm")


def test_two_uncertain_values_are_not_ordered_by_a_sign() -> None:
    with pytest.raises(TypeError):
        sorted([Measured(value=2.0, u=0.1, unit="mm"), Measured(value=1.0, u=0.1, unit="mm")])  # type: ignore[type-var]


def test_absent_needs_a_reason() -> None:
    with pytest.raises(ValueError, match="reason"):
        Absent(reason="  ")


def test_a_measured_value_cannot_be_changed() -> None:
    measured = Measured(value=1.0, u=0.1, unit="mm")
    with pytest.raises(AttributeError):
        measured.value = 2.0  # type: ignore[misc]
