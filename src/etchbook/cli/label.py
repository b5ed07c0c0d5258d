"""The command ``label``."""

import typer

from etchbook.cli.said import BOOK


def label(
    codes: list[str] = typer.Argument(
        None, metavar="CODE...", help="A trial, bead or coupon (all its pieces), a piece."
    ),
    out: str = typer.Option("", metavar="OUT.pdf", help="The sheet; left out, the codes to write by hand are listed."),
    size: str = typer.Option("70x37", metavar="MMxMM", help="Size of a label; --sizes lists them."),
    skip: int = typer.Option(0, metavar="N", help="Labels already used on the first sheet."),
    faces: bool = typer.Option(False, "--faces", help="With the faces of the pieces."),
    sizes: bool = typer.Option(False, "--sizes", help="List the label sizes."),
    book: str | None = BOOK,
) -> None:
    """Print labels with a square code to scan, or list the codes to write on the steel with a felt-tip."""
    from etchbook.cli import show
    from etchbook.cli.said import opened
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping.labels import labels
    from etchbook.wiring import shelf

    known = shelf.label_sizes()
    if sizes:
        show.table(("size", "sheet"), list(known.items()))
        return
    if not codes:
        raise RefusedError("say what the labels are for: the code of a trial, a bead or a piece")
    if size not in known:
        raise RefusedError(f'"{size}" is no size of a label: use {", ".join(known)}')
    if skip < 0:
        raise RefusedError(f"labels already used are 0 or more, not {skip}")
    made = labels(opened(book), codes, faces=faces)
    if not out:
        show.table(("write on it", "what it is"), [(one.written, "; ".join(one.lines)) for one in made])
        return
    shelf.keep_labels(made, size, out, skip=skip)
    print(f"kept: {out} ({len(made)} labels)")
