"""From standard to expanded uncertainty."""

import math
from collections.abc import Sequence
from statistics import NormalDist

from etchbook.quantity.measured import Measured


def normal_quantile(probability: float) -> float:
    """The value that a standard normal variable stays below with this probability.

    Source: JCGM 106:2012, guard-band factors (1.645 at 0.95); values from memory.
    """
    return NormalDist().inv_cdf(probability)


def coverage_factor(level: float = 0.95, dof: float = math.inf) -> float:
    """Two-sided coverage factor k for a coverage probability.

    For infinite degrees of freedom the factor is the normal one rounded up to the
    customary 2 at 95 %; with few degrees of freedom it is Student's t.

    Source: JCGM 100:2008 (GUM), G.3 and 6.3.3.
    """
    if not 0 < level < 1:
        raise ValueError(f"a coverage probability lies between 0 and 1, not at {level}")
    if math.isinf(dof):
        return 2.0 if math.isclose(level, 0.95) else normal_quantile(0.5 + level / 2)
    from scipy.special import stdtrit  # slow to import, wanted only here

    return float(stdtrit(dof, 0.5 + level / 2))


def expanded(measured: Measured, level: float = 0.95) -> float:
    """Expanded uncertainty U = k u, in the unit of the value."""
    return coverage_factor(level, measured.dof) * measured.u


def welch_satterthwaite(parts: Sequence[tuple[float, float]]) -> float:
    """Effective degrees of freedom of a sum of independent contributions.

    Parameters
    ----------
    parts : sequence of (u, dof)
        Standard uncertainty [any one unit] and degrees of freedom of each contribution.

    Source: JCGM 100:2008 (GUM), G.4.1, formula G.2b.
    """
    total = sum(u * u for u, _ in parts) ** 2
    spread = sum(u**4 / dof for u, dof in parts)
    return total / spread if spread > 0 else math.inf
