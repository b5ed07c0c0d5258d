"""What to know beside a comparison: whose scatter it rests on, which bead stands apart."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from etchbook.quantity import Absent, Measured, Quantity
from etchbook.terms import DIMENSIONS
from etchbook.trials.outlying import grubbs
from etchbook.trials.scatter import BeadResponse, Scatter, StatisticsError

if TYPE_CHECKING:
    from etchbook.usecases.comparing import Row

FORM_SCATTER = 0.02
"""Change of height over width that like beads show, where the own book does not tell (judged)."""


def notes_on(rows: "Sequence[Row]", names: tuple[str, str], own: Mapping[str, Scatter]) -> Iterator[str]:
    """Where the scatter came from, dimension by dimension, and beads that stand apart from their group."""
    yield from _origins(rows, own)
    for row in rows:
        for name, beads in zip(names, row.beads, strict=True):
            yield from _odd(row.dimension, name, beads)


def _origins(rows: "Sequence[Row]", own: Mapping[str, Scatter]) -> Iterator[str]:
    reckoned = [row.dimension for row in rows if not isinstance(row.difference, Absent)]
    mine = [name for name in reckoned if name in own]
    planned: dict[str, list[str]] = {}
    for row in rows:
        if row.scatter is not None and row.dimension not in own and row.dimension in reckoned:
            planned.setdefault(row.scatter.source, []).append(_said(row.dimension))
    if mine:
        told = ", ".join(f"{_said(name)} {own[name].sd:.2g} ({own[name].dof:g} degrees of freedom)" for name in mine)
        yield f"Scatter from bead to bead out of {own[mine[0]].source}: {told}."
    for source, labels in planned.items():
        yield f"Scatter of {', '.join(labels)}: {source}; six like beads in the book would replace it."
    rest = len(reckoned) - len(mine) - sum(map(len, planned.values()))
    alone = all(len(group) == 1 for row in rows for group in row.beads if group)
    if rest and alone:
        yield f"Nothing is known of how the other {rest} dimensions scatter from bead to bead."
    elif rest:
        yield f"For {'the other ' if mine or planned else ''}{rest} dimensions the beads alone tell how they scatter."


def _odd(dimension: str, name: str, beads: Sequence[BeadResponse]) -> Iterator[str]:
    try:
        found = grubbs([bead.mean for bead in beads])
    except StatisticsError:
        return
    if found.p < 0.05:
        bead = beads[found.place]
        yield (
            f"Bead {bead.code} stands apart from the rest of {name} in {_said(dimension)}: {bead.mean:.2f}, "
            f"{found.ratio:.2f} standard deviations off (Grubbs, p = {found.p:.3f}). It was counted all the same: "
            "look at its section and its log again."
        )


def _said(name: str) -> str:
    return DIMENSIONS[name].label


def form_scatter(known: Mapping[str, Scatter], usual: Mapping[str, Quantity], height: str, width: str) -> float:
    """How far height over width scatters among like beads: from the own book where it knows both, else as judged.

    Source: error propagation of a quotient.
    """
    tall, wide = usual.get(height), usual.get(width)
    if height not in known or width not in known or not isinstance(tall, Measured) or not isinstance(wide, Measured):
        return FORM_SCATTER
    if wide.value <= 0:
        return FORM_SCATTER
    return math.hypot(known[height].sd / wide.value, tall.value * known[width].sd / wide.value**2)
