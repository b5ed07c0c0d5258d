"""What stands in a report, as plain text: the PDF and the page are two ways of setting the same entries."""

from typing import Any

from etchbook.acceptance.records import Finding, Judgement, Verdict
from etchbook.quantity import Absent, Measured, rounded, spoken
from etchbook.report.facts import NOT_GIVEN, Issue, day_words, drawing_caption, facts, photo_caption
from etchbook.report.shapes import slug
from etchbook.report.svg import printable
from etchbook.report.wording import CAUTIONS, JOINTS, KEY, ONE_SECTION, SHORT, VERDICTS, factor_words
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS


def contents(issue: Issue) -> dict[str, Any]:
    """Every entry of the report as text, cleaned of control characters, in the order in which it is read."""
    reading, judgement = issue.reading, issue.judgement
    told = {
        "title": "Reading of an etched weld section",
        "joint": JOINTS[reading.joint.family],
        "picture": reading.picture.name or "picture without a name",
        "specimen": reading.preparation.specimen,
        "date": day_words(issue.today),
        "iso_date": issue.today.isoformat(),
        "summary": summary(judgement),
        "counts": _counts(judgement),
        "first": _first(judgement),
        "key": _key(reading),
        "photo_caption": photo_caption(issue),
        "drawing_caption": drawing_caption(reading),
        "facts": facts(issue),
        "dimensions": [_row(name, value) for name, value in reading.dimensions.items() if isinstance(value, Measured)],
        "absent": _absent(reading),
        "against": "" if judgement is None else judgement.title,
        "risk": "" if judgement is None else f"{judgement.risk:.1%}".replace(".0%", "%").replace("%", " %"),
        "findings": [] if judgement is None else [_finding(item) for item in judgement.findings],
        "judgement_notes": [] if judgement is None else list(judgement.notes),
        "legend": [{"shape": slug(kind), "word": str(kind), "means": means} for kind, means in VERDICTS.items()],
        "doubts": [
            {"part": part_words(doubt.part), "reason": _sentence(doubt.reason), "remedy": _sentence(doubt.remedy)}
            for doubt in reading.doubts
        ],
        "corrections": _corrections(reading),
        "notes": list(reading.notes),
        "one_section": ONE_SECTION,
        "cautions": list(CAUTIONS),
        "made": _made(reading),
    }
    cleaned: dict[str, Any] = _clean(told)
    return cleaned


def _clean(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {key: _clean(item) for key, item in value.items()}
    return [_clean(item) for item in value] if isinstance(value, list) else value


def summary(judgement: Judgement | None) -> str:
    """The verdicts in one or two plain sentences, the worst first; never a plain pass."""
    if judgement is None:
        return "The reading was not held against any limits."
    found = {verdict: sum(item.verdict == verdict for item in judgement.findings) for verdict in Verdict}
    told = [_tally(found[verdict], words) for verdict, words in _TALLIES if found[verdict]]
    if not told:
        return f"Held against {judgement.title}: nothing in this section could be judged."
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


MOST_FIRST = 6


def _first(judgement: Judgement | None) -> list[dict[str, str]]:
    """What a foreman should see before anything else: the findings that ask for a decision, the worst first."""
    if judgement is None:
        return []
    asking = [
        item
        for verdict in (Verdict.NOT_MET, Verdict.TOO_CLOSE, Verdict.ONLY_IF_SHORT)
        for item in judgement.findings
        if item.verdict == verdict
    ]
    rows = [_finding(item) for item in asking[:MOST_FIRST]]
    more = len(asking) - len(rows)
    if more:
        rest = f"{more} more under the heading of the limits."
        rows.append({"shape": slug(Verdict.DOES_NOT_APPLY), "verdict": "and", "words": rest})
    return rows


def _key(reading: Reading) -> list[dict[str, str]]:
    found = [(name, reading.dimensions[name]) for name in KEY if name in reading.dimensions]
    # In a fillet the nominal throat is the one asked for; two throats side by side would be taken for each other.
    names = {name for name, value in found if isinstance(value, Measured)}
    kept = [pair for pair in found if not (pair[0] == "throat" and "nominal_throat" in names)]
    return [
        {"label": SHORT.get(name, name), "value": spoken(value)} for name, value in kept if isinstance(value, Measured)
    ]


def _row(name: str, value: Measured) -> dict[str, str]:
    term = DIMENSIONS.get(name)
    told, spread = rounded(value)
    return {
        "label": term.label if term else name.replace("_", " "),
        "symbol": term.symbol if term else "",
        "value": told.replace("-", "−"),
        "spread": spread,
        "unit": value.unit,
        "k": factor_words(value),
        "how": term.definition if term else "",
    }


def _absent(reading: Reading) -> list[dict[str, str]]:
    """What was not read, gathered by its reason."""
    by_reason: dict[str, list[str]] = {}
    for name, value in reading.dimensions.items():
        if isinstance(value, Absent):
            label = DIMENSIONS[name].label if name in DIMENSIONS else name.replace("_", " ")
            by_reason.setdefault(value.reason, []).append(label)
    return [{"reason": reason, "what": ", ".join(labels)} for reason, labels in by_reason.items()]


def part_words(name: str) -> str:
    """A part of the outline as a person says it: ``HAZ edge 2``."""
    return name.replace("_", " ").replace("haz", "HAZ")


def _sentence(text: str) -> str:
    """The text with a capital and a full stop, so that reasons and remedies can stand in a row."""
    text = text.strip()
    closed = text if not text or text[-1] in ".!?" else f"{text}."
    return closed[:1].upper() + closed[1:]


def _finding(item: Finding) -> dict[str, str]:
    limit, term = item.limit, DIMENSIONS.get(item.dimension)
    chance = "" if item.probability is None else f"probability that it is met: {_percent(item.probability)}"
    return {
        "shape": slug(item.verdict),
        "verdict": str(item.verdict),
        "item": f"{limit.number} {limit.title}".strip(),
        "dimension": term.label if term else item.dimension.replace("_", " "),
        "value": spoken(item.value),
        "formula": item.formula or "no figure",
        "source": f"{limit.source}:{limit.edition}, {limit.clause} ({limit.status})",
        "chance": chance,
        "words": item.words,
    }


def _percent(chance: float) -> str:
    if chance > 0.999:
        return "more than 99.9 %"
    return "less than 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"


def _corrections(reading: Reading) -> str:
    if not reading.marks:
        return "The outline is the automatic one; nobody has corrected it."
    names = ", ".join(dict.fromkeys(part_words(mark.name) for mark in reading.marks))
    kept = " The automatic outline is kept in the reading." if reading.automatic is not None else ""
    return f"A person's marks were laid over the automatic outline: {names}.{kept}"


def _made(reading: Reading) -> list[dict[str, str]]:
    return [
        {"label": "Program", "value": reading.program or NOT_GIVEN},
        {
            "label": "SHA-256 of the photo's file",
            "value": reading.picture.sha256 or "none: the picture never was a file",
        },
        {"label": "Uncertainty", "value": "U = k u, 95 % coverage (JCGM 100:2008, 6.2 and 6.3)"},
    ]
