"""What was examined, and how: the entries that head a report."""

from dataclasses import dataclass
from datetime import date

from etchbook.acceptance.records import Judgement
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Measured, spoken
from etchbook.report.cut_sketch import cut_words
from etchbook.report.paper import paper_for
from etchbook.report.photos import Window
from etchbook.report.wording import JOINTS
from etchbook.section import Reading
from etchbook.usecases.grooves import spoken_groove

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)

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


def day_words(day: date) -> str:
    """A day in words, the same on every machine."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def photo_caption(issue: Issue) -> str:
    """What the photo in the report shows, and how much it is magnified."""
    left, _, right, _ = issue.window
    whole = right - left == issue.reading.picture.width
    if not issue.reading.outline.boundaries:
        return f"The whole photo; no outline was found in it. {_magnification(issue)}"
    part = "The whole photo" if whole else "The photo around the weld"
    lines = "with the outline as read and the lines along which it was measured"
    return f"{part}, {lines}. {_magnification(issue)}"


def drawing_caption(reading: Reading) -> str:
    """What the line drawing shows, and its scale."""
    if not reading.outline.boundaries:
        return "An empty sheet: no outline was found in this picture."
    return f"The section as it was read: {paper_for(reading).ratio} when printed on A4."


def _magnification(issue: Issue, opening: str = "Printed") -> str:
    scale = issue.reading.scale
    if isinstance(scale, NoScale):
        return "Magnification not known: there is no scale."
    times = PRINT_WIDTH * scale.px_per_mm / (issue.window[2] - issue.window[0])
    return f"{opening} {float(f'{times:.2g}'):g} times its size when on A4."


def facts(issue: Issue) -> list[dict[str, str]]:
    """Label and value of each entry; what nobody said stands there as not given."""
    reading, said = issue.reading, issue.reading.preparation
    rows = (
        (
            "Examination",
            "macroscopic, read from one photograph of a cut and etched section; entries as ISO 17639 "
            "asks for them (list from memory)",
        ),
        ("Object of the examination", said.purpose),
        ("Joint", _joint(reading)),
        ("Specimen", said.specimen),
        ("Place of the cut", said.place or cut_words(said.cut)),
        ("Parent metal", said.material),
        ("Consumable", said.consumable),
        ("Finish of the face", said.finish),
        ("Etchant", said.etchant),
        ("Etching", said.etching),
        ("Further measures and requirements", said.further),
        ("Features found", _features(reading)),
        ("Photo", f"{reading.picture.name or 'no name'}, {reading.picture.width} × {reading.picture.height} pixels"),
        ("Scale", scale_words(reading)),
        ("Magnification", f"{_magnification(issue, 'Photo: printed')} {_line_drawing(reading)}"),
        ("Read by", said.reader),
        ("Date of this report", day_words(issue.today)),
    )
    return [{"label": label, "value": value or NOT_GIVEN, "given": "yes" if value else ""} for label, value in rows]


def _features(reading: Reading) -> str:
    """What the section shows, as far as it was read; the figures stand further on."""
    lines = tuple(reading.outline.boundaries)
    found = [words for start, words in _TRACES if any(name.startswith(start) for name in lines)]
    marks = len(reading.indications)
    of_marks = f"{marks} {'mark that is no edge' if marks == 1 else 'marks that are no edges'} of the joint"
    return ", ".join((*found, of_marks if marks else "no mark beside the edges of the joint")) if found else ""


_TRACES = (("weld_face", "weld metal"), ("fusion_line", "fusion line"), ("haz_edge", "heat-affected zone"))


def _line_drawing(reading: Reading) -> str:
    return f"Line drawing: {paper_for(reading).ratio}." if reading.outline.boundaries else ""


def _joint(reading: Reading) -> str:
    joint = reading.joint
    asked = [
        f"{what}: {value:g} mm"
        for what, value in (("plate 1", joint.thickness_1), ("plate 2", joint.thickness_2), ("throat", joint.throat))
        if value is not None
    ]
    prepared = "" if joint.groove is None else f"; prepared with {spoken_groove(joint.groove)}"
    return JOINTS[joint.family] + prepared + (f"; asked for: {', '.join(asked)}" if asked else "")


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
