"""The commands ``book new | open | info | verify | backup | restore | export | import | examples``."""

import sys

import typer

from etchbook.cli.said import AS_JSON, BOOK, BY

app = typer.Typer(no_args_is_help=True, help="The book: one folder with its database and its original pictures.")
DATABASE = typer.Option("", metavar="URL", help="postgresql://user@host/name for several users; else a file.")


def new(
    folder: str = typer.Argument(..., metavar="FOLDER", help="Empty or not there yet; everything is kept in it."),
    name: str = typer.Option("", metavar="TEXT", help="What the book is called; else like its folder."),
    database: str = DATABASE,
) -> None:
    """Make a new book; it is then the one that is open."""
    from pathlib import Path

    from etchbook.wiring import shelf

    store = shelf.begin(Path(folder), name, database)
    print(f"made the book {store.book.name} in {folder}; it is open now")
    store.close()


def open_book(folder: str = typer.Argument(..., metavar="FOLDER", help="The book.")) -> None:
    """Let this book be the one that is meant from now on; bring it up to date and sweep up in it."""
    from pathlib import Path

    from etchbook.store import renew
    from etchbook.wiring import shelf

    done = renew(Path(folder), shelf.hand().at[:10])
    shelf.remember(Path(folder))
    for words in done:
        print(words)
    print(f"{folder} is open now")


def info(book: str | None = BOOK, json: bool = AS_JSON) -> None:
    """Say which book is open, where it lies, and what is in it."""
    from etchbook.cli import show
    from etchbook.cli.said import opened
    from etchbook.store import place_of
    from etchbook.wiring import shelf

    folder = shelf.folder_meant(book)
    place, store = place_of(folder), opened(book)
    counts = dict(store.counts())
    newest = store.changes(limit=1)
    if json:
        show.as_json({"name": store.book.name, "id": store.book.id, "folder": str(folder.resolve()),
                      "database": place.database, "counts": counts})  # fmt: skip
        return
    print(f"{store.book.name}, in {folder.resolve()}, database {place.database}")
    show.table(("what", "how many"), [(kind, str(count)) for kind, count in counts.items()])
    for change in newest:
        print(f"last change: {change.number}, {change.words}, {change.by}, {change.at}")


def verify(book: str | None = BOOK, json: bool = AS_JSON) -> None:
    """Look at every page, record and picture of the book and name what is not as it was written."""
    from etchbook.cli import show
    from etchbook.cli.said import opened

    store = opened(book)
    found = list(store.verify())
    if json:
        show.as_json([{"what": one.what, "where": one.where, "remedy": one.remedy} for one in found])
    else:
        for one in found:
            print(f"{one.where}: {one.what}" + (f"; {one.remedy}" if one.remedy else ""))
    print("all is as it was written" if not found else f"{len(found)} troubles", file=sys.stderr)
    raise typer.Exit(1 if found else 0)


def backup(
    target: str = typer.Argument(..., metavar="FOLDER", help="Empty or not there yet; it becomes a book of its own."),
    book: str | None = BOOK,
) -> None:
    """Copy the book as it is at this moment and verify the copy; others may go on writing."""
    from pathlib import Path

    from etchbook.store import backup as copy
    from etchbook.wiring import shelf

    _told(list(copy(shelf.folder_meant(book), Path(target)).verify()), target)


def restore(
    source: str = typer.Argument(..., metavar="BACKUP", help="Folder that `etchbook book backup` made."),
    target: str = typer.Argument(..., metavar="FOLDER", help="Empty or not there yet; the book comes back in it."),
    database: str = DATABASE,
) -> None:
    """Make a book out of a backup, verify it and open it."""
    from pathlib import Path

    from etchbook.store import restore as bring
    from etchbook.wiring import shelf

    store = bring(Path(source), Path(target), database)
    shelf.remember(Path(target))
    _told(list(store.verify()), target)


def _told(troubles: list[object], target: str) -> None:
    for one in troubles:
        print(f"{getattr(one, 'where', '')}: {getattr(one, 'what', '')}")
    if troubles:
        print(f"{target} is written, but {len(troubles)} troubles were found in it", file=sys.stderr)
        raise typer.Exit(1)
    print(f"{target} is written and verified: all is as it was")


def export(
    code: str = typer.Argument(..., metavar="CODE", help="The trial; for --csv a trial or a bead."),
    out: str = typer.Argument("", metavar="[OUT.zip]", help="The archive; left out, CODE.zip here."),
    csv: str = typer.Option("", metavar="OUT.csv", help="The settings as a table instead; - prints it."),
    book: str | None = BOOK,
) -> None:
    """Copy a trial out of the book: an archive that another book can take in, or its settings as a table.

    Pictures leave the book without location data.
    """
    from etchbook.cli.said import opened
    from etchbook.usecases import RefusedError
    from etchbook.wiring import shelf

    store = opened(book)
    if csv and out:
        raise RefusedError("say one of OUT.zip and --csv, not both")
    if csv:
        text = shelf.settings_table(store, code, "" if csv == "-" else csv)
        print(text if csv == "-" else f"kept: {csv}", end="" if csv == "-" else "\n")
        return
    path, count = shelf.export_trial(store, code, out)
    print(f"kept: {path} ({count} files)")


def import_(
    source: str = typer.Argument(..., metavar="FILE", help="An archive (.zip) of a trial, or settings (.csv)."),
    as_code: str = typer.Option("", "--as", metavar="CODE", help="Code the trial is to have here."),
    by: str = BY,
    book: str | None = BOOK,
) -> None:
    """Take a trial or a table of settings into the book, all of it or nothing."""
    from etchbook.cli.said import opened
    from etchbook.usecases import RefusedError
    from etchbook.wiring import shelf

    store = opened(book)
    if source.lower().endswith(".csv"):
        if as_code:
            raise RefusedError("--as belongs to an archive: the codes of a table stand in it")
        taken = shelf.take_table(store, shelf.hand(by), source)
        print(f"logged {len(taken.new)} beads, changed {len(taken.changed)}, left {len(taken.same)} as they were")
        return
    made = shelf.import_trial(store, shelf.hand(by), source, as_code)
    was = "" if made.was == made.code else f" (there it was {made.was})"
    print(f"took in trial {made.code}{was}: {made.records} records, {made.pictures} pictures")


def examples(
    folder: str = typer.Argument(..., metavar="FOLDER", help="A folder in it for each reading; made where not there."),
    code: str = typer.Argument("", metavar="[CODE]", help="Only what is below that code; left out, the whole book."),
    book: str | None = BOOK,
) -> None:
    """Save the readings that a person corrected as labelled examples: photo, regions, marks, reading.

    Pictures leave the book without location data. They teach the reader what your shop's sections look like.
    """
    from etchbook.cli.said import opened
    from etchbook.wiring.examples import corrected_in, keep_examples

    store = opened(book)
    found = corrected_in(store, code)
    for files in keep_examples(store, found, folder):
        print(f"kept: {', '.join(files)}", flush=True)
    print(f"{len(found)} {'example' if len(found) == 1 else 'examples'} in {folder}")


app.command("new", no_args_is_help=True)(new)
app.command("open", no_args_is_help=True)(open_book)
app.command("info")(info)
app.command("verify")(verify)
app.command("backup", no_args_is_help=True)(backup)
app.command("restore", no_args_is_help=True)(restore)
app.command("export", no_args_is_help=True)(export)
app.command("import", no_args_is_help=True)(import_)
app.command("examples", no_args_is_help=True)(examples)
