"""The commands ``open``, ``find``, ``history``, ``undo`` and ``bin``."""

import typer

from etchbook.cli.said import AS_JSON, BOOK, BY


def open_code(
    code: str = typer.Argument(..., metavar="CODE", help="Typed or scanned, with or without its check letter."),
    edition: int = typer.Option(0, metavar="N", help="An older edition; left out, the newest."),
    book: str | None = BOOK,
    json: bool = AS_JSON,
) -> None:
    """Show the thing of that code and everything below it."""
    from etchbook.cli import show, shown
    from etchbook.cli.said import opened
    from etchbook.trials import body_of
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping.looking import lookup

    store = opened(book)
    newest = lookup(store, code)
    entry = store.entry(newest.code, edition) if edition else newest
    if entry is None:
        raise RefusedError(f"{newest.code} has no edition {edition}; its newest is {newest.edition}")
    if json:
        show.as_json({"code": entry.code, "kind": entry.kind, "edition": entry.edition, "by": entry.by,
                      "at": entry.at, "binned": entry.binned, "record": body_of(entry.record),
                      "below": [one.code for one in store.tree(entry.code) if one.code != entry.code]})  # fmt: skip
        return
    shown.thing(store, entry)


def find(
    words: list[str] = typer.Argument(..., metavar="WORD...", help="Words; volts=18..20V; leg_1=..6mm."),
    kind: str = typer.Option("", metavar="KIND", help="Only beads, pieces, readings: bead, piece, reading ..."),
    under: str = typer.Option("", metavar="CODE", help="Only what is below that code."),
    limit: int = typer.Option(100, metavar="N", help="How many at most."),
    book: str | None = BOOK,
    json: bool = AS_JSON,
) -> None:
    """Find things by their words, and by ranges of settings and dimensions (best estimates)."""
    from etchbook.cli import show, shown
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping.finding import find as look
    from etchbook.usecases.keeping.telling import line_of
    from etchbook.wiring.units import amount

    found = look(opened(book), words, amount, kind=kind, under=under, limit=limit)
    if json:
        show.as_json([{"code": one.code, "kind": one.kind, "what": line_of(one)} for one in found])
    elif found:
        shown.rows(found)
    if not json and not found:
        print("nothing was found")
    elif len(found) == limit and not json:
        print(f"there may be more: these are the first {limit}")


def history(
    code: str = typer.Argument("", metavar="CODE", help="Only of that and what is below it; left out, of all."),
    limit: int = typer.Option(20, metavar="N", help="How many changes."),
    book: str | None = BOOK,
) -> None:
    """List what was done, newest first; the number is what `undo` takes."""
    from etchbook.cli import show
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping.looking import lookup

    store = opened(book)
    changes = store.changes(lookup(store, code).code if code else "", limit=limit)
    show.table(
        ("change", "when", "by", "what"),
        [(str(one.number), one.at[:16].replace("T", " "), one.by, one.words) for one in changes],
    )


def undo(
    number: int = typer.Argument(0, metavar="[CHANGE]", help="Number out of `history`; left out, the last change."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Take a change back; nothing is lost, and the taking back can be taken back."""
    from etchbook.cli.said import opened
    from etchbook.usecases.keeping.history import undo as take_back
    from etchbook.wiring import shelf

    change = take_back(opened(book), shelf.hand(by), number)
    print(f"took back change {change.number}: {change.words}")


def bin_(
    code: str = typer.Argument("", metavar="CODE", help="What goes into the bin; left out, the bin is listed."),
    back: bool = typer.Option(False, "--back", help="Bring it back out of the bin."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Put a thing and all below it into the bin, with the date; or bring it back."""
    from etchbook.cli import show
    from etchbook.cli.said import opened
    from etchbook.usecases import RefusedError
    from etchbook.usecases.keeping import history as use
    from etchbook.usecases.keeping.telling import line_of
    from etchbook.wiring import shelf

    store = opened(book)
    if not code:
        if back:
            raise RefusedError("say what is to come back: `etchbook bin` lists what lies there")
        rows = [(one.code, one.kind, one.binned, line_of(one)) for one in store.binned()]
        show.table(("code", "is", "in the bin since", "what"), rows)
        return
    moved = (use.bring_back if back else use.put_in_bin)(store, shelf.hand(by), code)
    where = "came back from the bin" if back else "lie in the bin now; --back brings them back"
    print(f"{', '.join(one.code for one in moved)} {where}")
