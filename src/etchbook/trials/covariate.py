"""Two groups at an equal value of something that was measured beside: analysis of covariance."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from etchbook.trials.scatter import StatisticsError


@dataclass(frozen=True, kw_only=True, slots=True)
class Covaried:
    """Group b less group a at an equal covariate.

    Parameters
    ----------
    value, se : difference and its standard error [unit of the response]
    dof : degrees of freedom behind it: beads less three
    low, high, p : 95 % interval and two-sided p
    slope : of the response over the covariate, one for both groups [unit of the response over that of the covariate]
    """

    value: float
    se: float
    dof: float
    low: float
    high: float
    p: float
    slope: float

    def inside(self, margin: float) -> float:
        """Chance that the true difference lies within ± a margin, every difference as likely beforehand."""
        from scipy.stats import t

        ends = [float(t.cdf((end - self.value) / self.se, self.dof)) for end in (-margin, margin)]
        return ends[1] - ends[0]


def at_equal(a: Sequence[tuple[float, float]], b: Sequence[tuple[float, float]]) -> Covaried:
    """The difference of two groups at an equal covariate.

    Parameters
    ----------
    a, b : covariate and response of each bead; four beads in all, two in each group, and covariates that differ within
        a group, at the least

    Returns
    -------
    Covaried
        Valid where the response goes straight with the covariate, with one slope in both groups.

    Source: statsmodels OLS of response on group and covariate.
    """
    import statsmodels.api as sm

    held = np.array([*a, *b], float)
    if len(held) < 4 or min(len(a), len(b)) < 2:
        raise StatisticsError("an analysis of covariance needs four beads at least, two in each group")
    beside = np.repeat([0.0, 1.0], [len(a), len(b)])
    rows = np.stack([np.ones(len(held)), beside, held[:, 0] - held[:, 0].mean()], axis=1)
    if np.linalg.matrix_rank(rows) < 3:
        raise StatisticsError(
            "the covariate is the same within each group, so its part cannot be told from the group's"
        )
    found = sm.OLS(held[:, 1], rows).fit()
    if found.mse_resid <= 1e-18 * max(float(np.ptp(held[:, 1])) ** 2, 1e-300):
        raise StatisticsError("the beads lie on two lines without any scatter, which no beads do: look at the values")
    low, high = found.conf_int()[1]
    return Covaried(value=float(found.params[1]), se=float(found.bse[1]), dof=float(found.df_resid), low=float(low),
                    high=float(high), p=float(found.pvalues[1]), slope=float(found.params[2]))  # fmt: skip
