"""Rules of thumb of the workshop. Each is common practice: a place to start from, not a figure to hold a bead to."""

from etchbook.procedure.formulas import Range, published
from etchbook.procedure.records import ProcedureError
from etchbook.tables.packaged import packaged


@published(
    "amps by plate thickness (rule of thumb)",
    "A",
    "one ampere a thousandth of an inch of plate, power-source manuals (seen)",
    "common practice",
    valid=(Range(name="thickness", least=0.6, most=6.5, unit="mm"),),
)
def thumb_amps(thickness: float) -> float:
    """Current to start from for a plate thickness: 1 A for every 0.001 inch.

    Parameters
    ----------
    thickness : [mm]

    Returns
    -------
    [A]
    """
    return thickness / 0.0254


@published(
    "feed by amps (rule of thumb)",
    "m/min",
    "inches a minute for each ampere by wire size, power-source manuals (seen)",
    "common practice",
    valid=(Range(name="wire", least=0.58, most=1.2, unit="mm"),),
)
def thumb_feed(amps: float, wire: float) -> float:
    """Wire feed to start from for a current: 3.5, 2.0, 1.6 or 1.0 inches a minute for each ampere.

    Parameters
    ----------
    amps : [A]
    wire : solid steel wire [mm]; 0.6, 0.8, 0.9 or 1.2 (.024, .030, .035, .045 in)

    Returns
    -------
    [m/min]
    """
    row = wire_rule(wire)
    return amps * float(row["feed_per_amp"]) * 0.0254


@published(
    "gas flow by wire (rule of thumb)", "L/min", "ten times the wire, a power-source manual (seen)", "common practice"
)
def thumb_flow(wire: float) -> float:
    """Shielding gas to start from for Ar/CO2 on steel: ten litres a minute for each millimetre of wire.

    Parameters
    ----------
    wire : [mm]

    Returns
    -------
    [L/min]
    """
    return 10 * wire


@published(
    "largest leg in one pass (rule of thumb)",
    "mm",
    "short-circuit beads by wire size, a power-source manual (seen)",
    "common practice",
)
def thumb_leg(wire: float) -> float:
    """Largest fillet leg to try in one short-circuit pass.

    Parameters
    ----------
    wire : [mm]

    Returns
    -------
    [mm]
    """
    row = wire_rule(wire)
    if "largest_leg" not in row:
        raise ProcedureError(f"the rule names no largest leg for a wire of {wire:g} mm")
    return float(row["largest_leg"])


def wire_rule(wire: float) -> dict[str, float]:
    """The workshop's figures for the wire size nearest to this one [mm], or a refusal."""
    rows = packaged("procedure")["wire_rule"]
    row: dict[str, float] = min(rows, key=lambda row: abs(row["wire"] - wire))
    if abs(row["wire"] - wire) > 0.06:
        sizes = ", ".join(f"{row['wire']:g}" for row in rows)
        raise ProcedureError(f"the rules of thumb are for wires of {sizes} mm, not {wire:g} mm")
    return row
