"""The straight line with its covariance, against a general-purpose library."""

import numpy as np
import pytest
from scipy.stats import linregress

from etchbook.quantity import straight_line

X = np.array([1.0, 2.0, 4.0, 5.5, 7.0])
Y = np.array([2.1, 2.9, 5.2, 6.4, 8.3])


def test_as_the_reference_library() -> None:
    line, reference = straight_line(X, Y), linregress(X, Y)
    assert line.parameters == pytest.approx([reference.intercept, reference.slope])
    assert np.sqrt(np.diag(line.covariance)) == pytest.approx([reference.intercept_stderr, reference.stderr])
    assert line.dof == 3


def test_where_the_intercept_is_taken_does_not_move_the_line() -> None:
    there, here = straight_line(X, Y).at(9.0), straight_line(X, Y, origin=100.0).at(9.0)
    assert (there.value, there.u) == pytest.approx((here.value, here.u))


@pytest.mark.parametrize("pairs", [([1.0, 2.0], [1.0, 2.0]), ([1.0, 1.0, 1.0], [1.0, 2.0, 3.0])])
def test_too_little_to_fit(pairs: tuple[list[float], list[float]]) -> None:
    with pytest.raises(ValueError, match="straight line"):
        straight_line(np.array(pairs[0]), np.array(pairs[1]))
