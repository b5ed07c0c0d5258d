"""Floor 4: picture to regions to outline to dimensions: the reading of one section.

The records are cheap; the reader itself is loaded when it is first asked for, so that
rooms that only pass readings on do not wait for the numerical libraries behind it.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from etchbook.section.records import (
    BEHAVIOURS,
    INDICATION_KINDS,
    Boundary,
    CutPlace,
    Doubt,
    Indication,
    Landmark,
    Mark,
    Meeting,
    Outline,
    PictureFacts,
    Preparation,
    Reading,
    Regions,
)

if TYPE_CHECKING:
    from etchbook.section.labelling import region_labels
    from etchbook.section.reader import Proposal, propose_joint, read_section
    from etchbook.section.scaling import KnownThickness

_LATE = {
    "KnownThickness": "scaling",
    "Proposal": "reader",
    "propose_joint": "reader",
    "read_section": "reader",
    "region_labels": "labelling",
}

__all__ = [
    "BEHAVIOURS",
    "INDICATION_KINDS",
    "Boundary",
    "CutPlace",
    "Doubt",
    "Indication",
    "KnownThickness",
    "Landmark",
    "Mark",
    "Meeting",
    "Outline",
    "PictureFacts",
    "Preparation",
    "Proposal",
    "Reading",
    "Regions",
    "propose_joint",
    "read_section",
    "region_labels",
]


def __getattr__(name: str) -> Any:
    if name not in _LATE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"etchbook.section.{_LATE[name]}"), name)
