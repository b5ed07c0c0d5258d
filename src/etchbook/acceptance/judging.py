"""Hold a reading against a set of limits."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from etchbook.acceptance.cases import Case, band_chance, bound_of, case_of, gather, value_of
from etchbook.acceptance.facts import Facts, facts_of
from etchbook.acceptance.records import Finding, Judgement, Verdict
from etchbook.acceptance.rules import SMALLEST, decide
from etchbook.acceptance.wording import cited, label_of, limit_text, raw_text, sentence, unit_of
from etchbook.quantity import Absent
from etchbook.section import Reading
from etchbook.tables import Limit, LimitSet

NO_JOIN = "a bead on plate joins nothing, and these limits are for welds that join members"
OWN_INSTEAD = "what was measured stands all the same, and can be held against limits of your own"
NOT_YET = "sections are not yet read for it"


def judge(reading: Reading, limits: LimitSet, *, risk: float = 0.05) -> Judgement:
    """Hold a reading against a set of limits.

    Parameters
    ----------
    reading : what was read on one section
    limits : packaged, or a person's own
    risk : accepted probability of a wrong "met" or "not met", above 0 and at most 0.5

    Returns
    -------
    Judgement
        One finding for each item and dimension; a reading of one section, never a certificate.

    Source: ISO 14253-1 and JCGM 106:2012 (rule from memory).
    """
    if not 0 < risk <= 0.5:
        raise ValueError(f"the risk must lie above 0 and at most at 0.5, not at {risk:g}")
    facts = facts_of(reading)
    findings = tuple(hold(limits.limits, facts, risk=risk))
    counts = {str(verdict): sum(item.verdict is verdict for item in findings) for verdict in Verdict}
    return Judgement(
        against=limits.name,
        title=limits.title,
        risk=risk,
        findings=findings,
        counts=counts,
        notes=(*_outside(limits, findings, reading), *_notes(reading, risk), *limits.notes),
    )


def _outside(limits: LimitSet, findings: Sequence[Finding], reading: Reading) -> tuple[str, ...]:
    """Said first where no row is for this kind of weld at all."""
    if reading.joint.family != "bead" or any(item.verdict is not Verdict.DOES_NOT_APPLY for item in findings):
        return ()
    return (f"{limits.title} does not apply here: {NO_JOIN}; {OWN_INSTEAD} (a TOML file).",)


def hold(limits: Sequence[Limit], facts: Facts, *, risk: float = 0.05) -> Iterable[Finding]:
    """Every row held against what is known of a section; rows for several bands of one item give one finding."""
    for _, group in groupby(limits, key=lambda row: row.item):
        rows = tuple(group)
        for dimension in rows[0].dimensions or ("",):
            yield _item(rows, dimension, facts, risk)
            if rows[0].families and facts.family not in rows[0].families:
                break  # said once, not for every dimension


def _item(rows: Sequence[Limit], dimension: str, facts: Facts, risk: float) -> Finding:
    first = rows[0]
    if first.families and facts.family not in first.families:
        other = f"it is for {_listed(first.families)} joints, not for {_kind(facts.family)}"
        return _does_not_apply(first, dimension, NO_JOIN if facts.family == "bead" else other)
    live: list[tuple[Limit, float]] = []
    for row in rows:
        chance = band_chance(row, dimension, facts)
        if isinstance(chance, Absent):
            return _not_readable(row, dimension, facts, chance.reason if dimension else row.needs)
        if chance > risk:
            live.append((row, chance))
    if not live:
        return _does_not_apply(first, dimension, f"the section lies outside the range of the row ({first.when})")
    found = [_finding(row, dimension, facts, risk) for row, _ in live]
    return found[0] if len(found) == 1 else _one_of(found)


def _one_of(found: Sequence[Finding]) -> Finding:
    """Where it is not sure which band holds: what all bands say, or too close to say."""
    strict = min(found, key=lambda item: 1.0 if item.probability is None else item.probability)
    if len({item.verdict for item in found}) == 1:
        return strict
    bands = " or ".join(item.limit.when for item in found)
    words = f"It is too close to say which range holds ({bands}), and the ranges differ. {strict.words}"
    return replace(strict, verdict=Verdict.TOO_CLOSE, words=words)


def _finding(row: Limit, dimension: str, facts: Facts, risk: float) -> Finding:
    if row.rule == "permitted":
        return _does_not_apply(row, dimension, "it is permitted at this level")
    if not dimension:
        return _not_readable(row, dimension, facts, row.needs)
    if dimension not in facts.dimensions:
        return _does_not_apply(row, dimension, f"{_kind(facts.family)} has no {label_of(dimension)}")
    case = case_of(row, dimension, facts)
    if isinstance(case, Absent):
        return _not_readable(row, dimension, facts, case.reason)
    verdict, chance = decide(case, risk)
    return Finding(
        verdict=verdict,
        dimension=dimension,
        value=value_of(case),
        limit=row,
        bound=bound_of(row, case.numbers),
        formula=limit_text(row, case.numbers, unit_of(dimension)),
        probability=chance,
        words=sentence(case, verdict, chance, risk),
    )


def _not_readable(row: Limit, dimension: str, facts: Facts, reason: str) -> Finding:
    formula, bound = _limit_alone(row, dimension, facts)
    nothing = Absent(reason=reason if dimension else NOT_YET)
    words = f"{label_of(dimension) or row.title} not readable: {reason}. The limit: {formula or 'none given'}."
    return Finding(
        verdict=Verdict.NOT_READABLE,
        dimension=dimension,
        value=facts.dimensions.get(dimension, nothing),
        limit=row,
        bound=bound,
        formula=formula,
        probability=None,
        words=f"{words} {cited(row)}.",
    )


def _limit_alone(row: Limit, dimension: str, facts: Facts) -> tuple[str, float | None]:
    """The limit with its numbers as far as they are known, for someone who measures by hand."""
    if not (row.least or row.most):
        return raw_text(row), None
    inputs = gather(row, dimension, facts, (row.least, row.most))
    if isinstance(inputs, Absent):
        return raw_text(row), None
    numbers = Case(limit=row, dimension=dimension, inputs=inputs, relative=0.0).numbers
    return limit_text(row, numbers, unit_of(dimension)), bound_of(row, numbers)


def _does_not_apply(row: Limit, dimension: str, reason: str) -> Finding:
    return Finding(
        verdict=Verdict.DOES_NOT_APPLY,
        dimension=dimension,
        value=Absent(reason=reason),
        limit=row,
        bound=None,
        formula=raw_text(row),
        probability=None,
        words=f"{row.title} does not apply: {reason}. {cited(row)}.",
    )


def _kind(family: str) -> str:
    return "a bead on plate" if family == "bead" else f"a {family} joint"


def _listed(families: Sequence[str]) -> str:
    return " and ".join(families) if len(families) < 3 else f"{', '.join(families[:-1])} and {families[-1]}"


def _notes(reading: Reading, risk: float) -> tuple[str, ...]:
    sure = 100 - risk * 100
    notes = (
        "This is a reading of one section held against limits, never a certificate of the weld.",
        f"Decided with an accepted risk of {risk * 100:g} % (JCGM 106, ISO 14253-1): met when the limit is kept with "
        f"a probability of at least {sure:g} %, not met when with at most {risk * 100:g} %, else too close to say.",
        "What is not permitted counts as absent, on this section only, when nothing above "
        f"{SMALLEST:g} mm can hide there.",
        "The limit's own uncertainty counts: lengths share the scale, all else is taken as independent. U has k = 2.",
    )
    if not reading.doubts:
        return notes
    parts = ", ".join(dict.fromkeys(doubt.part for doubt in reading.doubts))
    return (*notes, f"Parts of the outline are doubtful ({parts}): look at them before you use the verdicts.")
