"""Cooling time from 800 to 500 °C."""

import math

from etchbook.procedure.formulas import Range, published
from etchbook.procedure.records import ProcedureError

D = "EN 1011-2:2001 Annex D, as printed in a steelmaker's welding handbook, ed. 2, p. 17"
STEELS = (Range(name="start", least=-50, most=499, unit="°C"),)


def _differences(start: float) -> tuple[float, float]:
    if start >= 500:
        raise ProcedureError(f"a plate at {start:g} °C never cools through 500 °C from above: start below 500 °C")
    return 1 / (500 - start), 1 / (800 - start)


@published("t8/5, thick plate (3-D)", "s", f"{D}, three-dimensional heat flow", "seen", valid=STEELS)
def t85_thick(heat_input: float, start: float, factor_3: float) -> float:
    """Cooling time t8/5 with heat flowing away in three dimensions.

    Parameters
    ----------
    heat_input : Q = k AE [kJ/mm]
    start : start or interpass temperature [°C]
    factor_3 : joint factor F3

    Returns
    -------
    [s]
        For low-alloy ferritic steel.
    """
    low, high = _differences(start)
    return (6700 - 5 * start) * heat_input * (low - high) * factor_3


@published("t8/5, thin plate (2-D)", "s", f"{D}, two-dimensional heat flow", "seen", valid=STEELS)
def t85_thin(heat_input: float, thickness: float, start: float, factor_2: float) -> float:
    """Cooling time t8/5 with heat flowing away in the plane of the plate.

    Parameters
    ----------
    heat_input : Q = k AE [kJ/mm]
    thickness : plate thickness d [mm]
    start : start or interpass temperature [°C]
    factor_2 : joint factor F2

    Returns
    -------
    [s]
        For low-alloy ferritic steel.
    """
    low, high = _differences(start)
    return (4300 - 4.3 * start) * 1e5 * (heat_input / thickness) ** 2 * (low**2 - high**2) * factor_2


@published(
    "transition thickness", "mm", "EN 1011-2 Annex D, from equating its two formulas", "from memory", valid=STEELS
)
def transition_thickness(heat_input: float, start: float) -> float:
    """Plate thickness at which thick-plate and thin-plate cooling take equally long, for equal joint factors.

    Parameters
    ----------
    heat_input : Q [kJ/mm]
    start : [°C]

    Returns
    -------
    [mm]
    """
    low, high = _differences(start)
    return math.sqrt((4300 - 4.3 * start) / (6700 - 5 * start) * 1e5 * heat_input * (low + high))


@published("cooling time t8/5", "s", f"{D}: the longer of the two", "seen", valid=STEELS)
def cooling_time(heat_input: float, thickness: float, start: float, factor_2: float, factor_3: float) -> float:
    """Cooling time t8/5: the longer of thick-plate and thin-plate cooling.

    Parameters
    ----------
    heat_input : Q [kJ/mm]
    thickness : [mm]
    start : [°C]
    factor_2, factor_3 : joint factors for two-dimensional and three-dimensional heat flow

    Returns
    -------
    [s]
    """
    return max(t85_thick(heat_input, start, factor_3), t85_thin(heat_input, thickness, start, factor_2))
