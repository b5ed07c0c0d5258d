"""Explanations as text for people."""

import sys
from collections.abc import Iterable, Iterator
from shutil import get_terminal_size
from textwrap import fill
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from etchbook.usecases.explaining import Explanation


def explanations(explained: "Iterable[Explanation]") -> None:
    """Every indication: the verdict in words, causes with evidence, the next test, the next question."""
    from etchbook.usecases.explained import explanation_lines
    from etchbook.usecases.explaining import CAUTION

    shown = False
    for item in explained:
        print("\n".join(_set(explanation_lines(item))))
        print()
        shown = True
    print("\n".join(_set([CAUTION] if shown else ["No indication was found in this reading."])))


def _set(lines: Iterable[str]) -> Iterator[str]:
    """Lines folded to the terminal, their indent kept; whole where the output goes elsewhere."""
    if not sys.stdout.isatty():
        yield from lines
        return
    width = max(min(get_terminal_size().columns, 100), 40)
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()))
        yield fill(line, width, subsequent_indent=indent + "  ")
