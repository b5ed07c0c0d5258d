"""Outbuilding: a reading and its judgement as drawing, overlay, PDF, page, table and document."""

from etchbook.report.document import judgement_document, reading_document
from etchbook.report.drawing import drawing_svg
from etchbook.report.labelled import labelled_example
from etchbook.report.overlay import overlay_png, overlay_svg
from etchbook.report.parsing import DocumentError, reading_from_document
from etchbook.report.pdf import pdf
from etchbook.report.photos import picture_png, regions_png
from etchbook.report.table import dimensions_csv

__all__ = [
    "DocumentError",
    "dimensions_csv",
    "drawing_svg",
    "judgement_document",
    "labelled_example",
    "overlay_png",
    "overlay_svg",
    "pdf",
    "picture_png",
    "reading_document",
    "reading_from_document",
    "regions_png",
]
