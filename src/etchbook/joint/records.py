"""What is known of a joint before the picture is read."""

from dataclasses import dataclass
from typing import Literal

from etchbook.terms import Family

Bevelled = Literal["both", "1", "2"]

USUAL_U: dict[str, float] = {"gap": 0.3, "angle": 2.5, "root_face": 0.3}
"""Standard uncertainty of a preparation known from its drawing alone [mm, °]; planning values, common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Groove:
    """The preparation of a joint before welding; None where nothing is known of a size.

    Parameters
    ----------
    gap : root gap [mm]
    angle : groove angle between the two prepared edges [°]; 0 where both are square
    root_face : height of the unbevelled part of an edge, from the root side [mm]
    bevelled : which members carry the bevel: both (half the angle each), or one of them the whole angle
    u_gap, u_angle, u_root_face : their standard uncertainties; None takes USUAL_U
    """

    gap: float | None = None
    angle: float | None = None
    root_face: float | None = None
    bevelled: Bevelled = "both"
    u_gap: float | None = None
    u_angle: float | None = None
    u_root_face: float | None = None

    def u(self, name: str) -> float:
        """Standard uncertainty of a size by name [mm, °]: as said, else the usual one."""
        said: float | None = getattr(self, f"u_{name}")
        return USUAL_U[name] if said is None else said

    @property
    def lacking(self) -> str:
        """Which size is still needed to draw it, in words; "" where none is."""
        if self.gap is None:
            return "the root gap (0 where the plates touched)"
        if self.angle is None:
            return "the groove angle (0 for square edges)"
        return "the root face (0 for a sharp edge)" if self.angle > 0 and self.root_face is None else ""

    def bevel(self, member: int) -> float:
        """Bevel angle of a member's edge [°]."""
        whole = self.angle or 0.0
        if self.bevelled == "both":
            return whole / 2
        return whole if self.bevelled == str(member) else 0.0


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
    groove: Groove | None = None

    @property
    def members(self) -> int:
        """How many members the joint has."""
        return 1 if self.family == "bead" else 2
