"""The figures of accuracy, gathered into tables."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from benchmarks.accuracy import OUTSIDE, is_length
from benchmarks.scores import median, percentile, share
from benchmarks.tables import Table, number, percent
from etchbook.terms import DIMENSIONS, FAMILIES

Row = Mapping[str, Any]
HEAD = (
    "joint", "sections", "lengths read", "absent", "median error mm", "within 0.2 mm", "in ± 2u", "all in ± 2u",
    "wrong unsaid", "weld IoU", "below 0.90", "HAZ IoU", "read s",
)  # fmt: skip
TARGET = (
    "target",
    "100",
    "",
    "",
    "≤ 0.050",
    "≥ 95 %",
    "93 to 98 %",
    "93 to 98 %",
    "",
    "≥ 0.970",
    "≤ 3 %",
    "≥ 0.850",
    "",
)


def joint_table(block: Row) -> Table:
    """One line a joint, one for all of them, one with what was aimed at."""
    read = [score for score in block["scores"] if not score["fault"]]
    rows = [_joint_row(family, [score for score in read if score["family"] == family]) for family in FAMILIES]
    rows += [_joint_row("all", read), TARGET]
    return Table(
        title=f"Accuracy on simulated sections, difficulty “{block['difficulty']}”",
        before=[_about(block)],
        head=HEAD,
        rows=rows,
        after=[WORDS, *_faults(block), "Falls short: " + (_short(rows) or "nothing in this block.")],
    )


WORDS = (
    "Errors and “within 0.2 mm” are over all lengths [mm] that were read and that the section has. “Absent” is the "
    "share of the section's lengths that were withheld. “In ± 2u” is the share of lengths, “all in ± 2u” of all "
    "dimensions, whose truth lies inside; “wrong unsaid” is the share of lengths off by more than 0.5 mm and by "
    "more than 2u, whether or not a doubt was stated beside them."
)


def _about(block: Row) -> str:
    seeds = [score["seed"] for score in block["scores"]]
    passed = ", ".join(f"{family} {count}" for family, count in block["passed"].items())
    return (
        f"Simulated. Seeds {min(seeds, default=0)} to {max(seeds, default=0)} of each joint, 1600 x 1200 px, "
        "28 px/mm up to 60 px/mm (less where the weld would take more than 80 % of the picture's shorter side), "
        "joint, scale and the preparation of a butt given. "
        f"Passed over as too large for the picture: {passed}.{_fewer(block)}"
    )


def _fewer(block: Row) -> str:
    wanted, done = block["asked"] * len(FAMILIES), len(block["scores"])
    return "" if done == wanted else f" {wanted} sections were asked for; time was allowed for {done} of them."


def _faults(block: Row) -> list[str]:
    outside = sum(score["fault"] == OUTSIDE for score in block["scores"])
    kinds = [score["fault"] for score in block["scores"] if score["fault"] and score["fault"] != OUTSIDE]
    words = [f"Left out because the weld was painted beyond the picture's border: {outside}."] if outside else []
    return words + ([f"Stopped with a fault ({len(kinds)}): {'; '.join(sorted(set(kinds))[:4])}."] if kinds else [])


def _joint_row(name: str, scores: Sequence[Row]) -> tuple[str, ...]:
    lines = [line for score in scores for line in score["lines"] if line["true"] is not None]
    lengths = [line for line in lines if is_length(line["id"])]
    read = [line for line in lengths if line["value"] is not None]
    weld = [score["weld"] for score in scores]
    return (
        name,
        str(len(scores)),
        str(len(read)),
        percent(share([line["value"] is None for line in lengths])),
        number(median([_error(line) for line in read])),
        percent(share([_error(line) <= 0.2 for line in read])),
        percent(share([_covered(line) for line in read])),
        percent(share([_covered(line) for line in lines if line["value"] is not None])),
        percent(share([_error(line) > 0.5 and not _covered(line) for line in read])),
        number(median(weld)),
        percent(share([value is not None and value < 0.9 for value in weld])),
        number(median([score["haz"] for score in scores])),
        number(median([score["seconds"] for score in scores]), 2),
    )


def _error(line: Row) -> float:
    return abs(float(line["value"] - line["true"]))


def _covered(line: Row) -> bool:
    return bool(_error(line) <= 2 * line["u"] + 1e-9)


def _short(rows: Sequence[Sequence[str]]) -> str:
    """Which joints miss which target, in words."""
    checks: tuple[tuple[int, Callable[[float], bool]], ...] = (
        (4, lambda v: v <= 0.05), (5, lambda v: v >= 95), (6, lambda v: 93 <= v <= 98), (7, lambda v: 93 <= v <= 98),
        (9, lambda v: v >= 0.97), (10, lambda v: v <= 3), (11, lambda v: v >= 0.85),
    )  # fmt: skip
    words = []
    for column, holds in checks:
        missed = [
            f"{row[0]} {row[column]}" for row in rows[:-1] if row[column] != "–" and not holds(_figure(row[column]))
        ]
        if missed:
            words.append(f"{HEAD[column]} ({TARGET[column]}): {', '.join(missed)}")
    return "; ".join(words) + ("." if words else "")


def _figure(cell: str) -> float:
    return float(cell.removesuffix(" %"))


def dimension_table(block: Row) -> Table:
    """One line a dimension, all joints together."""
    lines: dict[str, list[Row]] = {}
    for score in block["scores"]:
        for line in score["lines"]:
            lines.setdefault(line["id"], []).append(line)
    rows = [_dimension_row(name, lines[name]) for name in DIMENSIONS if name in lines]
    return Table(
        title=f"By dimension, difficulty “{block['difficulty']}” (simulated)",
        head=("dimension", "unit", "has", "absent", "median error", "95th percentile", "in ± 2u", "read though none"),
        rows=rows,
        after=[
            "“Has” counts sections that have the dimension, “read though none” those that do not and where a value "
            "was given all the same. A bare unit is a ratio."
        ],
    )


def _dimension_row(name: str, lines: Sequence[Row]) -> tuple[str, ...]:
    true = [line for line in lines if line["true"] is not None]
    read = [line for line in true if line["value"] is not None]
    errors = [_error(line) for line in read]
    return (
        f"`{name}`",
        DIMENSIONS[name].unit,
        str(len(true)),
        str(len(true) - len(read)),
        number(median(errors)),
        number(percentile(errors, 95)),
        percent(share([_covered(line) for line in read])),
        str(len(lines) - len(true)),
    )
