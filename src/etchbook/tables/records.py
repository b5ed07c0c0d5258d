"""What the packaged tables are made of."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


class TablesError(ValueError):
    """A table that cannot be used; its text is one plain sentence."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Limit:
    """One row of limits.

    Parameters
    ----------
    id : machine name, unique within its set; rows for other thickness bands share the part before the colon
    number, title : the standard's item number and name (ISO 6520-1 number in `reference`)
    dimensions : the dimensions it bears on, each judged by itself; none where a section is not yet read for it
    least, most : formula of the limit as text over t, a, b, z, L, W or ids of dimensions; "" where there is none
    short : True when the row allows it only as a short imperfection
    source, edition, clause, status : where the figure stands; status is "seen" or "from memory"
    cap : number that `most` never exceeds; "" where there is none
    if_short : looser formula in place of `least` or `most` for a short imperfection; "" where there is none
    rule : "not permitted", "permitted", or "" for a limit with a number
    when : condition under which the row holds, such as ``t > 3``; "" for always
    families : joint families it holds for; none for all
    of : what is held against the limit, in terms of the dimension x, such as ``a - x``
    names : which quantity a name in the formulas stands for, where it is not the usual one
    needs : what would do where the row cannot be read from a section as it is read today
    remark : what to know beside the figure
    """

    id: str
    number: str
    title: str
    reference: str
    dimensions: tuple[str, ...]
    least: str
    most: str
    short: bool
    source: str
    edition: str
    clause: str
    status: str
    cap: str = ""
    if_short: str = ""
    rule: str = ""
    when: str = ""
    families: tuple[str, ...] = ()
    of: str = "x"
    names: tuple[tuple[str, str], ...] = ()
    needs: str = ""
    remark: str = ""

    @property
    def item(self) -> str:
        """What rows for different bands of one requirement have in common."""
        return self.id.partition(":")[0]


@dataclass(frozen=True, kw_only=True, slots=True)
class LimitSet:
    """The rows of one standard and level, or a person's own."""

    name: str
    title: str
    limits: tuple[Limit, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Caution:
    """One usual caution of the workshop; the safety data sheet comes first."""

    topic: str
    title: str
    text: str
    status: str


@dataclass(frozen=True, kw_only=True, slots=True)
class CheckRow:
    """One figure from outside that a function of ours has to give again.

    Parameters
    ----------
    id : machine name
    function : name in the register of checked functions
    inputs : its keyword arguments; units stand in `units`
    expected : the answer as printed: a number, or words
    tolerance : half the last printed place, 0 for words
    unit : of the answer
    units : units of the inputs, in words
    source, edition, clause, status : where the figure stands; status is "seen" or "from memory"
    """

    id: str
    function: str
    inputs: Mapping[str, Any]
    expected: str
    tolerance: float
    unit: str
    units: str
    source: str
    edition: str
    clause: str
    status: str
