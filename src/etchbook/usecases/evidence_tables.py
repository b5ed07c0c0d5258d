"""The packaged tables of evidence, joined to the engine that weighs them."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from etchbook.evidence import Table, table_from
from etchbook.tables.packaged import packaged


@cache
def line_table() -> Table:
    """Causes of dark lines with their evidence and the ladder of tests."""
    return table_from({**packaged("evidence-lines"), "test": packaged("tests-ladder")["test"]})


@cache
def weld_mark_table() -> Table:
    """Causes of blobs and short marks in the weld metal with their evidence and tests."""
    held = packaged("evidence-weld-marks")
    return table_from({key: part for key, part in held.items() if key not in ("advice", "bead_shape")})


def advice_rows() -> tuple[Mapping[str, Any], ...]:
    """What is done about a cause, and where sources disagree: rows with causes, materials, text, source, status."""
    return tuple(packaged("evidence-weld-marks")["advice"])


def bead_shapes() -> tuple[Mapping[str, Any], ...]:
    """What the width of a bead over its depth tells: rows with least and most of that ratio, words, source, status."""
    return tuple(packaged("evidence-weld-marks")["bead_shape"])


def last_rungs() -> tuple[Mapping[str, Any], ...]:
    """Tests of the ladder that speak of the plate or of everything, not of one line of the table."""
    return tuple(packaged("tests-ladder")["beyond"])
