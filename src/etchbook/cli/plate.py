"""The command ``plate``."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import typer

if TYPE_CHECKING:
    from etchbook.usecases.lamellar import LamellarSum, Strained

DETAILS = (
    "full_thickness, good_corner, single_run_fillet, multi_run_fillet, penetration_sequenced, penetration or corner."
)
Given = float | None


def plate(
    reading: str = typer.Argument("", metavar="[READING.json]", help="Throat and thickness are taken from it."),
    area: Given = typer.Option(None, metavar="MM2", help="Area of one separation, by ultrasound."),
    length: Given = typer.Option(None, metavar="MM", help="Its length along the plate's edge."),
    depth: Given = typer.Option(None, metavar="MM", help="Effective weld depth."),
    throat: Given = typer.Option(None, metavar="MM", help="In place of --depth: the throat of a fillet."),
    thickness: Given = typer.Option(None, metavar="MM", help="Thickness of the plate that is pulled through."),
    detail: str = typer.Option("", metavar="WORD", help=DETAILS),
    restraint: str = typer.Option("medium", metavar="WORD", help="low, medium or high."),
    preheated: bool = typer.Option(False, "--preheated", help="Preheated to 100 °C or more."),
    compression: bool = typer.Option(False, "--compression", help="The plate is loaded in compression alone."),
    json: bool = typer.Option(False, "--json", help="Print JSON instead of text."),
) -> None:
    """Show what plate classes would allow, and the lamellar tearing sum of the joint. It never accepts a plate."""
    from dataclasses import asdict

    from etchbook.cli import show
    from etchbook.usecases.lamellar import lamellar_sum
    from etchbook.usecases.plate_classes import allowed, notes

    rows = allowed(area, length)
    given = {"depth": depth, "throat": throat, "thickness": thickness}
    loads = {"restraint": restraint, "preheated": preheated, "compression": compression}
    joint = _joint(reading, detail, given, loads)
    total = None if joint is None else lamellar_sum(joint)
    if json:
        document = {"classes": [asdict(row) for row in rows], "notes": list(notes())}
        show.as_json(document | {"sum": None if total is None else asdict(total)})
        return
    show.table(
        ("class", "standard", "what the class would allow", "of this size", "source"),
        [(row.name, row.standard, row.allows, row.here, f"{row.source}, {row.status}") for row in rows],
    )
    if total is None:
        print("For the sum name --detail, with a READING.json or --depth (or --throat) and --thickness.")
    else:
        _show_sum(total)
    for note in notes():
        print(f"note: {note}")


def _joint(reading: str, detail: str, given: Mapping[str, Given], loads: Mapping[str, Any]) -> "Strained | None":
    from dataclasses import replace

    from etchbook.usecases import RefusedError
    from etchbook.usecases.lamellar import Strained, details
    from etchbook.usecases.plate_classes import strained_joint
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.press import ReportPress

    depth, throat, thickness = given["depth"], given["throat"], given["thickness"]
    if depth is not None and throat is not None:
        raise RefusedError("the weld was given twice: use --depth or --throat, not both")
    if not detail:
        if reading or any(value is not None for value in given.values()):
            raise RefusedError(f"the sum also hangs on the detail: name --detail, one of {', '.join(details())}")
        return None
    size = depth if throat is None else throat
    if size is not None and thickness is not None:
        is_throat = throat is not None
        return Strained(depth=size, is_throat=is_throat, thickness=thickness, detail=detail, **loads)
    if not reading:
        raise RefusedError("the sum needs a weld depth or throat and a thickness, or a reading that holds them")
    record = ReportPress().reading(FilesDesk().text(reading))
    joint = replace(strained_joint(record, detail, depth=size, thickness=thickness), **loads)
    return replace(joint, is_throat=True) if throat is not None else joint


def _show_sum(total: "LamellarSum") -> None:
    from etchbook.cli import show

    rows = [
        (part.symbol, f"{part.value:g}", " ".join((part.label, part.given)).strip(), f"{part.source}, {part.status}")
        for part in total.parts
    ]
    show.table(("part", "value", "for", "source"), rows)
    print(f"ZEd = {total.printed}: the joint asks for {total.wanted}")
    if total.wanted_low != total.wanted_high:
        print(f"with the uncertainty of the figures it may also be {total.wanted_low} to {total.wanted_high}")
