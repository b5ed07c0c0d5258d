"""docs/benchmarks.md, and the tables it is put together from."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from benchmarks.accuracy_tables import dimension_table, joint_table
from benchmarks.book import book_table
from benchmarks.cause_pictures import painted_table
from benchmarks.causes import cause_table
from benchmarks.follow import follow_tables
from benchmarks.line_tables import line_tables
from benchmarks.load import load_table
from benchmarks.other_tables import baseline_table, edge_table, speed_table
from benchmarks.tables import Table

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "benchmarks.md"
HELD = ROOT / "benchmarks" / "tables.json"
PARTS = ("accuracy", "baselines", "edges", "lines", "follow", "speed", "causes", "book", "load")
HEAD = """<!-- Written by `./run bench --write`; run it again instead of changing this page. -->
# Benchmarks

**Every figure on this page is simulated**: measured on sections painted by `etchbook.simulate`, whose truth is known,
from seeds kept apart from those of training (1 000 000 and up) and of tuning (0 to 999). Painter and reader come from
the same hands, so these figures say what the reader reaches on pictures with the faults we thought of; they are no
proof for photographs. Openly licensed photographs of etched arc-weld sections with a measured truth were not to be
found.

What falls short of what was aimed at is said below each table.
"""


def tables_of(part: str, found: Mapping[str, Any]) -> list[Table]:
    """The tables of one part."""
    if part == "accuracy":
        blocks = [block for block in found["blocks"] if block["scores"]]
        return [joint_table(block) for block in blocks] + [dimension_table(block) for block in blocks]
    if part == "causes":
        return [cause_table(found["described"]), painted_table(found["painted"])]
    if part == "lines":
        return line_tables(found)
    if part == "follow":
        return follow_tables(found)
    makers = {
        "baselines": baseline_table,
        "edges": edge_table,
        "speed": speed_table,
        "book": book_table,
        "load": load_table,
    }
    return [makers[part](found)]


def keep(part: str, tables: Sequence[Table], machine: str) -> None:
    """Put one part into the page; the tables of the others stay as they were measured."""
    held = json.loads(HELD.read_text(encoding="utf-8")) if HELD.exists() else {}
    held[part] = {"machine": machine, "tables": [asdict(table) for table in tables]}
    HELD.write_text(json.dumps(held, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    PAGE.write_text(markdown(held), encoding="utf-8")


def markdown(held: Mapping[str, Any]) -> str:
    """The whole page."""
    parts = [part for part in PARTS if part in held]
    pieces = [HEAD]
    pieces += [Table(**table).markdown() for part in parts for table in held[part]["tables"]]
    made = "\n".join(f"- {part}: {held[part]['machine']}." for part in parts)
    pieces.append(f"## What it was measured on\n\n{made}\n")
    return "\n".join(pieces)
