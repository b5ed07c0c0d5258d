"""Floor 5: what a trial is made of and what changed between two beads of it.

The records and codes are cheap; rooms that only pass them on load nothing behind them.
"""

from etchbook.trials.bodies import BodyError, body_of, record_of
from etchbook.trials.codes import CodeError, code_kind, family_of_codes, normal_code, parent_code, with_check
from etchbook.trials.records import KINDS, Record

__all__ = [
    "KINDS",
    "BodyError",
    "CodeError",
    "Record",
    "body_of",
    "code_kind",
    "family_of_codes",
    "normal_code",
    "parent_code",
    "record_of",
    "with_check",
]
