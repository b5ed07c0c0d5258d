"""Our own words for what is printed: headings, short names, verdicts in words and shapes, standing cautions."""

from etchbook.acceptance.records import Verdict
from etchbook.quantity import Measured, coverage_factor, rounded

SHORT = {
    "thickness_1": "plate 1",
    "thickness_2": "plate 2",
    "leg_1": "leg 1",
    "leg_2": "leg 2",
    "nominal_throat": "throat a",
    "throat": "throat",
    "convexity": "convexity",
    "root_penetration": "root penetration",
    "missed_root": "root missed by",
    "penetration_1": "penetration 1",
    "penetration_2": "penetration 2",
    "undercut_1": "undercut 1",
    "undercut_2": "undercut 2",
    "overlap_1": "overlap 1",
    "overlap_2": "overlap 2",
    "weld_width": "width",
    "excess_weld_metal": "excess",
    "root_width": "root width",
    "excess_penetration": "root excess",
    "root_concavity": "root concavity",
    "incompletely_filled": "not filled by",
    "haz_width_1": "HAZ 1",
    "haz_width_2": "HAZ 2",
    "toe_angle_1": "toe angle 1",
    "toe_angle_2": "toe angle 2",
}

LANDMARKS = {
    "toe_1": "toe 1",
    "toe_2": "toe 2",
    "joint_root": "root",
    "root_toe_1": "root toe 1",
    "root_toe_2": "root toe 2",
}

KEY = ("leg_1", "leg_2", "nominal_throat", "throat", "weld_width", "root_penetration", "penetration_1", "penetration_2")

JOINTS = {
    "tee": "tee joint, fillet weld",
    "lap": "lap joint, fillet weld",
    "corner": "open outside corner joint",
    "butt": "butt joint",
    "bead": "bead on plate",
}

NOT_FOUND = "no outline was found in this picture"

VERDICTS = {
    Verdict.MET: "The value keeps to the limit, its uncertainty counted.",
    Verdict.NOT_MET: "The value breaks the limit, its uncertainty counted.",
    Verdict.TOO_CLOSE: "The limit lies inside the uncertainty: measure again, or more closely, before you decide.",
    Verdict.ONLY_IF_SHORT: "Allowed only over a short length, and one section cannot show the length.",
    Verdict.NOT_READABLE: "The picture does not show enough to say.",
    Verdict.DOES_NOT_APPLY: "The rule does not concern this joint or this thickness.",
}

ONE_SECTION = (
    "This is a reading of one section, never a certificate. It shows the weld at one place; it says nothing of the "
    "length of a flaw, of starts and stops, or of what lies between this cut and the next."
)

CAUTIONS = (
    "What the etch does not show, the reading cannot show: fine cracks and narrow lack of fusion may be closed by "
    "grinding or too small for the picture.",
    "A section that is not cut square to the weld makes every length across it too long.",
    "Every U here is for the reading of this picture. How far one section differs from the next is not in it.",
    "Before a weld is accepted or refused, a person who knows the job looks at the section itself.",
)


def scaled_words(measured: Measured) -> str:
    """Value and unit alone, rounded as its uncertainty asks: ``6.12 mm``."""
    value, _ = rounded(measured)
    unit = measured.unit if measured.unit in ("", "°") else f" {measured.unit}"
    return f"{value}{unit}".replace("-", "−")


def factor_words(measured: Measured) -> str:
    """The coverage factor that U was made with."""
    return f"{coverage_factor(0.95, measured.dof):.2f}".removesuffix(".00")
