"""What plate classes would allow of a separation of some size, and what a joint asks of its plate."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from etchbook.quantity import Measured
from etchbook.section import Reading
from etchbook.tables.packaged import packaged
from etchbook.usecases.errors import RefusedError
from etchbook.usecases.lamellar import Strained

PULLED = ("tee", "corner")
"""Joints in which a plate is pulled through its thickness."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Allowed:
    """What one class would allow, held against a size where one is known.

    Parameters
    ----------
    allows : what the class would allow, in words
    here : what it would say of the size at hand, "" where none was given
    """

    name: str
    standard: str
    allows: str
    here: str
    source: str
    status: str


def allowed(area: float | None = None, length: float | None = None) -> tuple[Allowed, ...]:
    """What every plate class would allow.

    Parameters
    ----------
    area : of one separation by ultrasound [mm²]
    length : its length along the plate's edge [mm]

    Returns
    -------
    tuple of Allowed
        EN 10160 body classes, ASTM A578 levels, EN 10160 edge classes, EN 10164 classes; no row accepts a plate.
    """
    for name, given in (("the area", area), ("the length", length)):
        if given is not None and not (math.isfinite(given) and given > 0):
            raise RefusedError(f"{name} must be a number above 0, not {given:g}")
    held = packaged("plate-classes")
    rows = [_area_row(row, area) for row in held["area_class"]]
    rows += [_edge_row(row, area, length) for row in held["edge_class"]]
    return tuple(rows + [_pull_row(row) for row in held["z_class"]])


def notes() -> tuple[str, ...]:
    """What to know beside the classes."""
    return tuple(packaged("plate-classes")["notes"])


def equal_disc(length: float) -> float:
    """Area of a separation that is as long in every direction as it is across the cut [mm²]."""
    return math.pi / 4 * length**2


def strained_joint(
    reading: Reading, detail: str, *, depth: float | None = None, thickness: float | None = None
) -> Strained:
    """The joint at hand out of its reading: throat and thickness of the plate that is pulled, with their u.

    Parameters
    ----------
    reading : of a tee or corner joint
    detail : see `etchbook.usecases.lamellar.Strained`; the throat is used for fillets alone
    depth, thickness : given by the person in place of what was read [mm]

    Returns
    -------
    Strained
        With medium restraint, no preheat: change it with `dataclasses.replace`.
    """
    family = reading.joint.family
    if family not in PULLED:
        raise RefusedError(f"in a {family} joint no plate is pulled through its thickness, so there is no such sum")
    weld = Measured(value=depth, u=0.0, unit="mm") if depth is not None else _throat(reading, detail)
    plate = Measured(value=thickness, u=0.0, unit="mm") if thickness is not None else _plate(reading)
    return Strained(
        depth=weld.value,
        u_depth=weld.u,
        is_throat=depth is None,
        thickness=plate.value,
        u_thickness=plate.u,
        detail=detail,
        restraint="medium",
    )


def _throat(reading: Reading, detail: str) -> Measured:
    if not detail.endswith("fillet"):
        raise RefusedError(f"for {detail} a section does not tell the weld depth: give it with --depth")
    for name in ("nominal_throat", "throat"):
        found = reading.dimensions.get(name)
        if isinstance(found, Measured):
            return found
    raise RefusedError("no throat was read on this section: give the throat or the weld depth yourself")


def _plate(reading: Reading) -> Measured:
    found = reading.dimensions.get("thickness_1")
    if isinstance(found, Measured):
        return found
    raise RefusedError("the thickness of plate 1 was not read on this section: give it with --thickness")


def _area_row(row: Mapping[str, Any], area: float | None) -> Allowed:
    allows = f"single areas up to {row['largest']:g} mm²"
    if "count" in row:
        counted = f"areas from {row['counted_from']:g} mm² are counted, up to {row['count']} a square metre"
        allows = f"{allows}; {counted}"
    return Allowed(
        name=row["id"],
        standard=row["standard"],
        allows="; ".join(part for part in (allows, row.get("remark", "")) if part),
        here="" if area is None else _area_here(row, area),
        source=row["source"],
        status=row["status"],
    )


def _area_here(row: Mapping[str, Any], area: float) -> str:
    if area > row["largest"]:
        return f"would not allow {area:g} mm²"
    if "count" not in row:
        return f"would allow {area:g} mm² by itself"
    if area > row["counted_from"]:
        return f"would allow {area:g} mm² by itself and count it"
    return f"would allow {area:g} mm² and not count it"


def _edge_row(row: Mapping[str, Any], area: float | None, length: float | None) -> Allowed:
    limits = f"up to {row['longest']:g} mm long and {row['largest']:g} mm²"
    counted = f"from {row['counted_from']:g} mm on they are counted, up to {row['count']} a metre"
    too_long = length is not None and length > row["longest"]
    too_large = area is not None and area > row["largest"]
    here = ""
    if length is not None or area is not None:
        here = "would not allow it at an edge" if too_long or too_large else "would allow it by itself at an edge"
    return Allowed(
        name=row["id"],
        standard="EN 10160, edges",
        allows=f"{limits}; {counted}",
        here=here,
        source=row["source"],
        status=row["status"],
    )


def _pull_row(row: Mapping[str, Any]) -> Allowed:
    allows = f"reduction of area at least {row['mean']:g} % as the mean of three tests, {row['single']:g} % in each"
    return Allowed(
        name=row["id"], standard="EN 10164", allows=allows, here="", source=row["source"], status=row["status"]
    )
