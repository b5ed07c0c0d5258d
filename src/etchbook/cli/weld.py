"""The command ``weld``."""

from typing import TYPE_CHECKING, Any

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    from etchbook.procedure import ProcedureFigures, SectionComparison, Settings
    from etchbook.usecases.keeping.ports import BookStore


def said(metavar: str, help: str) -> Any:
    """An option that takes an amount with its unit."""
    return typer.Option("", metavar=metavar, help=help)


VOLTS = said("VOLTS", "Arc voltage: 18.5V, 18.5±0.3.")
AMPS = said("AMPS", "Current as read; left out, it is reckoned from feed and stick-out.")
FEED = said("SPEED", "Wire feed: 5.6m/min, 220in/min.")
WIRE = said("LENGTH", "Wire diameter: 1.0mm, .035in.")
TRAVEL = said("SPEED", "Travel speed: 30cm/min, 5mm/s, 12in/min; or give --length and --time.")
LENGTH = said("LENGTH", "Length of the bead.")
TIME = said("TIME", "Time the arc burned: 24s.")
STICK_OUT = said("LENGTH", "Contact tip to work: 14mm.")
PROCESS = said("PROCESS", "ISO 4063 number or name: 135, 136, 138, 111, 121, 141.")
MATERIAL = said("WORDS", "carbon steel, stainless steel or aluminium, or a grade such as S275.")
JOINT = said("JOINT", "tee, lap, corner, butt or bead.")
THICKNESS_1 = typer.Option("", "--thickness-1", metavar="LENGTH", help="Plate thickness of member 1: 8mm, 5/16in.")
THICKNESS_2 = typer.Option("", "--thickness-2", metavar="LENGTH", help="Plate thickness of member 2.")
PLATE_LENGTH = said("LENGTH", "Length of the coupon along the bead.")
PLATE_WIDTH = said("LENGTH", "Width of the coupon across the bead.")
START = said("TEMPERATURE", "Plate temperature at the start of the bead, or interpass: 20°C, 68°F.")
AMBIENT = said("TEMPERATURE", "Temperature of the room.")
LOSS = said("NUMBER", "Heat loss at the surface, W/(m²·K): about 25 on edge in air, 100 on a cold bench.")
CO2 = said("PERCENT", "CO2 in the argon.")
AS_JSON = typer.Option(False, "--json", help="Print JSON instead of a table.")


def weld(
    volts: str = VOLTS,
    amps: str = AMPS,
    feed: str = FEED,
    wire: str = WIRE,
    travel: str = TRAVEL,
    length: str = LENGTH,
    time: str = TIME,
    stick_out: str = STICK_OUT,
    process: str = PROCESS,
    material: str = MATERIAL,
    joint: str = JOINT,
    thickness_1: str = THICKNESS_1,
    thickness_2: str = THICKNESS_2,
    throat: str = said("LENGTH", "Throat that the drawing asks for."),
    start: str = START,
    steel: str = said("WORDS", 'Composition of the plate in per cent: "C=0.18 Mn=1.4 Si=0.35 rest=0".'),
    hydrogen: str = said("NUMBER", "Diffusible hydrogen of the consumable, ml/100 g."),
    co2: str = CO2,
    flow: str = said("FLOW", "Shielding gas: 14L/min, 30cfh."),
    nozzle: str = said("LENGTH", "Bore of the gas nozzle."),
    power: str = said("POWER", "Mean of the instantaneous power, from a meter that gives it: 2650W."),
    energy: str = said("ENERGY", "Instantaneous energy summed over the bead: 64kJ."),
    cable_length: str = said("LENGTH", "Welding cables, out and back together."),
    cable_area: str = said("AREA", "Copper section of the cables: 50mm²."),
    plate_length: str = PLATE_LENGTH,
    plate_width: str = PLATE_WIDTH,
    loss: str = LOSS,
    section: str = typer.Option("", metavar="READING.json", help="A kept reading to hold the settings beside."),
    bead: str = typer.Option(
        "", metavar="CODE", help="A bead of the book: its settings, and its sections beside them."
    ),
    group: str = said("GROUP", "Material group to ISO/TR 15608, for the hardness a procedure test permits: 1, 3, 9.1."),
    heat_treated: bool = typer.Option(False, "--heat-treated", help="The joint is heat-treated after welding."),
    book: str | None = BOOK,
    json: bool = AS_JSON,
) -> None:
    """Say what a bead's settings mean: heat input, cooling time, deposit, expected leg, steel, gas, fused section.

    Amounts are typed in any common unit, with ± their standard uncertainty where it is known. What is missing is
    never filled in: the figures that need it say so.
    """
    from etchbook.wiring.welding import section_read, settings_from
    from etchbook.wiring.welding import weld as reckoned

    typed = {
        "volts": volts, "amps": amps, "power": power, "energy": energy, "wire_feed": feed, "wire_diameter": wire,
        "travel": travel, "bead_length": length, "arc_time": time, "stick_out": stick_out, "co2": co2,
        "gas_flow": flow, "nozzle": nozzle, "thickness_1": thickness_1, "thickness_2": thickness_2, "throat": throat,
        "plate_length": plate_length, "plate_width": plate_width, "start_temperature": start, "loss": loss,
        "hydrogen": hydrogen, "cable_length": cable_length, "cable_area": cable_area, "process": process,
        "material": material, "joint": joint, "steel": steel,
    }  # fmt: skip
    if bead:
        _refuse_both(bead, typed)
        settings, beside = _from_book(bead, book)
    else:
        settings, beside = settings_from(typed), {}
    if section:
        from etchbook.usecases.reckoning import beside_section

        reading = section_read(section)
        beside[section] = beside_section(settings, reading.dimensions, reading.joint.family)
    sheet, limit = reckoned(settings), _limit(group, heat_treated)
    if json:
        _as_json(sheet, beside, limit)
    else:
        _as_table(sheet, beside, limit)


def _refuse_both(bead: str, typed: dict[str, str]) -> None:
    from etchbook.usecases import RefusedError

    both = [name for name, value in typed.items() if value]
    if both:
        raise RefusedError(f"say either --bead {bead} or the settings, not both: {both[0].replace('_', ' ')} was given")


def _from_book(bead: str, book: str | None) -> "tuple[Settings, dict[str, SectionComparison]]":
    from etchbook.usecases.beadwork import sections_of_bead, settings_in_book
    from etchbook.wiring import shelf

    store = shelf.meant(book)
    return settings_in_book(store, bead), dict(sections_of_bead(store, bead))


def _limit(group: str, heat_treated: bool) -> float | None:
    if not group:
        return None
    from etchbook.procedure import hardness_limit

    return hardness_limit(group, heat_treated=heat_treated)


def _as_table(sheet: "ProcedureFigures", beside: "dict[str, SectionComparison]", limit: float | None) -> None:
    from etchbook.cli import show
    from etchbook.wiring.told import cells, reasons

    show.table(("figure", "value", "U (k=2)", "unit", "in inches", "id"), [cells(one) for one in sheet.known])
    lacking = reasons(sheet.absent)
    if lacking:
        print("not reckoned:")
        for why, names in lacking.items():
            print(f"  {'; '.join(names)}: {why}")
    for note in dict.fromkeys(note for one in sheet.known for note in one.notes):
        print(f"note: {note}")
    if limit is not None:
        print(f"a procedure test permits at most {limit:.0f} HV10 (ISO 15614-1:2017+A1:2019, Table 3, seen)")
    for code, one in beside.items():
        _section(code, one)


def _section(code: str, beside: "SectionComparison") -> None:
    from etchbook.cli import show
    from etchbook.quantity import spoken

    print(f"beside the section {code}:")
    rows = [
        (one.verdict, one.label, spoken(one.predicted), spoken(one.measured), spoken(one.difference))
        for one in beside.rows
    ]
    show.table(("verdict", "figure", "from the settings", "in the section", "section less settings"), rows)
    print(beside.summary)
    for one in beside.pointers:
        print(f"look at {one.setting.replace('_', ' ')}: {one.reason}")


def _as_json(sheet: "ProcedureFigures", beside: "dict[str, SectionComparison]", limit: float | None) -> None:
    from etchbook.cli import show
    from etchbook.wiring.told import as_record

    told: dict[str, Any] = {"figures": [as_record(one) for one in sheet.figures.values()]}
    if limit is not None:
        told["highest_hv10"] = limit
    if beside:
        told["sections"] = [{"section": code} | _compared(one) for code, one in beside.items()]
    show.as_json(told)


def _compared(beside: "SectionComparison") -> dict[str, Any]:
    from etchbook.wiring.told import plain

    rows = [
        {"id": one.id, "label": one.label, "verdict": one.verdict}
        | {key: plain(getattr(one, key)) for key in ("predicted", "measured", "difference")}
        for one in beside.rows
    ]
    pointers = [{"setting": one.setting, "reason": one.reason} for one in beside.pointers]
    return {"summary": beside.summary, "rows": rows, "look_at": pointers}


def beside_bead(store: "BookStore", code: str) -> None:
    """What a bead's settings mean, in one line, for the page of the bead in the book."""
    from etchbook.quantity import Measured
    from etchbook.usecases.beadwork import SHOWN, sheet_of_bead

    sheet = sheet_of_bead(store, code)
    shown = [(sheet[name].label, sheet[name].quantity) for name in SHOWN]
    told = [f"{label} {_spoken(one)}" for label, one in shown if isinstance(one, Measured)]
    if told:
        print(f"it means: {'; '.join(told)} (more: etchbook weld --bead {code})")


def _spoken(quantity: Any) -> str:
    from etchbook.wiring.told import printed

    value, spread = printed(quantity)
    return f"{value}{'' if spread == 'not stated' else f' ± {spread}'} {quantity.unit}"
