"""The footing: a value, its standard uncertainty and its unit; or the reason why there is none."""

from etchbook.quantity.coverage import coverage_factor, expanded, normal_quantile, welch_satterthwaite
from etchbook.quantity.measured import Absent, Measured, Quantity
from etchbook.quantity.propagation import linear_covariance, monte_carlo, numeric_jacobian
from etchbook.quantity.rounding import rounded, spoken
from etchbook.quantity.straight import StraightLine, straight_line

__all__ = [
    "Absent",
    "Measured",
    "Quantity",
    "StraightLine",
    "coverage_factor",
    "expanded",
    "linear_covariance",
    "monte_carlo",
    "normal_quantile",
    "numeric_jacobian",
    "rounded",
    "spoken",
    "straight_line",
    "welch_satterthwaite",
]
