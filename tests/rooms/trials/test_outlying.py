"""One odd value: found by published figures, never left out."""

import numpy as np
import pytest

from etchbook.trials.outlying import grubbs, grubbs_limit
from etchbook.trials.scatter import StatisticsError


def test_the_handbook_example() -> None:
    # NIST/SEMATECH e-Handbook 1.3.5.17.1, from memory: G = 2.468764, the eighth value stands apart.
    found = grubbs([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57])
    assert found.place == 7 and found.ratio == pytest.approx(2.468764, abs=1e-6) and found.p < 0.001


@pytest.mark.parametrize(("count", "limit"), [(3, 1.1543), (6, 1.8871), (10, 2.2900), (20, 2.7082)])
def test_limits_are_those_of_the_tables(count: int, limit: float) -> None:
    assert grubbs_limit(count) == pytest.approx(limit, abs=2e-3)  # two-sided 5 %, printed tables, from memory


def test_p_and_limit_agree_and_hold_in_a_simulation() -> None:
    draw = np.random.default_rng(4).normal(size=(4000, 6))
    beyond = [grubbs(row).ratio > grubbs_limit(6) for row in draw]
    assert np.mean(beyond) == pytest.approx(0.05, abs=0.012)
    assert [grubbs(row).p < 0.05 for row in draw[:200]] == beyond[:200]


def test_nothing_is_odd_among_two_or_among_equals() -> None:
    for values in ([1.0, 2.0], [1.0, 1.0, 1.0]):
        with pytest.raises(StatisticsError, match="three values"):
            grubbs(values)
    assert grubbs([1.0, 1.0, 1.0, 9.0]).p == 0.0
