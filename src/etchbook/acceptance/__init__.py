"""Floor 5: is it good enough? Limits, the decision rule for uncertain values, and the verdict in words."""

from etchbook.acceptance.facts import Facts, facts_of
from etchbook.acceptance.judging import hold, judge
from etchbook.acceptance.margins import conformity
from etchbook.acceptance.records import Finding, Judgement, Limit, Verdict
from etchbook.acceptance.risks import guarded_limit, run_risks

__all__ = [
    "Facts",
    "Finding",
    "Judgement",
    "Limit",
    "Verdict",
    "conformity",
    "facts_of",
    "guarded_limit",
    "hold",
    "judge",
    "run_risks",
]
