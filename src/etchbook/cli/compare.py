"""The command ``compare``."""

from typing import TYPE_CHECKING

import typer

from etchbook.cli.said import BOOK

if TYPE_CHECKING:
    from etchbook.wiring.comparison import ComparisonView


def compare(
    a: list[str] = typer.Option(
        ...,
        "--a",
        metavar="BEAD",
        help="A bead of the first group: code in the book, READING.json, or ONE.json+TWO.json (sections). Repeat.",
    ),
    b: list[str] = typer.Option(..., "--b", metavar="BEAD", help="A bead of the second group. Repeat."),
    names: str = typer.Option("a, b", metavar='"A, B"', help="What the groups are called."),
    settings: str = typer.Option("", metavar="FILE.toml", help="What was logged: [[a]] and [[b]], one table a bead."),
    under_test: str = typer.Option("", metavar="SETTING", help="The setting that was meant to differ."),
    on: str = typer.Option("", metavar="DIMENSION", help="The dimension the question is about."),
    scatter: float | None = typer.Option(None, metavar="SD", help="Of that dimension, from bead to bead."),
    scatter_dof: float | None = typer.Option(None, metavar="N", help="Beads behind the scatter, less one."),
    margin: float | None = typer.Option(None, metavar="D", help="Differences of it up to this are of no consequence."),
    welding: str = typer.Option("", metavar="HOW", help="mechanised or hand: which planning scatter is meant."),
    html: str = typer.Option("", metavar="OUT.html", help="Keep everything as one page with its drawings."),
    pdf: str = typer.Option("", metavar="OUT.pdf", help="Keep everything as pages to print."),
    plots: str = typer.Option("", metavar="DIR", help="Keep the drawings there: strips, outlines, run order."),
    json: bool = typer.Option(False, "--json", help="Print JSON instead of tables."),
    book: str | None = BOOK,
) -> None:
    """Compare two beads or two groups of beads: what differs, whether it is more than scatter, what else moved."""
    from etchbook.cli import show
    from etchbook.usecases.comparing_words import comparison_document
    from etchbook.wiring.compared import groups_from, settings_file
    from etchbook.wiring.comparison import Wish, compared, margins_in, named

    logged = settings_file(settings) if settings else {}
    groups, own = groups_from(a, b, logged, book)
    wish = Wish(names=named(names), under_test=under_test or str(logged.get("under_test", "")), on=on, scatter=scatter,
                scatter_dof=scatter_dof, margin=margin, margins=margins_in(logged), welding=welding)  # fmt: skip
    view = compared(groups[0], groups[1], wish, own)
    kept = _keep(view, {"html": html, "pdf": pdf}, plots)
    if json:
        show.as_json(comparison_document(view.made, view.question))
        return
    _print(view)
    if kept:
        print(f"kept: {', '.join(kept)}")


def _keep(view: "ComparisonView", pages: dict[str, str], plots: str) -> list[str]:
    from pathlib import Path

    from etchbook.wiring.desk import FilesDesk

    desk = FilesDesk()
    kept = {path: view.page(kind) for kind, path in pages.items() if path}
    if plots:
        desk.make_folder(plots)
        kept |= {str(Path(plots) / name): page for name, page in view.drawings.items()}
    desk.keep(kept)
    return list(kept)


def _print(view: "ComparisonView") -> None:
    from etchbook.cli import show
    from etchbook.usecases.comparing_words import dimension_table, effect_notes, moved_lines
    from etchbook.usecases.effects import effect_table

    print(view)
    headings, rows = dimension_table(view.made)
    ids = [row.dimension for row in view.made.rows]
    show.table((*headings, "id"), [(*cells, name) for cells, name in zip(rows, ids, strict=True)])
    for part in view.made.splits.values():
        print(f"amount and form: {part.words}")
    for line in moved_lines(view.made):
        print(f"beside it: {line}")
    headings, rows = effect_table(view.made.beside)
    if rows:
        show.table(headings, rows)
    for note in (*effect_notes(view.made), *view.made.notes):
        print(f"note: {note}")
