"""A straight line through measured pairs, with the covariance of its two parameters."""

from dataclasses import dataclass

import numpy as np

from etchbook.quantity.measured import Measured
from etchbook.quantity.propagation import Vector, linear_covariance


@dataclass(frozen=True, kw_only=True, slots=True)
class StraightLine:
    """y = intercept + slope (x - origin).

    Parameters
    ----------
    parameters : (2,) intercept [unit of y] and slope [unit of y per unit of x]
    covariance : (2, 2)
    origin : where on x the intercept is taken
    dof : number of pairs less two
    unit : of y
    """

    parameters: Vector
    covariance: Vector
    origin: float
    dof: float
    unit: str

    def at(self, x: float) -> Measured:
        """The line's y at x; u covers both parameters and their correlation."""
        lever = np.array([[1.0, x - self.origin]])
        u = float(linear_covariance(lever, self.covariance)[0, 0] ** 0.5)
        return Measured(value=float((lever @ self.parameters)[0]), u=u, unit=self.unit, dof=self.dof)


def straight_line(x: Vector, y: Vector, *, origin: float = 0.0, unit: str = "") -> StraightLine:
    """Fit y = intercept + slope (x - origin) by least squares; the scatter of y alone counts.

    Parameters
    ----------
    x, y : (n,), n >= 3
    origin : where on x the intercept is taken
    unit : of y

    Source: JCGM 100:2008 (GUM), H.3.2, formulas H.13a to H.13g.
    """
    x, y = np.asarray(x, float), np.asarray(y, float)
    if x.shape != y.shape or x.ndim != 1 or len(x) < 3:
        raise ValueError("a straight line with its uncertainty needs at least three pairs")
    if np.ptp(x) == 0:
        raise ValueError("a straight line needs different values of x")
    design = np.stack([np.ones_like(x), x - origin], axis=1)
    parameters: Vector = np.linalg.solve(design.T @ design, design.T @ y)
    left = y - design @ parameters
    variance = float(left @ left) / (len(x) - 2)
    covariance = variance * np.linalg.inv(design.T @ design)
    return StraightLine(parameters=parameters, covariance=covariance, origin=origin, dof=float(len(x) - 2), unit=unit)
