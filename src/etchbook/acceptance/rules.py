"""The decision rule: from probabilities to one of the six answers.

With an accepted risk r (5 % unless said):

met            the probability of lying inside the limit is at least 1 - r
not met        it is at most r
too close      between the two

"Not permitted", and limits that hold only for short imperfections, first ask whether there is
anything at all. With k = the one-sided factor of r, and 0.1 mm as the smallest thing that counts on a
macro section (about what the unaided eye makes out; our own rule):

nothing there  value - k u is not above 0 and value + k u is at most 0.1 mm: met, on this section
there          value - k u is above 0 and the value above 0.1 mm
uncertain      all else: too close to say

What is there and stays within a limit for short imperfections is "only if short", never "met".
"""

from etchbook.acceptance.cases import Case
from etchbook.acceptance.records import Verdict
from etchbook.quantity import normal_quantile

SMALLEST = 0.1
"""mm; what is smaller does not count as an imperfection on a macro section (own rule)."""
_ROUND = 1e-9
"""Sums of decimal fractions are not exact: 0.8 kept as 0.7999… is no breach of 0.8."""


def decide(case: Case, risk: float) -> tuple[Verdict, float]:
    """The verdict on one case, and the probability that its limit is met."""
    if case.limit.rule == "not permitted":
        return _not_permitted(case, risk)
    chance = case.chance()
    plain = _by_chance(chance, risk)
    if case.limit.if_short and plain is not Verdict.MET:
        return _loosened(case, risk), chance
    if case.limit.short and plain is Verdict.MET and presence(case, risk) is not False:
        return Verdict.ONLY_IF_SHORT, chance
    return plain, chance


def presence(case: Case, risk: float) -> bool | None:
    """Whether there is anything: True, False (on this section), or None where that cannot be said."""
    value, u = case.held()
    k = normal_quantile(1 - risk)
    surely_something = value - k * u > _ROUND
    if surely_something and value > SMALLEST:
        return True
    if not surely_something and value + k * u <= SMALLEST:
        return False
    return None


def _not_permitted(case: Case, risk: float) -> tuple[Verdict, float]:
    answer = {True: Verdict.NOT_MET, False: Verdict.MET, None: Verdict.TOO_CLOSE}[presence(case, risk)]
    return answer, case.chance()


def _loosened(case: Case, risk: float) -> Verdict:
    answer = _by_chance(case.chance(loosened=True), risk)
    return Verdict.ONLY_IF_SHORT if answer is Verdict.MET else answer


def _by_chance(chance: float, risk: float) -> Verdict:
    if chance >= 1 - risk - _ROUND:
        return Verdict.MET
    return Verdict.NOT_MET if chance <= risk + _ROUND else Verdict.TOO_CLOSE
