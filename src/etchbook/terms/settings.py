"""What a welder sets, reads off and sees while a bead is made: one record a word, each with its unit."""

from etchbook.terms.records import Term


def _number(name: str, label: str, unit: str, definition: str) -> Term:
    return Term(id=name, label=label, unit=unit, definition=definition)


_NUMBERS: tuple[Term, ...] = (
    _number("volts", "volts", "V", "Arc or machine voltage; say in the remarks where it was read."),
    _number("amps", "amps", "A", "Welding current."),
    _number("wire_feed", "wire feed", "m/min", "Speed at which the wire is fed."),
    _number("wire_diameter", "wire diameter", "mm", "Diameter of the wire or electrode."),
    _number("travel", "travel speed", "mm/s", "Speed of the torch along the seam."),
    _number("stick_out", "stick-out", "mm", "Distance from contact tip to work."),
    _number("gas_flow", "gas flow", "L/min", "Shielding gas flow at the nozzle or as set."),
    _number("co2", "CO2 in the gas", "%", "Share of CO2 in the argon, by volume."),
    _number("nozzle", "nozzle bore", "mm", "Inner diameter of the gas nozzle."),
    _number(
        "power", "instantaneous power", "W", "Mean of volts times amps sample by sample, off a meter that gives it."
    ),
    _number(
        "energy", "instantaneous energy", "J", "Instantaneous energy summed over the bead, off a meter that gives it."
    ),
    _number("gauge", "cylinder gauge", "bar", "Pressure left in the gas cylinder, read off its gauge."),
    _number("work_angle", "gun work angle", "°", "Angle of the gun across the seam, from member 1."),
    _number(
        "travel_angle", "gun travel angle", "°", "Angle of the gun along the seam: positive pushes, negative drags."
    ),
    _number("plate_length", "plate length", "mm", "Length of the plates along the seam."),
    _number("plate_width", "plate width", "mm", "Width of the plates across the seam."),
    _number("thickness_1", "thickness of member 1", "mm", "Plate thickness of member 1."),
    _number("thickness_2", "thickness of member 2", "mm", "Plate thickness of member 2."),
    _number("gap", "root gap", "mm", "Gap between the plates at the root before welding, as it was found."),
    _number("groove_angle", "groove angle", "°", "Angle between the two prepared edges of a butt; 0 where square."),
    _number("root_face", "root face", "mm", "Unbevelled part of a butt's edges, from the root side."),
    _number("start_temperature", "start temperature", "°C", "Temperature of the plates before the first bead."),
    _number("interpass_temperature", "interpass temperature", "°C", "Temperature beside the seam before this bead."),
    _number("ambient", "ambient temperature", "°C", "Temperature of the air in the bay."),
    _number("humidity", "humidity", "%", "Relative humidity of the air in the bay."),
    _number("arc_time", "arc time", "s", "Time for which the arc burnt."),
    _number("bead_length", "bead length", "mm", "Length of the bead."),
)

_TEXTS: tuple[Term, ...] = (
    Term(id="process", label="process", definition="Welding process, by its ISO 4063 number or name."),
    Term(id="polarity", label="polarity", definition="Polarity of the electrode: DC+, DC- or AC."),
    Term(id="position", label="position", definition="Welding position, as PA, PB, PF or 1F, 2F, 3F."),
    Term(id="technique", label="technique", definition="How the gun was led: push, drag, weave, stringer."),
    Term(id="gas", label="gas", definition="Shielding gas, by name or composition."),
    Term(id="cylinder", label="cylinder", definition="Number on the gas cylinder."),
    Term(id="wire", label="wire", definition="Wire or electrode: make-free designation and batch."),
    Term(id="surface", label="surface", definition="State of the plate surface: ground, mill scale, oily, primed."),
    Term(id="machine", label="machine", definition="Which welding machine, and its program number."),
    Term(id="operator", label="operator", definition="Code of the person who welded."),
    Term(id="remarks", label="remarks", definition="Anything else that was set, read or seen."),
)

SETTINGS: dict[str, Term] = {term.id: term for term in (*_NUMBERS, *_TEXTS)}
"""Every setting a bead can carry, by id, in the order in which they are told."""

NUMBERS: frozenset[str] = frozenset(term.id for term in _NUMBERS)
"""The settings that are numbers with a unit; the rest are words."""

ALIASES: dict[str, str] = {
    "v": "volts",
    "voltage": "volts",
    "a": "amps",
    "current": "amps",
    "feed": "wire_feed",
    "wire_speed": "wire_feed",
    "wirefeed": "wire_feed",
    "wire_size": "wire_diameter",
    "speed": "travel",
    "travel_speed": "travel",
    "stickout": "stick_out",
    "tip_to_work": "stick_out",
    "flow": "gas_flow",
    "pressure": "gauge",
    "angle": "work_angle",
    "t1": "thickness_1",
    "t2": "thickness_2",
    "thickness": "thickness_1",
    "root_gap": "gap",
    "opening": "gap",
    "land": "root_face",
    "start": "start_temperature",
    "preheat": "start_temperature",
    "interpass": "interpass_temperature",
    "welder": "operator",
    "note": "remarks",
    "notes": "remarks",
    "remark": "remarks",
}
"""What people also type for a setting."""
