"""Floor 1: weighing observations for causes, in words, and choosing the cheapest next test."""

from etchbook.evidence.building import table_from
from etchbook.evidence.planning import (
    NextTest,
    Outcome,
    after_negative,
    next_questions,
    next_tests,
    search_order,
)
from etchbook.evidence.records import Answer, Cause, EvidenceError, Observation, Table, Test
from etchbook.evidence.verdicts import Verdict, Weighed, stop_reason, weigh
from etchbook.evidence.weighing import Case, Piece

__all__ = [
    "Answer",
    "Case",
    "Cause",
    "EvidenceError",
    "NextTest",
    "Observation",
    "Outcome",
    "Piece",
    "Table",
    "Test",
    "Verdict",
    "Weighed",
    "after_negative",
    "next_questions",
    "next_tests",
    "search_order",
    "stop_reason",
    "table_from",
    "weigh",
]
