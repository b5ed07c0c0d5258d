"""Laws of values and their print."""

import math

from hypothesis import given
from hypothesis import strategies as st
from numpy import array, diag

from etchbook.quantity import Measured, coverage_factor, expanded, linear_covariance, rounded, welch_satterthwaite

values = st.floats(-1e4, 1e4, allow_nan=False)
spreads = st.floats(1e-4, 1e3)


@given(values, spreads)
def test_print_never_claims_more_than_was_found(value: float, u: float) -> None:
    measured = Measured(value=value, u=u, unit="mm")
    _, spread = rounded(measured)
    assert float(spread) >= expanded(measured) * (1 - 1e-6)
    assert float(spread) <= expanded(measured) * 1.34  # 3.0…1 is printed as 4


@given(values, spreads)
def test_print_moves_the_value_by_less_than_a_fifth_of_u(value: float, u: float) -> None:
    measured = Measured(value=value, u=u, unit="mm")
    assert abs(float(rounded(measured)[0]) - value) <= expanded(measured) / 5 + 1e-9


@given(values, spreads)
def test_the_sign_of_a_value_does_not_change_its_print(value: float, u: float) -> None:
    plus, minus = (rounded(Measured(value=sign * value, u=u, unit="mm")) for sign in (1, -1))
    assert plus[0].lstrip("-") == minus[0].lstrip("-") and plus[1] == minus[1]


@given(st.floats(0.5, 0.995), st.floats(1, 200))
def test_fewer_degrees_of_freedom_ask_for_a_larger_factor(level: float, dof: float) -> None:
    assert coverage_factor(level, dof) >= coverage_factor(level, dof + 1) >= 0.6


@given(st.lists(st.tuples(st.floats(0.01, 10), st.floats(1, 100)), min_size=1, max_size=6))
def test_degrees_of_freedom_lie_between_the_least_and_the_sum(parts: list[tuple[float, float]]) -> None:
    found = welch_satterthwaite(parts)
    assert min(dof for _, dof in parts) * (1 - 1e-9) <= found <= sum(dof for _, dof in parts) * (1 + 1e-9)


@given(st.floats(0.1, 10), st.floats(0.1, 10), st.floats(-5, 5))
def test_a_shared_scale_cancels_in_a_ratio(first: float, second: float, percent: float) -> None:
    # Two lengths that share nothing but the scale: their ratio is as sure as if the scale were exact.
    relative = percent / 100
    lengths = array([first, second])
    covariance = relative**2 * lengths[:, None] * lengths[None, :]
    slopes = array([[1 / second, -first / second**2]])
    assert abs(linear_covariance(slopes, covariance)[0, 0]) < 1e-12
    alone = linear_covariance(slopes, diag(diag(covariance)))[0, 0]
    assert math.isclose(math.sqrt(alone), abs(relative) * first / second * math.sqrt(2), abs_tol=1e-12)
