"""The commands ``paint`` and ``demo``."""

import sys

import typer


def paint(
    joint: str = typer.Option(..., help="tee, lap, corner, butt or bead."),
    out: str = typer.Option(..., metavar="DIR", help="Folder for the pictures and their truth."),
    seed: int = typer.Option(0, help="Of the first section; each further one adds 1."),
    size: str = typer.Option("1600x1200", metavar="WxH", help="Width and height in pixels, up to 48 MP."),
    count: int = typer.Option(1, help="How many sections."),
    difficulty: str = typer.Option("any", help="any, plain, moderate or hard."),
    lines: str = typer.Option("", metavar="KIND,KIND", help="Indications to paint in, like segregation,scratches."),
) -> None:
    """Paint sections whose truth is known: a picture, its regions and a truth JSON each."""
    from pathlib import Path

    from etchbook.usecases import painting
    from etchbook.usecases.words import family_named
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.press import ReportPress

    desk, press = FilesDesk(), ReportPress()
    family, pixels = family_named(joint), painting.picture_size(size)
    sections = painting.paint(family, seed, pixels, count=count, difficulty=difficulty, lines=lines)
    desk.make_folder(out)
    for name, section in sections:
        files = {str(Path(out) / file): page for file, page in press.painted(section, name).items()}
        desk.keep(files)
        print("\n".join(files))


def demo(out: str = typer.Option("demo", metavar="DIR", help="Folder for everything the demo makes.")) -> None:
    """Paint the training bay's sections, read and judge them, and tell trial N2 to its end. All is simulated."""
    from pathlib import Path

    from etchbook.cli import show
    from etchbook.usecases import demo as use
    from etchbook.usecases.keeping.demo import keep_shown
    from etchbook.wiring.demo_story import told
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.library import PROGRAM
    from etchbook.wiring.press import ReportPress
    from etchbook.wiring.shelf import demo_book

    desk, press = FilesDesk(), ReportPress()
    desk.make_folder(out)
    rows = []
    store, faces = demo_book(str(Path(out) / "book"))
    for shown in use.sections(PROGRAM, press):
        files = {str(Path(out) / name): page for name, page in use.pages(shown, press).items()}
        desk.keep(files)
        if store is not None:
            keep_shown(store, faces[shown.scene.name], shown, press)
        rows.append(use.summary(shown))
        print(f"read {shown.scene.name}: {shown.scene.story}", file=sys.stderr)
    show.table(use.HEADINGS, rows)
    if store is not None:
        lines, pages = told(store)
        desk.keep({str(Path(out) / name): page for name, page in pages.items()})
        print("\n".join(("", *lines, "")))
        print(f"Kept in {out}: {', '.join(pages)}.")
    print(f"Pictures are simulated. Look into {out}: start with {rows[0][0]}.pdf or {rows[0][0]}.html.")
    print(f"The book is in {out}/book. Try: etchbook open N2 --book {out}/book")
