"""What is known of a joint before the picture is read."""

from dataclasses import dataclass
from typing import Literal

from etchbook.terms import Family


@dataclass(frozen=True, kw_only=True, slots=True)
class Joint:
    """A joint family and what the drawing says of it; None where nothing is known.

    Parameters
    ----------
    family : tee, lap, corner (open outside corner), butt or bead (bead on plate)
    thickness_1, thickness_2 : plate thickness [mm]
    throat : nominal throat asked for [mm]
    groove : preparation of a butt joint
    """

    family: Family
    thickness_1: float | None = None
    thickness_2: float | None = None
    throat: float | None = None
    groove: Literal["square", "v"] | None = None

    @property
    def members(self) -> int:
        """How many members the joint has."""
        return 1 if self.family == "bead" else 2
