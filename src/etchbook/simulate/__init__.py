"""Floor 4: painted sections whose truth is known, for the demo, the tests, the benchmarks and training."""

from etchbook.simulate.cases import Case, draw_case
from etchbook.simulate.documents import truth_document
from etchbook.simulate.lines import LINE_KINDS, LineKind, LineSpec, LineTruth
from etchbook.simulate.looks import Look
from etchbook.simulate.northmoor import NORTHMOOR, Piece, paint_piece
from etchbook.simulate.paint import paint, paint_section
from etchbook.simulate.records import PaintedSection, Truth
from etchbook.simulate.truth import true_dimensions

__all__ = [
    "LINE_KINDS",
    "NORTHMOOR",
    "Case",
    "LineKind",
    "LineSpec",
    "LineTruth",
    "Look",
    "PaintedSection",
    "Piece",
    "Truth",
    "draw_case",
    "paint",
    "paint_piece",
    "paint_section",
    "true_dimensions",
    "truth_document",
]
