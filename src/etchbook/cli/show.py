"""Printing for people: a table on a terminal, plain lines with tabs where the output goes elsewhere."""

import json
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from etchbook.acceptance.records import Judgement
    from etchbook.section import Reading

ATTENTION = ("not met", "too close to say", "only if short", "met", "not readable", "does not apply")


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Rows under headings; tab-separated without headings' rule when the output is not a terminal."""
    if not sys.stdout.isatty():
        for row in (headings, *rows):
            print("\t".join(row))
        return
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    sheet = Table(box=box.SIMPLE_HEAD, header_style="bold", pad_edge=False)
    for heading in headings:
        sheet.add_column(heading, overflow="fold")
    for row in rows:
        sheet.add_row(*(Text(cell) for cell in row))
    Console().print(sheet)


def as_json(value: Any) -> None:
    """A value as JSON on the output."""
    print(json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False))


def reading(record: "Reading") -> None:
    """What was read: the scale, every dimension with U, doubts and notes."""
    print(f"{record.picture.name or 'picture'}: {record.joint.family}, {scale_words(record)}")
    headings = ("dimension", "value", "U (k=2)", "unit", "id", "why it was not read")
    table(headings, [_row(record, name) for name in record.dimensions])
    for doubt in record.doubts:
        print(f"doubtful: {doubt.part}: {doubt.reason}; {doubt.remedy}".removesuffix("; "))
    for note in record.notes:
        print(f"note: {note}")


def scale_words(record: "Reading") -> str:
    """The scale in words, or why there is none."""
    from etchbook.picture import NoScale

    if isinstance(record.scale, NoScale):
        return f"no scale: {record.scale.reason}"
    return f"{record.scale.px_per_mm:.3f} px/mm, u {record.scale.u:.3f} px/mm ({record.scale.origin})"


def _row(record: "Reading", name: str) -> tuple[str, ...]:
    from etchbook.quantity import Absent, rounded
    from etchbook.terms import DIMENSIONS

    quantity = record.dimensions[name]
    label = DIMENSIONS[name].label if name in DIMENSIONS else name
    if isinstance(quantity, Absent):
        return label, "not read", "", "", name, quantity.reason
    value, spread = rounded(quantity)
    return label, value, spread, quantity.unit, name, ""


def judgement(record: "Judgement") -> None:
    """Every finding in words, what asks for attention first, then the count of each verdict.

    On a terminal the rows that do not apply to this joint are only counted.
    """
    print(f"{record.title} (risk {100 * record.risk:g} %)")
    findings = sorted(record.findings, key=lambda item: ATTENTION.index(str(item.verdict)))
    if sys.stdout.isatty():
        findings = [item for item in findings if str(item.verdict) != ATTENTION[-1]]
    rows = [(str(item.verdict), item.limit.number, item.dimension, item.words) for item in findings]
    table(("verdict", "item", "dimension", "in words"), rows)
    print(", ".join(f"{count} {verdict}" for verdict, count in record.counts.items() if count))
    for note in record.notes:
        print(f"note: {note}")
