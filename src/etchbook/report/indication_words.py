"""What was measured of an indication, as rows of words."""

from etchbook.quantity import Absent, Quantity, spoken
from etchbook.section import Indication

PLACES = {
    "member_1": "plate 1",
    "member_2": "plate 2",
    "haz_1": "HAZ of plate 1",
    "haz_2": "HAZ of plate 2",
    "fusion_line_1": "fusion line of plate 1",
    "fusion_line_2": "fusion line of plate 2",
    "weld_metal": "weld metal",
}
KINDS = {"line": "line", "family": "family of lines", "blob": "blob"}
_FIGURES = (
    ("length", "Length"),
    ("depth_fraction", "Depth over thickness"),
    ("fusion_distance", "Distance to the fusion line"),
    ("angle_to_surface", "Angle to the plate face"),
    ("straightness", "Off its straight line, rms"),
    ("continuity", "Share of its length that is dark"),
    ("contrast", "Contrast"),
    ("edge_rise", "Edge, 10 to 90 % rise"),
    ("sharpest_rise", "The picture's sharpest true edge"),
    ("spacing", "Distance between lines"),
    ("roundness", "Roundness (1 is a circle)"),
)


def place_words(where: str) -> str:
    """A place in the section as a person says it."""
    return PLACES.get(where, where.replace("_", " ") or "place not told")


def kind_words(found: Indication) -> str:
    """What it is in the picture: a line, a family of 12 lines, a blob."""
    return f"family of {found.count} lines" if found.kind == "family" else KINDS.get(found.kind, found.kind)


def figures(found: Indication) -> list[dict[str, str]]:
    """Label and value of every field that was read, in the order of the trade: size, place, looks, what it meets."""
    rows = [("What and where", f"{kind_words(found)}, {place_words(found.where)}"), ("Width", width_words(found))]
    rows[1:1] = [(label, spoken(value)) for label, value in _measured(found)[:1]]
    rows += [(label, spoken(value)) for label, value in _measured(found)[1:]]
    if len(found.pieces) > 1:
        rows.append(("Pieces", str(len(found.pieces))))
    rows += _meets(found)
    return [{"label": label, "value": value} for label, value in rows]


def width_words(found: Indication) -> str:
    """The width, or what it is surely below."""
    if not isinstance(found.width, Absent):
        return spoken(found.width)
    if not isinstance(found.width_limit, Absent):
        return f"below {found.width_limit.value:.3f} {found.width_limit.unit}, the picture shows no finer"
    return spoken(found.width)


def _measured(found: Indication) -> list[tuple[str, Quantity]]:
    pairs = [(label, getattr(found, name)) for name, label in _FIGURES]
    return [(label, value) for label, value in pairs if not isinstance(value, Absent)]


def _meets(found: Indication) -> list[tuple[str, str]]:
    meets = found.meets
    told = (("At the HAZ edge", meets.haz), ("At the fusion line", meets.fusion))
    rows = [(label, str(value)) for label, value in told if value != "unknown"]
    if meets.match:
        rows.append(("In the other member", f"matched by {meets.match}"))
    if meets.faying:
        rows.append(("By the joint", "two plates lie on each other there"))
    if not isinstance(meets.scratch_angle, Absent):
        rows.append(("Angle to the scratches", spoken(meets.scratch_angle)))
    return rows
