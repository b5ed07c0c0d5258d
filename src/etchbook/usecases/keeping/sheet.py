"""Settings as a table of text (CSV): one row a bead, units in the header, and back into the book."""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast, get_args

from etchbook.terms.settings import NUMBERS, SETTINGS
from etchbook.trials import code_kind, normal_code
from etchbook.trials.records import Bead, Origin, Setting, Trial
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.keeping.beads import merge
from etchbook.usecases.keeping.looking import held, lookup
from etchbook.usecases.keeping.ports import BookStore, Change, Hand, Write
from etchbook.usecases.keeping.settings import Convert, setting_name, setting_of

FIRST = ("bead", "welded")
ORIGINS: tuple[Origin, ...] = get_args(Origin)
MOST_ROWS = 20_000
# A spreadsheet takes a cell that begins with one of these for a formula; a leading ' keeps it text.
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def settings_csv(store: BookStore, typed: str) -> str:
    """The settings of a trial's beads, or of one bead, as CSV.

    A column is called ``volts set [V]``, ``amps read [A]``, ``gas set``; an uncertainty that was said has a
    column of its own, ``volts set u [V]``.
    """
    entry = lookup(store, typed)
    if entry.kind not in ("trial", "bead"):
        raise RefusedError(f"{entry.code} is a {entry.kind}; settings belong to a trial or a bead")
    beads = [one.record for one in store.tree(entry.code) if isinstance(one.record, Bead)]
    said = {(one.name, one.origin) for bead in beads for one in bead.settings}
    unsure = {(one.name, one.origin) for bead in beads for one in bead.settings if one.u is not None}
    columns = [(name, origin) for name in SETTINGS for origin in ORIGINS if (name, origin) in said]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*FIRST, *(title for key in columns for title in _titles(key, key in unsure))])
    for bead in beads:
        by_key = {(one.name, one.origin): one for one in bead.settings}
        cells = [cell for key in columns for cell in _cells(by_key.get(key), key in unsure)]
        writer.writerow([bead.code, bead.welded, *cells])
    return out.getvalue()


def _titles(key: tuple[str, Origin], unsure: bool) -> list[str]:
    name, origin = key
    if name not in NUMBERS:
        return [f"{name} {origin}"]
    unit = f" [{SETTINGS[name].unit}]"
    return [f"{name} {origin}{unit}", *([f"{name} {origin} u{unit}"] if unsure else [])]


def _cells(one: Setting | None, unsure: bool) -> list[str]:
    if one is None:
        return ["", ""] if unsure else [""]
    if one.value is None:
        return [f"'{one.text}" if one.text.startswith((*_FORMULA, "'")) else one.text]
    return [repr(one.value), *(["" if one.u is None else repr(one.u)] if unsure else [])]


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """What a column of the table holds: ``unit`` is as it was written in the header."""

    name: str
    origin: Origin
    unit: str
    is_u: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Taken:
    """Codes of the beads that a table made new, changed, and left as they were."""

    new: tuple[str, ...]
    changed: tuple[str, ...]
    same: tuple[str, ...]


def take_settings(store: BookStore, hand: Hand, text: str, convert: Convert, *, name: str = "the table") -> Taken:
    """Take settings out of a table into the book: beads that are there are changed, others logged, all or none.

    Parameters
    ----------
    text : CSV with commas, semicolons or tabs; a column ``bead`` with codes, the others as `settings_csv` writes
        them, in any unit that the header names; an empty cell says nothing
    convert : turns numbers into our units
    name : what the table is called, for the history and for refusals
    """
    rows = _rows(text, name)
    columns = _columns(rows[0], name)
    writes: list[Write] = []
    new: list[str] = []
    changed: list[str] = []
    same: list[str] = []
    seen: set[str] = set()
    for number, row in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in row):
            continue
        where = f"row {number} of {name}"
        bead, edition = _bead(store, row, columns, convert, where)
        if bead.code in seen:
            raise RefusedError(f"{where}: {bead.code} came before in the same table; give each bead one row")
        seen.add(bead.code)
        old = store.entry(bead.code)
        if old is not None and old.record == bead:
            same.append(bead.code)
            continue
        (changed if edition else new).append(bead.code)
        writes.append(Write(record=bead, expects=edition))
    if writes:
        store.keep(Change(hand=hand, words=f"took settings of {len(writes)} beads from {name}", writes=writes))
    return Taken(new=tuple(new), changed=tuple(changed), same=tuple(same))


def _rows(text: str, name: str) -> list[list[str]]:
    head = text.partition("\n")[0]
    mark = max(",;\t", key=head.count)
    try:
        rows = list(csv.reader(io.StringIO(text.lstrip("\ufeff")), delimiter=mark, strict=True))
    except csv.Error as error:
        raise RefusedError(f"{name} is no table of text: {error}") from None
    if len(rows) < 2 or len(rows) > MOST_ROWS:
        raise RefusedError(f"{name} should have a header and between 1 and {MOST_ROWS} rows, not {len(rows) - 1}")
    for number, row in enumerate(rows, start=1):
        if len(row) != len(rows[0]) and any(row):
            raise RefusedError(f"row {number} of {name} has {len(row)} cells, its header {len(rows[0])}")
    return rows


def _columns(head: Sequence[str], name: str) -> list[Column | str]:
    columns = [_column(title, name) for title in head]
    if "bead" not in columns:
        raise RefusedError(f'{name} has no column "bead" with the codes of the beads')
    for column in columns:
        if columns.count(column) > 1:
            raise RefusedError(f"{name} has two columns for {getattr(column, 'name', column)}")
    return columns


def _column(title: str, name: str) -> Column | str:
    plain = title.strip().lower()
    if plain in FIRST:
        return plain
    found = re.fullmatch(r"(.+?)(?:\s+(set|read|seen))?(\s+u)?\s*(?:\[([^\]]*)\])?", title.strip())
    assert found is not None
    word, origin, is_u, unit = found.groups()
    setting = setting_name(word)
    if setting in NUMBERS and not unit:
        raise RefusedError(f'the column "{title}" of {name} needs its unit: "{word} [{SETTINGS[setting].unit}]"')
    return Column(name=setting, origin=cast(Origin, origin or "set"), unit=unit or "", is_u=bool(is_u))


def _bead(
    store: BookStore, row: Sequence[str], columns: Sequence[Column | str], convert: Convert, where: str
) -> tuple[Bead, int]:
    plain = {column: cell.strip() for column, cell in zip(columns, row, strict=True)}
    code = _code(plain["bead"], where)
    settings = [
        _setting(column, cell, plain, convert, where)
        for column, cell in plain.items()
        if isinstance(column, Column) and not column.is_u and cell
    ]
    welded = plain.get("welded", "")
    if store.entry(code) is None:
        held(store, code.partition("-")[0], Trial)
        return Bead(code=code, settings=merge((), settings), welded=welded), 0
    bead, edition = held(store, code, Bead)
    kept = {(one.name, one.origin): one for one in bead.settings}
    # What was typed stays with a value that did not change.
    told = [_as_before(kept.get((one.name, one.origin)), one) for one in settings]
    return Bead(code=code, settings=merge(bead.settings, told), welded=welded or bead.welded), edition


def _code(text: str, where: str) -> str:
    if not text:
        raise RefusedError(f'{where} names no bead in the column "bead"')
    code = normal_code(text)
    if code_kind(code) != "bead":
        raise RefusedError(f"{where}: {code} is the code of a {code_kind(code)}, not of a bead")
    return code


def _setting(column: Column, cell: str, plain: dict[Column | str, str], convert: Convert, where: str) -> Setting:
    try:
        if column.name not in NUMBERS:
            text = cell[1:] if cell.startswith("'") else cell
            return setting_of(column.name, text, column.origin, convert)
        spread = next((text for other, text in plain.items() if isinstance(other, Column) and other.is_u
                       and (other.name, other.origin) == (column.name, column.origin)), "")  # fmt: skip
        typed = f"{cell}±{spread} {column.unit}" if spread else f"{cell} {column.unit}"
        return setting_of(column.name, typed, column.origin, convert)
    except RefusedError as error:
        raise RefusedError(f"{where}: {error}") from None


def _as_before(old: Setting | None, new: Setting) -> Setting:
    same = old is not None and (old.value, old.u, old.text) == (new.value, new.u, new.text)
    return old if same and old is not None else new
