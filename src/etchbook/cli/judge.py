"""The command ``judge``."""

import typer


def judge(
    reading: str = typer.Argument(..., metavar="READING.json", help="A reading kept by `etchbook read --json`."),
    against: str = typer.Option(..., metavar="LIMITS", help="Set such as iso-5817:B, or a TOML file of your own."),
    risk: float = typer.Option(0.05, metavar="SHARE", help='Accepted probability of a wrong "met" or "not met".'),
    json: str = typer.Option("", metavar="OUT", help="Keep the reading with its judgement; - prints it."),
) -> None:
    """Hold a kept reading against limits."""
    from etchbook.cli import show
    from etchbook.usecases.judging import judge as held_against
    from etchbook.usecases.judging import limits_for
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.press import ReportPress

    desk, press = FilesDesk(), ReportPress()
    record = press.reading(desk.text(reading))
    verdicts = held_against(record, limits_for(against, desk), risk=risk)
    page = press.page("json", record, verdicts, None)
    if json and json != "-":
        desk.keep({json: page})
    if json == "-":
        print(page.decode(), end="")
    else:
        show.judgement(verdicts)
