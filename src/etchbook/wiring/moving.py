"""What a moved mark changes, told to a page: reckoned and written down in a process apart, so that no page waits."""

import json
from dataclasses import replace

import numpy as np

from etchbook.section import Mark, Outline, Reading
from etchbook.section.again import Again
from etchbook.section.records import Regions
from etchbook.usecases.remeasuring import rows
from etchbook.wiring.benchlines import doubts_told, lines_of, outline_told, scale_words
from etchbook.wiring.remeasured import ScaleFound, again


def told(folder: str, path: str, before: Reading, scale: ScaleFound, marks: tuple[Mark, ...], quick: bool) -> bytes:
    """Numbers, lines and doubts as JSON.

    Parameters
    ----------
    folder, path : of the photograph that lies decoded, and of its open section
    before : the reading that the person began with, see `bare`
    quick : while a point is being dragged
    """
    found = again(folder, path, scale, marks, quick)
    return page_of(found, before)


def page_of(found: Again, before: Reading) -> bytes:
    """What the marks make of a section, as the JSON of the picture's page."""
    told = {
        "rows": rows(found, before.dimensions),
        "outline": outline_told(found),
        "lines": lines_of(found, before),
        "scale": scale_words(found.scale),
        "doubts": doubts_told(found),
        "asked": found.asked,
    }
    return json.dumps(told, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()


def bare(reading: Reading) -> Reading:
    """A reading with its numbers alone, light enough to be handed to another process at every move."""
    nothing = Outline(boundaries={}, landmarks={}, lines={})
    regions = Regions(labels=np.zeros((1, 1), np.uint8), factor=1.0)
    return replace(reading, outline=nothing, regions=regions, automatic=None, indications=(), marks=())
