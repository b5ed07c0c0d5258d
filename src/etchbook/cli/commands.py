"""The commands. Each imports what it needs only when it runs, so that ``--help`` comes at once."""

import typer

from etchbook.cli import (
    beads,
    book,
    compare,
    cuts,
    faces,
    finding,
    follow,
    gas,
    heat,
    judge,
    label,
    line,
    next_check,
    paint,
    pieces,
    plan,
    plate,
    prepare,
    read,
    reckon,
    second_look,
    serve,
    weld,
    words,
)

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
app.command("follow", no_args_is_help=True)(follow.follow)
app.command("plate")(plate.plate)
app.command("second-look", no_args_is_help=True)(second_look.second_look)
app.command("paint")(paint.paint)
app.command("demo")(paint.demo)
app.command("cuts", no_args_is_help=True)(cuts.cuts)
app.command("prepare", no_args_is_help=True)(prepare.prepare)
app.command("weld", no_args_is_help=True)(weld.weld)
app.command("heat", no_args_is_help=True)(heat.heat)
app.command("reckon")(reckon.reckon)
app.command("terms")(words.terms)
app.command("limits")(words.limits)
app.command("check")(words.check)
app.add_typer(gas.app, name="gas")
app.add_typer(plan.app, name="plan")
app.command("compare", no_args_is_help=True)(compare.compare)
app.command("next-check")(next_check.next_check)

# The book: what a trial is made of, from the question to the picture.
MANY_WORDS = {"ignore_unknown_options": True}  # settings may be typed as options: --volts 18.5V
app.add_typer(book.app, name="book")
app.command("trial")(beads.trial)
app.command("bead", no_args_is_help=True, context_settings=MANY_WORDS)(beads.bead)
app.command("coupon", no_args_is_help=True)(pieces.coupon)
app.command("cut", no_args_is_help=True)(pieces.cut)
app.command("piece", no_args_is_help=True)(pieces.piece)
app.command("certificate")(pieces.certificate)
app.command("face", no_args_is_help=True)(faces.face)
app.command("picture", no_args_is_help=True)(faces.picture)
app.command("label")(label.label)
app.command("serve")(serve.serve)
app.command("open", no_args_is_help=True)(finding.open_code)
app.command("find", no_args_is_help=True)(finding.find)
app.command("history")(finding.history)
app.command("undo")(finding.undo)
app.command("bin")(finding.bin_)


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
