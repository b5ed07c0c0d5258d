"""The command ``heat``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.weld import (
    AMBIENT,
    AMPS,
    AS_JSON,
    FEED,
    JOINT,
    LENGTH,
    LOSS,
    MATERIAL,
    PLATE_LENGTH,
    PLATE_WIDTH,
    PROCESS,
    START,
    STICK_OUT,
    THICKNESS_1,
    THICKNESS_2,
    TIME,
    TRAVEL,
    VOLTS,
    WIRE,
    said,
)

if TYPE_CHECKING:
    from etchbook.usecases.reckoning import HeatAnswer


def heat(
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
    plate_length: str = PLATE_LENGTH,
    plate_width: str = PLATE_WIDTH,
    start: str = START,
    ambient: str = AMBIENT,
    loss: str = LOSS,
    point: list[str] = typer.Option(
        [], metavar="ACROSS,DEPTH", help="A point in mm from the centreline and below the surface; may be repeated."
    ),
    beads: int = typer.Option(1, metavar="COUNT", help="How many beads on the same coupon."),
    every: str = said("TIME", "Time from the start of one bead to the start of the next: 3min."),
    plot: str = typer.Option("", metavar="FOLDER", help="Keep the drawings there: plan.svg, section.svg, history.svg."),
    json: bool = AS_JSON,
) -> None:
    """Follow the heat of a bead through its coupon: fused width and depth, HAZ, cooling, warming from bead to bead.

    Conduction only; what the pool itself does is left out, and every answer says so.
    """
    from etchbook.wiring.welding import heat as reckoned
    from etchbook.wiring.welding import heat_pages, point_from, settings_from

    typed = {
        "volts": volts, "amps": amps, "wire_feed": feed, "wire_diameter": wire, "travel": travel,
        "bead_length": length, "arc_time": time, "stick_out": stick_out, "process": process, "material": material,
        "joint": joint, "thickness_1": thickness_1, "thickness_2": thickness_2, "plate_length": plate_length,
        "plate_width": plate_width, "start_temperature": start, "ambient": ambient, "loss": loss,
    }  # fmt: skip
    settings = settings_from(typed)
    answer = reckoned(settings, points=[point_from(text) for text in point], beads=beads, cycle=_seconds(every))
    kept = _keep(plot, heat_pages(answer)) if plot else []
    if json:
        _as_json(answer)
    else:
        _as_table(answer)
        for path in kept:
            print(f"kept: {path}")


def _seconds(text: str) -> float | None:
    if not text:
        return None
    from etchbook.wiring.units import amount

    return amount(text, "s", "the time between beads").value


def _keep(folder: str, pages: dict[str, str]) -> list[str]:
    from pathlib import Path

    from etchbook.usecases import RefusedError
    from etchbook.wiring.welding import keep

    place = Path(folder)
    if place.exists() and not place.is_dir():
        raise RefusedError(f"{folder} is a file: name a folder for the drawings")
    place.mkdir(parents=True, exist_ok=True)
    paths = {str(place / f"{name}.svg"): page.encode() for name, page in pages.items()}
    keep(paths)
    return list(paths)


def _as_table(answer: "HeatAnswer") -> None:
    from etchbook.cli import show
    from etchbook.procedure.heat_flow import CONDUCTION
    from etchbook.quantity import Absent, Measured
    from etchbook.wiring.told import cells, reasons

    known = [one for one in answer.figures if isinstance(one.quantity, Measured)]
    show.table(("figure", "value", "U (k=2)", "unit", "in inches", "id"), [cells(one) for one in known])
    for why, names in reasons(tuple(one for one in answer.figures if one not in known)).items():
        print(f"not reckoned: {'; '.join(names)}: {why}")
    headings = ("what would change", "width mm", "depth mm", "area mm²", "t8/5 s")
    show.table(
        headings, [(one.words, *map(_change, (one.width, one.depth, one.area, one.t85))) for one in answer.changes]
    )
    for one in answer.histories:
        peak = "molten" if one.peak > answer.coupon.melting else f"peak {one.peak:.0f} °C"
        print(f"{one.across:g} mm beside, {one.depth:g} mm deep: {peak}")
    if not isinstance(answer.starts, Absent):
        print("start of each bead: " + ", ".join(f"{one:.0f} °C" for one in answer.starts))
    elif answer.starts.reason != "only one bead was asked for":
        print(f"start of each bead not reckoned: {answer.starts.reason}")
    for note in dict.fromkeys([note for one in known for note in one.notes] + [CONDUCTION]):
        print(f"note: {note}")


def _change(number: float) -> str:
    return "none" if number != number else f"{round(number, 2) + 0.0:+.2f}"


def _as_json(answer: "HeatAnswer") -> None:
    import math
    from dataclasses import asdict

    from etchbook.cli import show
    from etchbook.quantity import Absent
    from etchbook.wiring.told import as_record

    def known(number: float) -> float | None:
        return number if math.isfinite(number) else None

    changes = [
        {key: known(n) if isinstance(n, float) else n for key, n in asdict(one).items()} for one in answer.changes
    ]
    show.as_json(
        {
            "figures": [as_record(one) for one in answer.figures],
            "changes": changes,
            "points": [
                {
                    "across": one.across,
                    "depth": one.depth,
                    "peak": None if one.peak > answer.coupon.melting else one.peak,
                    "molten": one.peak > answer.coupon.melting,
                    "seconds": one.seconds.tolist(),
                    "temperatures": [min(heat, answer.coupon.melting) for heat in one.temperatures.tolist()],
                }
                for one in answer.histories
            ],
            "starts": None if isinstance(answer.starts, Absent) else list(answer.starts),
        }
    )
