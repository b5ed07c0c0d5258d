"""Words for chances, never the bare number alone, and the words that must not be said too early."""

from collections.abc import Sequence

from etchbook.evidence.records import Answer, Cap, Table

VERY_LIKELY, LIKELY, POSSIBLE, UNLIKELY = "very likely", "likely", "possible", "unlikely"
CANNOT_TELL = "cannot tell"
STEPS = ((VERY_LIKELY, 0.95), (LIKELY, 0.70), (POSSIBLE, 0.10), (UNLIKELY, 0.0))
"""The least chance for each word."""
_ORDER = [word for word, _ in STEPS]


def word_for(chance: float) -> str:
    """The word for a chance: very likely from 0.95, likely from 0.70, possible from 0.10, unlikely below."""
    return next(word for word, least in STEPS if chance >= least)


def capped(table: Table, cause: str, word: str, answers: Sequence[Answer]) -> tuple[str, str]:
    """The word that may be said of a cause now, and why it is held back ("" where it is not)."""
    for cap in table.caps:
        if cap.cause == cause and not _lifted(cap, answers) and _ORDER.index(word) < _ORDER.index(cap.word):
            return cap.word, cap.reason
    return word, ""


def _lifted(cap: Cap, answers: Sequence[Answer]) -> bool:
    return any(answer.state in cap.until.get(answer.observation, ()) for answer in answers)
