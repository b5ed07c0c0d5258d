"""The commands. Each imports what it needs only when it runs, so that ``--help`` comes at once."""

import typer

from etchbook.cli import cuts, gas, judge, line, paint, prepare, read, words

app = typer.Typer(
    name="etchbook",
    help="Reads photographs of cut-and-etched weld sections: outline, dimensions with uncertainty, judgement, report.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

app.command("read", no_args_is_help=True)(read.read)
app.command("judge", no_args_is_help=True)(judge.judge)
app.command("line", no_args_is_help=True)(line.line)
app.command("paint")(paint.paint)
app.command("demo")(paint.demo)
app.command("cuts", no_args_is_help=True)(cuts.cuts)
app.command("prepare", no_args_is_help=True)(prepare.prepare)
app.command("terms")(words.terms)
app.command("limits")(words.limits)
app.command("check")(words.check)
app.add_typer(gas.app, name="gas")


def _version(asked: bool) -> None:
    if asked:
        from etchbook import __version__

        typer.echo(f"etchbook {__version__}")
        raise typer.Exit


@app.callback()
def house(
    version: bool = typer.Option(False, "--version", callback=_version, is_eager=True, help="Print the version."),
) -> None:
    """Reads photographs of cut-and-etched weld sections: outline, dimensions with uncertainty, judgement, report."""
