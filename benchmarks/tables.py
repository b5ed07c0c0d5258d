"""A table that prints on a screen and as Markdown."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """Words and figures in rows.

    Parameters
    ----------
    title : one line
    before, after : sentences around the table
    """

    title: str
    head: Sequence[str]
    rows: Sequence[Sequence[str]]
    before: Sequence[str] = ()
    after: Sequence[str] = ()

    def markdown(self) -> str:
        """As a section of a page."""
        lines = [f"## {self.title}", ""]
        lines += [line for text in self.before for line in (text, "")]
        lines += [_row(self.head), _row(["---"] * len(self.head)), *(_row(row) for row in self.rows)]
        lines += [line for text in self.after for line in ("", text)]
        return "\n".join(lines) + "\n"

    def text(self) -> str:
        """For a terminal."""
        grid = [list(self.head), *(list(row) for row in self.rows)]
        wide = [max(len(row[k]) for row in grid) for k in range(len(self.head))]
        lines = ["  ".join(cell.ljust(size) for cell, size in zip(row, wide, strict=True)).rstrip() for row in grid]
        rule = "  ".join("-" * size for size in wide)
        return "\n".join([self.title, *self.before, lines[0], rule, *lines[1:], *self.after, ""])


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def number(value: float | None, digits: int = 3) -> str:
    """A figure, or a dash where there is none."""
    return "–" if value is None else f"{value:.{digits}f}"


def percent(value: float | None) -> str:
    """A share in per cent."""
    return "–" if value is None else f"{100 * value:.1f} %"
