"""The command ``cuts``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK, BY

if TYPE_CHECKING:
    from etchbook.preparation import CutPlan, CutWish

MM = "MM"


def cuts(
    coupon: str = typer.Argument(
        ..., metavar="CODE|PLAN.toml", help="Code of the bead, such as N1-03; or a TOML file."
    ),
    joint: str = typer.Option("", metavar="JOINT", help="tee, lap, corner, butt or bead."),
    length: str = typer.Option("", metavar=MM, help="Of the coupon along the weld; 12in is understood as well."),
    width: str = typer.Option("", metavar=MM, help="Of the coupon across the weld."),
    thickness_1: str = typer.Option("", "--thickness-1", metavar=MM, help="Thickness of member 1."),
    thickness_2: str = typer.Option("", "--thickness-2", metavar=MM, help="Thickness of member 2, where it differs."),
    prove: str = typer.Option(
        "", metavar="TEST", help="iso-15614-1, iso-9606-1, asme-ix:procedure, asme-ix:performance or own."
    ),
    full_penetration: bool = typer.Option(False, "--full-penetration", help="The tee is welded through."),
    branch: bool = typer.Option(False, "--branch", help="It is a branch connection."),
    sections: str = typer.Option("", metavar="COUNT", help="How many, where it is own or more than the test asks for."),
    at: str = typer.Option("", metavar="MM,MM", help="Places of sections, from the start of the weld."),
    start_stops: str = typer.Option("", "--start-stops", metavar="MM,MM", help="Where welding stopped and began anew."),
    discard: str = typer.Option("", metavar=MM, help="Cut off at each end, where it is more than the test asks for."),
    kerf: str = typer.Option("", metavar=MM, help="Width of your saw cut; 2 mm when left out."),
    slice_: str = typer.Option(
        "", "--slice", metavar=MM, help="Thickness of a section piece; 15 mm; 0 saws once each."
    ),
    allowance: str = typer.Option("", metavar=MM, help="Ground off between cut and section; 1 mm when left out."),
    reserve: str = typer.Option("", metavar=MM, help="Least length of each other half; 10 mm when left out."),
    first: str = typer.Option("", metavar="LETTER", help="Letter of the first piece; A when left out."),
    json: str = typer.Option("", metavar="OUT", help="Keep the plan as JSON; - prints it."),
    pdf: str = typer.Option("", metavar="OUT", help="Keep the cutting sheet as PDF, drawn to scale."),
    svg: str = typer.Option("", metavar="OUT", help="Keep the drawing alone as SVG."),
    enter: bool = typer.Option(False, "--enter", help="Enter the pieces into the book, under the next free letters."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Plan where to saw a coupon: how many sections, where, what is discarded, which halves are kept."""
    said = {
        key.rstrip("_"): value
        for key, value in locals().items()
        if key not in ("json", "pdf", "svg", "enter", "by", "book")
    }
    from etchbook.cli.outputs import check_places
    from etchbook.usecases.cutting import cut_wish, cut_wish_from
    from etchbook.usecases.cutting import cuts as plan_for
    from etchbook.wiring.benchpages import cuts_page
    from etchbook.wiring.desk import FilesDesk

    desk = FilesDesk()
    given = {key: value for key, value in said.items() if value not in ("", False)}
    wish = cut_wish_from(desk.text(coupon), over=given) if coupon.lower().endswith(".toml") else cut_wish(given)
    asked = {"json": json if json != "-" else "", "pdf": pdf, "svg": svg}
    check_places([{kind: path for kind, path in asked.items() if path}], (coupon,))
    plan = _entered(wish, by, book) if enter else plan_for(wish)
    desk.keep({path: cuts_page(kind, plan) for kind, path in asked.items() if path})
    print(cuts_page("json" if json == "-" else "text", plan).decode(), end="")
    for path in asked.values():
        if path and json != "-":
            print(f"kept: {path}")


def _entered(wish: "CutWish", by: str, book: str | None) -> "CutPlan":
    """The plan under the next free letters of the book, with its pieces entered there."""
    import sys

    from etchbook.usecases.benchwork import enter_cuts, with_free_letters
    from etchbook.usecases.cutting import cuts as plan_for
    from etchbook.wiring import shelf

    store = shelf.meant(book)
    plan = plan_for(with_free_letters(store, wish))
    made = enter_cuts(store, shelf.hand(by), plan)
    print(f"entered into the book: {made[0].code} to {made[-1].code}", file=sys.stderr)
    return plan
