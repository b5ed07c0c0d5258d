"""What a word is."""

from dataclasses import dataclass
from typing import Literal, get_args

Family = Literal["tee", "lap", "corner", "butt", "bead"]
FAMILIES: tuple[Family, ...] = get_args(Family)


@dataclass(frozen=True, kw_only=True, slots=True)
class Term:
    """One word of the trade, or of ours.

    Parameters
    ----------
    id : machine name, lower-case words joined by ``_``
    label : the words a person reads
    definition : one sentence
    unit : ``"mm"``, ``"mm²"``, ``"°"``, ``"%"`` or ``""`` for a bare ratio or a word without one
    joints : the joint families it holds for; empty for words that are not dimensions
    symbol : the letter used in formulas, where the trade has one
    clause : standard and number, where there is one, with how it is known
    """

    id: str
    label: str
    definition: str
    unit: str = ""
    joints: tuple[Family, ...] = ()
    symbol: str = ""
    clause: str = ""
