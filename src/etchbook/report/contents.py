"""What stands in a report, as plain text: the PDF and the page are two ways of setting the same entries."""

from typing import Any

from etchbook.quantity import Absent, Measured, rounded, spoken
from etchbook.report.cut_sketch import cut_caption
from etchbook.report.facts import NOT_GIVEN, Issue, day_words, drawing_caption, facts, photo_caption
from etchbook.report.svg import printable
from etchbook.report.verdicts import verdict_entries
from etchbook.report.wording import CAUTIONS, JOINTS, KEY, ONE_SECTION, SHORT, factor_words
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
        "key": _key(reading),
        "photo_caption": photo_caption(issue),
        "drawing_caption": drawing_caption(reading),
        "cut_caption": cut_caption(reading.preparation.cut),
        "facts": facts(issue),
        "dimensions": [_row(name, value) for name, value in reading.dimensions.items() if isinstance(value, Measured)],
        "absent": _absent(reading),
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
    cleaned: dict[str, Any] = _clean(told | verdict_entries(judgement))
    return cleaned


def _clean(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {key: _clean(item) for key, item in value.items()}
    return [_clean(item) for item in value] if isinstance(value, list) else value


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
