"""What a judgement is made of."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from etchbook.quantity import Quantity
from etchbook.tables import Limit

__all__ = ["Finding", "Judgement", "Limit", "Verdict"]


class Verdict(StrEnum):
    """The six answers. There is no plain pass where one section cannot show it."""

    MET = "met"
    NOT_MET = "not met"
    TOO_CLOSE = "too close to say"
    ONLY_IF_SHORT = "only if short"
    NOT_READABLE = "not readable"
    DOES_NOT_APPLY = "does not apply"


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """One limit held against one dimension.

    Parameters
    ----------
    verdict : see Verdict
    dimension : id of the dimension; "" where the row bears on none that is read yet
    value : the measured value or why there is none
    limit : the row
    bound : the limit's number [unit of the dimension], None when it could not be reckoned
    formula : the limit's formula with the numbers in it, e.g. ``1 + 0.1 × 9.0 = 1.90 mm, at most 3``
    probability : probability that the limit is met given value and u, None when not reckoned
    words : one plain sentence
    """

    verdict: Verdict
    dimension: str
    value: Quantity
    limit: Limit
    bound: float | None
    formula: str
    probability: float | None
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Judgement:
    """A reading held against one set of limits."""

    against: str
    title: str
    risk: float
    findings: tuple[Finding, ...]
    counts: Mapping[str, int]
    notes: tuple[str, ...] = ()
