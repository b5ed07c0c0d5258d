"""Factors against the tables of the GUM."""

import math

import pytest

from etchbook.quantity import Measured, coverage_factor, expanded, normal_quantile, welch_satterthwaite


# JCGM 100:2008, Table G.2 (from memory): t for 95 % and 99 %.
@pytest.mark.parametrize(
    ("level", "dof", "printed"),
    [
        (0.95, 1, 12.71),
        (0.95, 2, 4.30),
        (0.95, 5, 2.57),
        (0.95, 10, 2.23),
        (0.95, 20, 2.09),
        (0.99, 16, 2.92),
        (0.99, math.inf, 2.576),
    ],
)
def test_coverage_factor_is_the_one_in_the_table(level: float, dof: float, printed: float) -> None:
    assert coverage_factor(level, dof) == pytest.approx(printed, abs=0.0051)


def test_the_customary_factor_is_two() -> None:
    assert coverage_factor() == 2.0
    assert expanded(Measured(value=5.0, u=0.04, unit="mm")) == pytest.approx(0.08)


@pytest.mark.parametrize("level", [0.0, 1.0, 95.0, -0.1])
def test_a_coverage_probability_is_a_share(level: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        coverage_factor(level)


# JCGM 106:2012 (from memory): guard-band factors.
@pytest.mark.parametrize(("p", "z"), [(0.80, 0.842), (0.90, 1.282), (0.95, 1.645), (0.99, 2.326), (0.999, 3.090)])
def test_normal_quantiles(p: float, z: float) -> None:
    assert normal_quantile(p) == pytest.approx(z, abs=0.0006)


def test_degrees_of_freedom_of_the_gauge_block() -> None:
    # JCGM 100:2008, H.1 (seen in a secondary source): components in nm with their degrees of freedom.
    parts = [(25.0, 18.0), (16.599, 2.0), (6.7, 8.0), (5.8, 24.0), (3.9, 5.0), (2.88679, 50.0)]
    assert math.sqrt(sum(u * u for u, _ in parts)) == pytest.approx(32, abs=0.5)
    assert 16 <= welch_satterthwaite(parts) < 17


def test_nothing_uncertain_has_endless_degrees_of_freedom() -> None:
    assert math.isinf(welch_satterthwaite([(0.0, 5.0)]))
