"""The words that are not dimensions."""

from etchbook.terms.records import Term

_ROWS: tuple[Term, ...] = (
    Term(
        id="weld_metal",
        label="weld metal",
        definition="Everything that was liquid: deposited metal and melted plate together.",
    ),
    Term(
        id="weld_face",
        label="weld face",
        definition="Boundary of the weld metal against the surroundings, on the side it was welded from.",
    ),
    Term(id="fusion_line", label="fusion line", definition="Boundary of the weld metal against unmelted plate."),
    Term(
        id="haz",
        label="heat-affected zone (HAZ)",
        definition="Plate that stayed solid but was visibly changed by the heat.",
    ),
    Term(
        id="haz_edge", label="HAZ edge", definition="Outer limit of the visibly changed plate next to the fusion line."
    ),
    Term(
        id="plate_surface_line",
        label="plate surface line",
        definition="Straight line through the unmelted original surface of a member next to the weld, carried on beneath the weld.",
    ),
    Term(id="toe", label="toe", definition="Where the weld face meets the plate surface of a member."),
    Term(
        id="joint_root",
        label="joint root",
        definition="Tee, lap: crossing point of the two plate surface lines. Open outside corner: the point where the inner edges touch. Butt: midpoint between the two root edges.",
    ),
    Term(
        id="member",
        label="member",
        definition="One of the plates that the weld joins. Tee: 1 the through plate, 2 the plate that stands on it. Lap: 1 the lower plate whose surface carries the toe, 2 the plate whose edge is welded. Corner, butt: 1 the left or horizontal member, 2 the other. Bead on plate: 1 only.",
    ),
    Term(
        id="reading",
        label="reading",
        definition="What was measured on one picture: outline, dimensions, indications. A correction makes a new edition; the old one stays.",
    ),
    Term(
        id="judgement",
        label="judgement",
        definition="A reading held against limits: met, not met, too close to say, only if short, not readable, does not apply.",
    ),
    Term(id="limits", label="limits", definition="The published or own rules that a reading is held against."),
    Term(
        id="indication",
        label="indication",
        definition="A mark on the face that is not an edge of the joint; it is not called a defect until judged.",
    ),
    Term(
        id="mark",
        label="mark",
        definition="A point that a person sets on the picture to pin or correct a part of the outline.",
    ),
    Term(
        id="scale",
        label="scale",
        definition="Pixels per millimetre in the plane of the section, with its standard uncertainty and how it was found.",
    ),
    Term(
        id="arc_energy",
        label="arc energy",
        definition="Volts times amps over travel speed, with no efficiency in it; AWS and ASME call this heat input.",
        unit="kJ/mm",
        symbol="E",
        clause="ISO/TR 17671-1 (seen)",
    ),
    Term(
        id="heat_input",
        label="heat input",
        definition="Arc energy times the thermal efficiency k that the convention gives the process.",
        unit="kJ/mm",
        symbol="Q",
        clause="ISO/TR 17671-1, EN 1011-1 (seen)",
    ),
    Term(
        id="cooling_time",
        label="cooling time t8/5",
        definition="Time in which the weld cools from 800 to 500 °C.",
        unit="s",
        symbol="t8/5",
        clause="EN 1011-2 Annex D (seen)",
    ),
    Term(
        id="stick_out",
        label="stick-out",
        definition="Distance from contact tip to work, along the wire.",
        unit="mm",
    ),
    Term(
        id="deposition_efficiency",
        label="deposition efficiency",
        definition="Share of the wire or electrode that becomes weld metal.",
    ),
    Term(
        id="beside_the_section",
        label="beside the section",
        definition="What a bead's settings predict, held next to what was measured in its section: agree, differs, cannot say.",
    ),
    Term(
        id="book",
        label="book",
        definition="Everything one shop keeps: one folder with its database and its original pictures.",
    ),
    Term(
        id="trial",
        label="trial",
        definition="Welds made to learn or to prove something, with the question they were to answer.",
    ),
    Term(
        id="bead",
        label="bead",
        definition="One weld of a trial, with its settings: what was set, what was read, what was seen.",
    ),
    Term(id="coupon", label="coupon", definition="The welded piece before cutting."),
    Term(
        id="piece",
        label="piece",
        definition="Any part that a cut made of a coupon; the pieces of one coupon know each other.",
    ),
    Term(id="picture", label="picture", definition="One photograph of a face; the original bytes are kept."),
    Term(id="face", label="face", definition="One prepared surface of a piece, with its preparation steps."),
)

WORDS: dict[str, Term] = {term.id: term for term in _ROWS}
