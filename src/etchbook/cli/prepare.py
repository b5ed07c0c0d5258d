"""The command ``prepare``."""

import typer


def prepare(
    want: str = typer.Argument("", metavar="WANT", help="What you want to see: outline, haz, line or grains."),
    material: list[str] = typer.Option(["carbon_steel"], metavar="NAME", help="Twice where two metals are joined."),
    cut: str = typer.Option("saw", metavar="HOW", help="How it was cut: saw, disc, grinder, flame or shear."),
    volume: str = typer.Option("50", metavar="ML", help="How much etchant you want."),
    etchant: str = typer.Option("", metavar="NAME", help='Another than the usual one, such as "nital 5 %".'),
    mount: str = typer.Option("rule", metavar="yes|no|rule", help="Into resin or not; a rule decides when left out."),
    resin: str = typer.Option("epoxy", metavar="NAME", help="epoxy, acrylic or polyester."),
    size: str = typer.Option(
        "", metavar="LxWxT", help="Face and thickness of the piece in mm, for the amount of resin."
    ),
    k: str = typer.Option("", metavar="TIMES", help="Take off at least this many times the grit before."),
    piece: str = typer.Option("", metavar="CODE", help="Code of the piece, printed on the card."),
    json: str = typer.Option("", metavar="OUT", help="Keep the steps as JSON; - prints it."),
    pdf: str = typer.Option("", metavar="OUT", help="Keep the bench card as PDF, with boxes to tick."),
    list_: bool = typer.Option(False, "--list", help="List what can be asked for, with every etchant."),
) -> None:
    """Say how to grind, polish and etch a face so that it shows what you want to see, with safety at every step."""
    from etchbook.usecases.preparing import prepare as steps_for
    from etchbook.usecases.preparing import prepare_wish
    from etchbook.wiring.benchpages import preparation_page
    from etchbook.wiring.desk import FilesDesk

    if list_:
        _list()
        return
    wish = prepare_wish(want, material, cut, volume=volume, etchant=etchant, mount=mount, resin=resin, size=size, k=k)
    plan = steps_for(wish)
    asked = {"json": json if json != "-" else "", "pdf": pdf}
    FilesDesk().keep({path: preparation_page(kind, plan, piece=piece) for kind, path in asked.items() if path})
    print(preparation_page("json" if json == "-" else "text", plan).decode(), end="")
    for path in asked.values():
        if path and json != "-":
            print(f"kept: {path}")


def _list() -> None:
    from etchbook.cli import show
    from etchbook.preparation import choices, etchants

    rows = [(kind, name, title) for kind in ("want", "material", "cut", "resin") for name, title in choices(kind)]
    rows += [("etchant", name, f"{title}: {shows}") for name, title, shows in etchants()]
    show.table(("for", "name", "what it is"), rows)
