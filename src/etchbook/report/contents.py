"""What stands in a report, as plain text: the PDF and the page are two ways of setting the same entries."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from etchbook.acceptance.records import Finding, Judgement, Verdict
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Absent, Measured, rounded, spoken
from etchbook.report.paper import paper_for
from etchbook.report.photos import Window
from etchbook.report.shapes import slug
from etchbook.report.svg import printable
from etchbook.report.wording import CAUTIONS, JOINTS, KEY, ONE_SECTION, SHORT, VERDICTS, factor_words
from etchbook.section import Reading
from etchbook.terms import DIMENSIONS

NOT_GIVEN = "not given"
PRINT_WIDTH = 170.0
"""Width at which the photo is set [mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Issue:
    """What a report is made of: the reading, its judgement, the part of the photo printed, the day."""

    reading: Reading
    judgement: Judgement | None
    window: Window
    today: date


def contents(issue: Issue) -> dict[str, Any]:
    """Every entry of the report as text, cleaned of control characters, in the order in which it is read."""
    reading, judgement = issue.reading, issue.judgement
    told = {
        "title": "Reading of an etched weld section",
        "joint": JOINTS[reading.joint.family],
        "picture": reading.picture.name or "picture without a name",
        "specimen": reading.preparation.specimen,
        "date": _day(issue.today),
        "iso_date": issue.today.isoformat(),
        "summary": summary(judgement),
        "counts": _counts(judgement),
        "key": _key(reading),
        "photo_caption": _photo_caption(issue),
        "drawing_caption": f"The section as it was read: {paper_for(reading).ratio} when printed on A4.",
        "facts": _facts(issue),
        "dimensions": [_row(name, value) for name, value in reading.dimensions.items() if isinstance(value, Measured)],
        "absent": _absent(reading),
        "against": "" if judgement is None else judgement.title,
        "risk": "" if judgement is None else f"{judgement.risk:.1%}".replace(".0%", "%").replace("%", " %"),
        "findings": [] if judgement is None else [_finding(item) for item in judgement.findings],
        "judgement_notes": [] if judgement is None else list(judgement.notes),
        "legend": [{"shape": slug(verdict), "word": str(verdict), "means": means} for verdict, means in VERDICTS.items()],
        "doubts": [
            {"part": doubt.part.replace("_", " "), "reason": doubt.reason, "remedy": doubt.remedy}
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


def _day(day: date) -> str:
    months = "January February March April May June July August September October November December".split()
    return f"{day.day} {months[day.month - 1]} {day.year}"


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


def _key(reading: Reading) -> list[dict[str, str]]:
    found = [(name, reading.dimensions[name]) for name in KEY if name in reading.dimensions]
    # In a fillet the nominal throat is the one asked for; two throats side by side would be taken for each other.
    names = {name for name, value in found if isinstance(value, Measured)}
    kept = [pair for pair in found if not (pair[0] == "throat" and "nominal_throat" in names)]
    return [{"label": SHORT.get(name, name), "value": spoken(value)} for name, value in kept if isinstance(value, Measured)]


def _photo_caption(issue: Issue) -> str:
    left, _, right, _ = issue.window
    whole = right - left == issue.reading.picture.width
    part = "The whole photo" if whole else "The photo around the weld"
    lines = "with the outline as read and the lines along which it was measured"
    return f"{part}, {lines}. {_magnification(issue)}"


def _magnification(issue: Issue) -> str:
    scale = issue.reading.scale
    if isinstance(scale, NoScale):
        return "Magnification not known: there is no scale."
    times = PRINT_WIDTH * scale.px_per_mm / (issue.window[2] - issue.window[0])
    return f"Printed {times:.2g} times its size when on A4."


def _facts(issue: Issue) -> list[dict[str, str]]:
    reading, said = issue.reading, issue.reading.preparation
    rows = (
        ("Examination", "macroscopic, read from one photograph of a cut and etched section; entries as ISO 17639 "
         "asks for them (list from memory)"),
        ("Joint", _joint(reading)),
        ("Specimen", said.specimen),
        ("Place of the cut", ""),
        ("Parent metal", said.material),
        ("Finish of the face", said.finish),
        ("Etchant", said.etchant),
        ("Photo", f"{reading.picture.name or 'no name'}, {reading.picture.width} × {reading.picture.height} pixels"),
        ("Scale", scale_words(reading)),
        ("Magnification", f"{_magnification(issue)} Line drawing: {paper_for(reading).ratio}."),
        ("Read by", said.reader),
        ("Date of this report", _day(issue.today)),
    )
    return [{"label": label, "value": value or NOT_GIVEN, "given": "yes" if value else ""} for label, value in rows]


def _joint(reading: Reading) -> str:
    joint = reading.joint
    asked = [
        f"{what} {value:g} mm"
        for what, value in (("plate 1", joint.thickness_1), ("plate 2", joint.thickness_2), ("throat", joint.throat))
        if value is not None
    ]
    return JOINTS[joint.family] + (f"; asked for: {', '.join(asked)}" if asked else "")


_ORIGINS = {
    "given": "given as a number by the person",
    "two points": "from two points and the length between them",
    "rule": "from the graduations of a rule in the picture",
    "scale bar": "from a scale bar in the picture",
}


def scale_words(reading: Reading) -> str:
    """The scale, its uncertainty and how it was found; or why there is none."""
    scale = reading.scale
    if isinstance(scale, NoScale):
        return f"none: {scale.reason}. Lengths and areas are therefore not given"
    return f"{spoken(Measured(value=scale.px_per_mm, u=scale.u, unit='pixels per mm'))} (k = 2), {_origin(scale)}"


def _origin(scale: Scale) -> str:
    if scale.origin.startswith("thickness_"):
        member, _, value = scale.origin.removeprefix("thickness_").partition("=")
        return f"from the known thickness of plate {member}, {value} mm"
    return _ORIGINS.get(scale.origin, f"from: {scale.origin}")


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
    names = ", ".join(dict.fromkeys(mark.name.replace("_", " ") for mark in reading.marks))
    kept = " The automatic outline is kept in the reading." if reading.automatic is not None else ""
    return f"A person's marks were laid over the automatic outline: {names}.{kept}"


def _made(reading: Reading) -> list[dict[str, str]]:
    return [
        {"label": "Program", "value": reading.program or NOT_GIVEN},
        {"label": "SHA-256 of the photo's file", "value": reading.picture.sha256 or "none: the picture never was a file"},
        {"label": "Uncertainty", "value": "U = k u, 95 % coverage (JCGM 100:2008, 6.2 and 6.3)"},
    ]
