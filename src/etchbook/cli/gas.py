"""The commands ``gas ...``: what the gas can and cannot do."""

from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from etchbook.usecases.gassing import GasAnswer

app = typer.Typer(
    help="What the gas can and cannot do: come apart, mix, last, flow, frost up, sound.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

CO2 = typer.Option(None, "--co2", metavar="PERCENT", help="Share of CO2 in argon, percent by volume; or:")
O2 = typer.Option(None, "--o2", metavar="PERCENT", help="Share of oxygen in argon; or:")
HE = typer.Option(None, "--he", metavar="PERCENT", help="Share of helium in argon.")
FILLED = typer.Option(200.0, metavar="BAR", help="Gauge pressure of the full cylinder.")
FLOW = typer.Option(15.0, metavar="L/MIN", help="Flow while the arc burns.")
AS_JSON = typer.Option(False, "--json", help="Print JSON instead of a table.")


@app.command("split", no_args_is_help=True)
def split(
    co2: float | None = CO2,
    o2: float | None = O2,
    he: float | None = HE,
    coldest: float = typer.Option(..., metavar="°C", help="Coldest temperature that the cylinder has seen."),
    filled: float = FILLED,
    filled_at: float = typer.Option(15.0, metavar="°C", help="Temperature at which it was filled to that."),
    json: bool = AS_JSON,
) -> None:
    """Say whether the mixture can come apart, by gravity or by cold, and what would then be drawn off."""
    from etchbook.wiring import ask_gas

    _tell(ask_gas.split(co2=co2, o2=o2, he=he, coldest=coldest, filled=filled, filled_at=filled_at), json)


@app.command("mixing", no_args_is_help=True)
def mixing(
    co2: float | None = CO2,
    o2: float | None = O2,
    he: float | None = HE,
    filled: float = FILLED,
    t: float = typer.Option(20.0, "--at", metavar="°C", help="Temperature of the store."),
    days: list[float] = typer.Option([7, 14, 30, 60, 120], "--day", metavar="DAYS", help="Days since filling."),
    json: bool = AS_JSON,
) -> None:
    """Say how long layers from filling last, upright and lying, and what rolling can and cannot do."""
    from etchbook.wiring import ask_gas

    _tell(ask_gas.mixing(co2=co2, o2=o2, he=he, filled=filled, at=t, days=days), json)


@app.command("contents", no_args_is_help=True)
def contents(
    co2: float | None = CO2,
    o2: float | None = O2,
    he: float | None = HE,
    litres: float = typer.Option(..., metavar="L", help="Water capacity stamped on the cylinder."),
    gauge: float = typer.Option(..., metavar="BAR", help="What the cylinder gauge shows."),
    t: float = typer.Option(..., "--at", metavar="°C", help="Temperature of the cylinder."),
    flow: float = FLOW,
    gauge_u: float | None = typer.Option(None, metavar="BAR", help="Standard uncertainty of the gauge."),
    json: bool = AS_JSON,
) -> None:
    """Say how much gas is left, for how many hours, and what the gauge would show warmer or colder."""
    from etchbook.wiring import ask_gas

    found = ask_gas.contents(co2=co2, o2=o2, he=he, litres=litres, gauge=gauge, at=t, flow=flow, gauge_u=gauge_u)
    _tell(found, json)


@app.command("flow", no_args_is_help=True)
def flow(
    co2: float | None = CO2,
    o2: float | None = O2,
    he: float | None = HE,
    read: float = typer.Option(..., metavar="FLOW", help="What the flow tube shows."),
    unit: str = typer.Option("L/min", help="L/min or cfh."),
    tube: str = typer.Option("same", metavar="GAS", help="Gas the scale was made for: air, argon, co2 or same."),
    nozzle: float = typer.Option(16.0, metavar="MM", help="Inner diameter of the nozzle."),
    wind: float | None = typer.Option(None, metavar="M/S", help="Wind at the arc."),
    json: bool = AS_JSON,
) -> None:
    """Say what a flow reading means and whether the nozzle's flow may be turbulent."""
    from etchbook.wiring import ask_gas

    found = ask_gas.flow(co2=co2, o2=o2, he=he, read=read, unit=unit, tube=tube, nozzle=nozzle, wind=wind)
    _tell(found, json)


@app.command("regulator", no_args_is_help=True)
def regulator(
    co2: float | None = CO2,
    o2: float | None = O2,
    he: float | None = HE,
    gauge: float = typer.Option(..., metavar="BAR", help="What the cylinder gauge shows."),
    t: float = typer.Option(..., "--at", metavar="°C", help="Temperature of the cylinder."),
    flow: float = FLOW,
    json: bool = AS_JSON,
) -> None:
    """Say whether the regulator can frost up and make the flow hunt."""
    from etchbook.wiring import ask_gas

    _tell(ask_gas.regulator(co2=co2, o2=o2, he=he, gauge=gauge, at=t, flow=flow), json)


@app.command("sound", no_args_is_help=True)
def sound(
    co2: float | None = CO2,
    o2: float | None = O2,
    he: float | None = HE,
    t: float = typer.Option(20.0, "--at", metavar="°C", help="Temperature of the tube."),
    tube: float = typer.Option(250.0, metavar="MM", help="Length of the tube, closed at one end."),
    known: float | None = typer.Option(None, metavar="HZ", help="Tone with the known gas."),
    suspect: float | None = typer.Option(None, metavar="HZ", help="Tone with the suspect gas."),
    u: float = typer.Option(0.3, metavar="HZ", help="Standard uncertainty of each tone."),
    json: bool = AS_JSON,
) -> None:
    """Tell two gases apart by the tone of a tube: how to do it, and what two tones say."""
    from etchbook.usecases.errors import RefusedError
    from etchbook.wiring import ask_gas

    if (known is None) != (suspect is None):
        raise RefusedError("give both tones, --known and --suspect, or neither")
    heard = None if known is None or suspect is None else (known, suspect)
    _tell(ask_gas.sound(co2=co2, o2=o2, he=he, at=t, tube=tube, tones=heard, u=u), json)


def _tell(answer: "GasAnswer", json: bool) -> None:
    from etchbook.cli import show

    if json:
        rows = [{"label": line.label, "answer": line.words, "source": line.source} for line in answer.lines]
        show.as_json({"sentence": answer.sentence, "lines": rows, "notes": list(answer.notes)})
        return
    print(answer.sentence)
    show.table(("what", "answer", "source"), [(line.label, line.words, line.source) for line in answer.lines])
    for note in answer.notes:
        print(f"note: {note}")
