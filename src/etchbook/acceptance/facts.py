"""The named quantities that the formulas of limits are reckoned from."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from etchbook.picture import Scale
from etchbook.quantity import Absent, Measured, Quantity
from etchbook.section import Landmark, Reading

RIGHT_ANGLE = 2**0.5


@dataclass(frozen=True, kw_only=True, slots=True)
class Facts:
    """What is known of one section when it is held against limits.

    Parameters
    ----------
    family : joint family
    dimensions : what was read, by id
    known : what formulas may use, by name: thickness_1, thickness_2, thinner, throat_asked, throat_meant,
        face_width, root_width, longest_leg, leg_asked
    relative : relative standard uncertainty that the scale gives to every length alike
    """

    family: str
    dimensions: Mapping[str, Quantity]
    known: Mapping[str, Quantity]
    relative: float = 0.0

    def key(self, name: str, dimension: str) -> str:
        """Which quantity a name stands for beside this dimension: ``thickness`` is that of the dimension's member."""
        if name != "thickness":
            return name
        member = dimension[-2:]
        return f"thickness{member}" if member in ("_1", "_2") else "thinner"

    def look_up(self, key: str) -> Quantity:
        """The quantity of this name, or why there is none."""
        if key in self.known:
            return self.known[key]
        return self.dimensions.get(key, Absent(reason=f"{key.replace('_', ' ')} is not known"))


def facts_of(reading: Reading) -> Facts:
    """Gather what the formulas need from a reading: the drawing's figures first, then what was measured."""
    read, joint = reading.dimensions, reading.joint
    drawn = {"thickness_1": joint.thickness_1, "thickness_2": joint.thickness_2}
    known = {name: _drawn_or_read(name, value, read) for name, value in drawn.items()}
    known["thinner"] = thinner(known["thickness_1"], known["thickness_2"], joint.members)
    known["throat_asked"] = _throat_asked(joint.throat)
    known["throat_meant"] = _throat_meant(known, read, joint.family)
    known["leg_asked"] = _leg_asked(joint.throat, joint.family)
    known["longest_leg"] = _longest(read)
    known["face_width"] = read["weld_width"] if "weld_width" in read else chord(reading)
    relative = reading.scale.relative if isinstance(reading.scale, Scale) else 0.0
    return Facts(family=joint.family, dimensions=read, known=known, relative=relative)


def thinner(first: Quantity, second: Quantity, members: int) -> Quantity:
    """The thinner of the members' thicknesses; absent unless every member's is known."""
    if members == 1 or isinstance(first, Absent):
        return first
    if isinstance(second, Absent):
        return second
    return first if first.value <= second.value else second


def chord(reading: Reading) -> Quantity:
    """Width of the weld face, straight from toe 1 to toe 2 [mm]; u covers both toes and the scale."""
    first, second = (reading.outline.landmarks.get(name) for name in ("toe_1", "toe_2"))
    if first is None or second is None:
        return Absent(reason="the width of the weld face is not known, because a toe was not found")
    if not isinstance(reading.scale, Scale):
        return Absent(reason=f"the width of the weld face is not known: {reading.scale.reason}")
    return chord_length(first, second, reading.scale)


def chord_length(first: Landmark, second: Landmark, scale: Scale) -> Measured:
    """Distance of two landmarks [mm]; u covers both points, taken as independent, and the scale."""
    step = second.point - first.point
    length = float(np.hypot(*step))
    along = step / length if length > 0 else np.zeros(2)
    spread = float(along @ (first.covariance + second.covariance) @ along)
    width = length / scale.px_per_mm
    u = np.hypot(max(spread, 0.0) ** 0.5 / scale.px_per_mm, width * scale.relative)
    return Measured(value=width, u=float(u), unit="mm")


def _drawn_or_read(name: str, drawn: float | None, read: Mapping[str, Quantity]) -> Quantity:
    if drawn is not None:
        return Measured(value=drawn, u=0.0, unit="mm")
    member = name[-1]
    found = read.get(name, Absent(reason=f"the joint has no member {member}"))
    if isinstance(found, Measured):
        return found
    return Absent(reason=f"the limit needs the thickness of member {member}, which was not read ({found.reason}); "
                         f"give it from the drawing")  # fmt: skip


def _throat_asked(asked: float | None) -> Quantity:
    if asked is None:
        return Absent(reason="the limit needs the throat that the drawing asks for, which was not given")
    return Measured(value=asked, u=0.0, unit="mm")


def _throat_meant(known: Mapping[str, Quantity], read: Mapping[str, Quantity], family: str) -> Quantity:
    """The nominal throat: as asked for; else a butt weld's plate thickness, or a fillet's throat as read."""
    asked = known["throat_asked"]
    if isinstance(asked, Measured):
        return asked
    return known["thinner"] if family == "butt" else read.get("nominal_throat", asked)


def _leg_asked(throat: float | None, family: str) -> Quantity:
    if throat is None or family not in ("tee", "lap"):
        return Absent(reason="the limit needs the leg that the drawing asks for; give the throat asked for")
    return Measured(value=throat * RIGHT_ANGLE, u=0.0, unit="mm")


def _longest(read: Mapping[str, Quantity]) -> Quantity:
    legs = [read.get(name, Absent(reason="the joint has no legs")) for name in ("leg_1", "leg_2")]
    for leg in legs:
        if isinstance(leg, Absent):
            return leg
    return max((leg for leg in legs if isinstance(leg, Measured)), key=lambda leg: leg.value)
