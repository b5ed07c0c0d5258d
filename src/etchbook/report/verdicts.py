"""The judgement in a report: the summary, what asks for a decision, every verdict with its figure and its source."""

from typing import Any

from etchbook.acceptance.records import Finding, Judgement, Verdict
from etchbook.quantity import Absent, spoken
from etchbook.report.shapes import slug
from etchbook.report.wording import VERDICTS
from etchbook.terms import DIMENSIONS

JUDGED = (Verdict.NOT_MET, Verdict.TOO_CLOSE, Verdict.ONLY_IF_SHORT, Verdict.MET)
"""The verdicts that were reached on a figure, the worst first."""

MOST_FIRST = 6


def verdict_entries(judgement: Judgement | None) -> dict[str, Any]:
    """The entries of a report that come from a judgement; empty where there is none."""
    found = () if judgement is None else judgement.findings
    return {
        "summary": summary(judgement),
        "counts": _counts(judgement),
        "first": _first(found),
        "against": "" if judgement is None else judgement.title,
        "risk": "" if judgement is None else f"{100 * judgement.risk:g} %",
        "findings": [_finding(item) for verdict in JUDGED for item in found if item.verdict == verdict],
        "unreadable": [_unreadable(item) for item in found if item.verdict == Verdict.NOT_READABLE],
        "elsewhere": _elsewhere(found),
        "judgement_notes": [] if judgement is None else list(judgement.notes),
        "legend": [{"shape": slug(kind), "word": str(kind), "means": means} for kind, means in VERDICTS.items()],
    }


def summary(judgement: Judgement | None) -> str:
    """The verdicts in one or two plain sentences, the worst first; never a plain pass."""
    if judgement is None:
        return "The reading was not held against any limits."
    found = {verdict: sum(item.verdict == verdict for item in judgement.findings) for verdict in Verdict}
    told = [_tally(found[verdict], words) for verdict, words in _TALLIES if found[verdict]]
    if not told:
        reasons = {item.value.reason for item in judgement.findings if isinstance(item.value, Absent)}
        alone = f"{judgement.title} does not apply here: {reasons.pop()}." if len(reasons) == 1 else ""
        return alone or f"Held against {judgement.title}: nothing in this section could be judged."
    return f"Held against {judgement.title}: " + "; ".join(told) + "."


_TALLIES = (
    (Verdict.NOT_MET, "not met"),
    (Verdict.TOO_CLOSE, "too close to say"),
    (Verdict.ONLY_IF_SHORT, "allowed only if short"),
    (Verdict.NOT_READABLE, "not readable"),
    (Verdict.MET, "met as far as one section can show"),
)


def _tally(count: int, words: str) -> str:
    return f"{count} {'limit is' if count == 1 else 'limits are'} {words}"


def _counts(judgement: Judgement | None) -> list[dict[str, str]]:
    if judgement is None:
        return []
    found = [(verdict, sum(item.verdict == verdict for item in judgement.findings)) for verdict in Verdict]
    return [{"shape": slug(verdict), "word": str(verdict), "count": str(count)} for verdict, count in found if count]


def _first(found: tuple[Finding, ...]) -> list[dict[str, str]]:
    """What a foreman should see before anything else: the findings that ask for a decision, the worst first."""
    asking = [item for verdict in JUDGED[:-1] for item in found if item.verdict == verdict]
    rows = [
        {"shape": slug(item.verdict), "verdict": str(item.verdict), "words": _in_short(item)}
        for item in asking[:MOST_FIRST]
    ]
    if len(asking) > MOST_FIRST:
        rest = f"{len(asking) - MOST_FIRST} more under the heading of the limits"
        rows.append({"shape": slug(Verdict.DOES_NOT_APPLY), "verdict": "and", "words": rest})
    return rows


def _in_short(item: Finding) -> str:
    return f"{_dimension(item) or item.limit.title}: {spoken(item.value)}; limit: {item.formula or 'no figure'}"


def _dimension(item: Finding) -> str:
    term = DIMENSIONS.get(item.dimension)
    return term.label if term else item.dimension.replace("_", " ")


def _item(item: Finding) -> str:
    return f"{item.limit.number} {item.limit.title}".strip()


def _source(item: Finding) -> str:
    return f"{item.limit.source} ({item.limit.edition}), {item.limit.clause}, {item.limit.status}"


def _finding(item: Finding) -> dict[str, str]:
    chance = "" if item.probability is None else f"; probability that it is met: {_percent(item.probability)}"
    # The judge's own sentence gives figure, clause and edition; where it does not, they are put beside it.
    told = item.words if item.limit.clause in item.words else f"{item.words} {_source(item)}{chance}."
    return {
        "shape": slug(item.verdict),
        "verdict": str(item.verdict),
        "item": _item(item),
        "dimension": _dimension(item),
        "value": spoken(item.value),
        "formula": item.formula or "no figure",
        "words": told,
    }


def _unreadable(item: Finding) -> dict[str, str]:
    why = _advice(item.words) or (item.value.reason if isinstance(item.value, Absent) else item.words)
    dimension = f" ({_dimension(item)})" if item.dimension else ""
    return {
        "item": f"{_item(item)}{dimension}",
        "reason": why,
        "limit": f"{item.formula or 'no figure'}; {_source(item)}",
    }


def _advice(words: str) -> str:
    """What the judge says of why, and of what to do instead, without the limit that is told beside it."""
    _, found, rest = words.partition(f"{Verdict.NOT_READABLE}: ")
    told, closed, _ = rest.partition(" The limit:")
    return told.rstrip(".") if found and closed else ""


def _elsewhere(found: tuple[Finding, ...]) -> list[dict[str, str]]:
    """What does not apply, gathered by its reason."""
    by_reason: dict[str, list[str]] = {}
    for item in found:
        if item.verdict == Verdict.DOES_NOT_APPLY:
            why = item.value.reason if isinstance(item.value, Absent) else item.words
            by_reason.setdefault(why, []).append(_item(item))
    return [{"reason": reason, "what": "; ".join(items)} for reason, items in by_reason.items()]


def _percent(chance: float) -> str:
    if chance > 0.999:
        return "more than 99.9 %"
    return "less than 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"
