"""Outbuilding: photographs, marks and texts from disk, results to disk."""

from etchbook.files.archives import ZipArchive, write_archive
from etchbook.files.errors import InputError, OutputError
from etchbook.files.location import without_location
from etchbook.files.marks import load_groove, load_marks, marks_from
from etchbook.files.outputs import write_all, write_whole
from etchbook.files.photos import load_photo, picture_from
from etchbook.files.reading import read_bytes, read_text

__all__ = [
    "InputError",
    "OutputError",
    "ZipArchive",
    "load_groove",
    "load_marks",
    "load_photo",
    "marks_from",
    "picture_from",
    "read_bytes",
    "read_text",
    "without_location",
    "write_all",
    "write_archive",
    "write_whole",
]
