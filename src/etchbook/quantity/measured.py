"""The two answers a measurement can give."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """A value with its standard uncertainty.

    There is no ``<`` or ``>`` between measured values on purpose: saying which of two
    uncertain values is larger is a decision with a risk, and decisions live in the
    rooms ``acceptance`` and ``trials``.

    Parameters
    ----------
    value : float
        The best estimate, in `unit`.
    u : float
        Its standard uncertainty (one standard deviation), in `unit`; not negative.
    unit : str
        ``"mm"``, ``"mm²"``, ``"°"``, ``"%"`` or ``""`` for a bare ratio.
    dof : float
        Effective degrees of freedom of `u`; infinite unless known.

    Source: JCGM 100:2008 (GUM), 2.2 and 2.3.
    """

    value: float
    u: float
    unit: str
    dof: float = math.inf

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise ValueError(f"a measured value must be a finite number, not {self.value}")
        if not (math.isfinite(self.u) and self.u >= 0):
            raise ValueError(f"a standard uncertainty must be finite and not negative, not {self.u}")


@dataclass(frozen=True, kw_only=True, slots=True)
class Absent:
    """What could not be read, with the reason in one plain sentence."""

    reason: str

    def __post_init__(self) -> None:
        if not self.reason.strip():
            raise ValueError("what is absent needs a reason")


Quantity = Measured | Absent
