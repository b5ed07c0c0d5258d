"""Floor 4: painted sections whose truth is known, for the demo, the tests, the benchmarks and training."""

from etchbook.simulate.cases import Case, draw_case
from etchbook.simulate.documents import truth_document
from etchbook.simulate.paint import paint, paint_section
from etchbook.simulate.records import PaintedSection, Truth

__all__ = ["Case", "PaintedSection", "Truth", "draw_case", "paint", "paint_section", "truth_document"]
