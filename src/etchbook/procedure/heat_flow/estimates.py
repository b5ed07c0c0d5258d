"""The conduction model as formulas of plain numbers, each with what it may be trusted for."""

import math
from functools import lru_cache

from etchbook.procedure.formulas import published
from etchbook.procedure.heat_flow.coupon import Coupon
from etchbook.procedure.heat_flow.molten import Fused, fused
from etchbook.procedure.records import ProcedureError

MODEL = "finite coupon by mirror images, conduction only; scatter of real beads around it judged"


@lru_cache(maxsize=256)
def _fused(coupon: Coupon) -> Fused:
    return fused(coupon)


def coupon_for(
    power: float,
    travel: float,
    thickness: float,
    start: float,
    conductivity: float,
    capacity: float,
    melting: float,
    haz_edge: float,
    plate_length: float,
    plate_width: float,
    bead_length: float,
    loss: float,
) -> Coupon:
    """A coupon with its bead in the middle of the plate; units as in `Coupon`."""
    return Coupon(
        length=plate_length,
        width=plate_width,
        thickness=thickness,
        conductivity=conductivity,
        capacity=capacity,
        melting=melting,
        haz_edge=haz_edge,
        start=start,
        loss=loss,
        power=power,
        travel=travel,
        bead_start=max((plate_length - bead_length) / 2, 0.0),
        bead_length=bead_length,
    )


def _molten(inputs: dict[str, float]) -> Fused:
    found = _fused(coupon_for(**inputs))
    if found.width <= 0:
        raise ProcedureError(
            f"by conduction {inputs['power']:.4g} W at {inputs['travel']:.3g} mm/s melt nothing of this plate"
        )
    return found


@published("fused width, by conduction", "mm", MODEL, "reckoned", share=0.15)
def fused_width(**plate: float) -> float:
    """Width of the molten part of a plate at its surface, for a bead on plate.

    Parameters
    ----------
    plate : as in `coupon_for`: power [W], travel [mm/s], thickness [mm], start [°C], conductivity [W/(m·K)],
        capacity [J/(cm³·K)], melting, haz_edge [°C], plate_length, plate_width, bead_length [mm], loss [W/(m²·K)]

    Returns
    -------
    [mm]
        Conduction only; arc pressure, pool flow and surface tension are left out.
    """
    return _molten(plate).width


@published("fused depth, by conduction", "mm", MODEL, "reckoned", share=0.25)
def fused_depth(**plate: float) -> float:
    """Depth of the molten part below the plate's surface, for a bead on plate.

    Parameters
    ----------
    plate : as for `fused_width`

    Returns
    -------
    [mm]
        Conduction only.
    """
    return _molten(plate).depth


@published("fused area, by conduction", "mm²", MODEL, "reckoned", share=0.30)
def fused_area(**plate: float) -> float:
    """Area of the molten part below the plate's surface, for a bead on plate.

    Parameters
    ----------
    plate : as for `fused_width`

    Returns
    -------
    [mm²]
        Conduction only.
    """
    return _molten(plate).area


@published("HAZ width, by conduction", "mm", MODEL, "reckoned", share=0.20)
def conducted_haz_width(**plate: float) -> float:
    """Mean width of the visible HAZ along the fusion line, for a bead on plate.

    Parameters
    ----------
    plate : as for `fused_width`; haz_edge is where the plate begins to change visibly, near 730 °C in steel

    Returns
    -------
    [mm]
        Conduction only.
    """
    width = _molten(plate).haz_width
    if math.isnan(width):
        raise ProcedureError("this metal shows no HAZ edge, or the heat reaches the far side of the plate everywhere")
    return width


@published("cooling time t8/5, by conduction", "s", MODEL, "reckoned", share=0.20)
def conducted_t85(**plate: float) -> float:
    """Cooling time from 800 to 500 °C on the centreline, for a bead on this very coupon.

    Parameters
    ----------
    plate : as for `fused_width`

    Returns
    -------
    [s]
        Conduction only; beside the formula of EN 1011-2 it knows the size of the coupon.
    """
    found = _fused(coupon_for(**plate)).t85
    if math.isnan(found):
        raise ProcedureError("the centreline does not pass from 800 to 500 °C within ten minutes")
    return found
