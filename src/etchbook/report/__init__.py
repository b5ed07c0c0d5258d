"""Outbuilding: a reading and its judgement as drawing, overlay, PDF, page, table and document."""

from etchbook.report.document import reading_document
from etchbook.report.drawing import drawing_svg
from etchbook.report.incoming import DocumentError
from etchbook.report.labelled import labelled_example
from etchbook.report.notebook import reading_html
from etchbook.report.overlay import overlay_png, overlay_svg
from etchbook.report.page import page
from etchbook.report.parsing import reading_from_document
from etchbook.report.pdf import pdf
from etchbook.report.photos import picture_png, regions_png
from etchbook.report.table import dimensions_csv

__all__ = [
    "DocumentError",
    "dimensions_csv",
    "drawing_svg",
    "labelled_example",
    "overlay_png",
    "overlay_svg",
    "page",
    "pdf",
    "picture_png",
    "reading_document",
    "reading_from_document",
    "reading_html",
    "regions_png",
]
