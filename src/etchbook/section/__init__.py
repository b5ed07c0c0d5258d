"""Floor 4: picture to regions to outline to dimensions: the reading of one section."""

from etchbook.section.records import (
    Boundary,
    Doubt,
    Indication,
    Landmark,
    Mark,
    Outline,
    PictureFacts,
    Preparation,
    Reading,
    Regions,
)

__all__ = [
    "Boundary",
    "Doubt",
    "Indication",
    "Landmark",
    "Mark",
    "Outline",
    "PictureFacts",
    "Preparation",
    "Reading",
    "Regions",
]
