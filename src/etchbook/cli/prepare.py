"""The command ``prepare``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK, BY

if TYPE_CHECKING:
    from etchbook.preparation import PreparationPlan


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
    face: str = typer.Option("", metavar="CODE", help="Tick steps off in the book: a piece (its next face) or a face."),
    done: list[str] = typer.Option([], metavar="STEP", help="Step done, as grind_p400 or etch=8s, or all; may repeat."),
    towards: str = typer.Option("", metavar="PIECE", help="The piece that the face met across the cut."),
    by: str = BY,
    book: str | None = BOOK,
    list_: bool = typer.Option(False, "--list", help="List what can be asked for, with every etchant."),
) -> None:
    """Say how to grind, polish and etch a face so that it shows what you want to see, with safety at every step."""
    from etchbook.cli.outputs import check_places
    from etchbook.usecases.preparing import prepare as steps_for
    from etchbook.usecases.preparing import prepare_wish
    from etchbook.wiring.benchpages import preparation_page
    from etchbook.wiring.desk import FilesDesk

    if list_:
        _list()
        return
    wish = prepare_wish(want, material, cut, volume=volume, etchant=etchant, mount=mount, resin=resin, size=size, k=k)
    plan = steps_for(wish)
    if face or done:
        _tick(plan, face, done, towards, by, book)
        return
    asked = {"json": json if json != "-" else "", "pdf": pdf}
    check_places([{kind: path for kind, path in asked.items() if path}], ())
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


def _tick(plan: "PreparationPlan", face: str, done: list[str], towards: str, by: str, book: str | None) -> None:
    from etchbook.cli import said
    from etchbook.usecases import RefusedError
    from etchbook.usecases.benchwork import steps_named, tick_off
    from etchbook.wiring import shelf

    if not face or not done:
        raise RefusedError("to tick steps off, say both --face CODE and --done STEP (an id such as grind_p400, or all)")
    named = steps_named(done, plan)
    took = {name: said.seconds(time, f"the time of {name}") if time else None for name, time in named.items()}
    made, new = tick_off(shelf.meant(book), shelf.hand(by), face, plan, took, towards=towards)
    met = f", which faced {made.towards}" if made.towards else ""
    print(f"{'made' if new else 'changed'} face {made.code}{met}; steps done: {len(made.steps)}")
