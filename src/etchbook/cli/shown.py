"""What the book's commands print: a thing of the book in plain lines."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from etchbook.cli import show
from etchbook.usecases.keeping.telling import kept, line_of, setting, step

if TYPE_CHECKING:
    from etchbook.trials.records import ReadingEdition
    from etchbook.usecases.keeping.pieces import Whereabouts
    from etchbook.usecases.keeping.ports import BookStore, Entry


def rows(entries: "Iterable[Entry]") -> None:
    """Entries as a table: code, what it is, one line of it, who made it and when."""
    cells = [(one.code, one.kind, line_of(one), one.by, one.at[:16].replace("T", " ")) for one in entries]
    show.table(("code", "is", "what", "by", "when"), cells)


def whereabouts(found: "Whereabouts") -> None:
    """Where a piece is, and where its other half is."""
    piece = found.piece
    print(f"{piece.code}: {kept(piece)}")
    for facing, other in found.facing:
        print(f"other half at its {facing.end}: {other.code}, {kept(other)} (cut {facing.cut})")
    if not found.facing:
        print("other half: none is known; it met no other piece across a cut")
    for other in found.others:
        print(f"of the same coupon: {other.code}, {kept(other)}")


def thing(store: "BookStore", entry: "Entry") -> None:
    """A thing of the book with everything below it."""
    from etchbook.trials.records import Bead, Face, Piece, ReadingEdition

    binned = f" — IN THE BIN since {entry.binned}" if entry.binned else ""
    print(f"{entry.code} ({entry.kind}, edition {entry.edition}, {entry.by}, {entry.at[:16]}){binned}")
    record = entry.record
    if isinstance(record, Bead):
        for origin in ("set", "read", "seen"):
            told = [setting(one) for one in record.settings if one.origin == origin]
            if told:
                print(f"{origin}: {'; '.join(told)}")
        if not entry.binned:
            from etchbook.cli.weld import beside_bead

            beside_bead(store, record.code)
    elif isinstance(record, Face):
        for number, one in enumerate(record.steps, start=1):
            print(f"step {number}: {step(one)}")
    elif isinstance(record, ReadingEdition):
        dimensions(record)
    elif line_of(entry):
        print(line_of(entry))
    if isinstance(record, Piece) and not entry.binned:
        from etchbook.usecases.keeping.pieces import whereabouts as look

        whereabouts(look(store, record.code))
    below = [one for one in store.tree(entry.code) if one.code != entry.code]
    if below:
        rows(below)


def dimensions(record: "ReadingEdition") -> None:
    """Every dimension of a reading, or why it is absent."""
    import math

    from etchbook.quantity import Measured, rounded

    cells = []
    for one in record.dimensions:
        if one.value is None or one.u is None:
            cells.append((one.name, "not read", "", "", one.absent))
        else:
            value, spread = rounded(Measured(value=one.value, u=one.u, unit=one.unit, dof=one.dof or math.inf))
            cells.append((one.name, value, spread, one.unit, ""))
    show.table(("dimension", "value", "U (95 %)", "unit", "why it was not read"), cells)
    for doubt in record.doubts:
        print(f"doubtful: {doubt}")
