"""The commands ``face`` and ``picture``."""

import typer

from etchbook.cli.said import BOOK, BY


def face(
    code: str = typer.Argument(..., metavar="CODE", help="A piece (makes its next face) or a face (adds steps to it)."),
    grind: str = typer.Option("", metavar="GRIT", help="Ground with that grit: P600."),
    polish: str = typer.Option("", metavar="TEXT", help="Polished with that: 3 µm diamond."),
    etch: str = typer.Option("", metavar="TEXT", help="Etched with that: nital 3 %."),
    step: str = typer.Option("", metavar="TEXT", help="Another step: mount, rinse, dry."),
    time: str | None = typer.Option(None, metavar="TIME", help="How long the step took: 8s, 1.5min."),
    towards: str = typer.Option("", metavar="PIECE", help="The piece that this face met across the cut."),
    remarks: str = typer.Option("", metavar="TEXT", help="Anything else."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Make a face of a piece, or tick off what was done to it; with a face's code alone show it."""
    from etchbook.cli import said, shown
    from etchbook.cli.said import opened
    from etchbook.trials.records import Step
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping import faces as use
    from etchbook.usecases.keeping.looking import lookup
    from etchbook.wiring import shelf

    store, hand, took = opened(book), shelf.hand(by), said.seconds(time, "the time")
    kinds = [("grind", "grit", grind), ("polish", "polish", polish), ("etch", "etchant", etch), (step, "", step)]
    done = [(kind, field, how) for kind, field, how in kinds if how]
    if took is not None and len(done) != 1:
        raise RefusedError("a time belongs to one step: say one of --grind, --polish, --etch, --step with it")
    steps = [Step(kind=kind, seconds=took, by=hand.by, at=hand.at, **({field: how} if field else {}))
             for kind, field, how in done]  # fmt: skip
    if not steps and not towards and not remarks and lookup(store, code).kind != "piece":
        shown.thing(store, lookup(store, code))
        return
    made, new = use.prepare_face(store, hand, code, steps, towards=towards, remarks=remarks)
    met = f", which faced {made.towards}" if made.towards else ""
    print(f"{'made' if new else 'changed'} face {made.code}{met}; steps done: {len(made.steps)}")


def picture(
    code: str = typer.Argument(..., metavar="CODE", help="A face, or a piece with one face; or a picture."),
    photos: list[str] = typer.Argument(None, metavar="[PHOTO]...", help="Photographs to put into the book."),
    out: str = typer.Option("", metavar="OUT", help="Copy the picture out of the book, without location data."),
    finish: str = typer.Option("", metavar="TEXT", help="Finish of the face: P1200, 1 µm."),
    etched: str = typer.Option("", metavar="TEXT", help="How it was etched."),
    light: str = typer.Option("", metavar="TEXT", help="Light: ring, oblique, daylight."),
    lens: str = typer.Option("", metavar="TEXT", help="Lens and camera."),
    taken: str = typer.Option("", metavar="TIME", help="When it was taken."),
    remarks: str = typer.Option("", metavar="TEXT", help="Anything else."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Put photographs of a face into the book, show one, or copy one out of it."""
    from etchbook.cli import said, shown
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping.faces import add_picture
    from etchbook.usecases.keeping.looking import lookup
    from etchbook.wiring import shelf

    store, hand = opened(book), shelf.hand(by)
    known = said.given({"finish": finish, "etched": etched, "light": light, "lens": lens, "taken": taken,
                        "remarks": remarks})  # fmt: skip
    if photos:
        for path in photos:
            made, notes = add_picture(store, hand, code, shelf.photo(path), known)
            print(f"{path} is {made.code}")
            for note in notes:
                print(f"note: {note}")
        return
    if out:
        shelf.copy_out(store, code, out)
        print(f"kept: {out}")
        return
    shown.thing(store, lookup(store, code))
