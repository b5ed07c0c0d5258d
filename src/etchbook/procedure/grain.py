"""Grain size by number, count and intercept."""

import math

from etchbook.procedure.formulas import published

E112 = "ASTM E112"


@published("mean grain diameter", "mm", f"{E112}: n = 2^(G−1) grains a square inch at 100 times", "seen")
def grain_diameter(grain_number: float) -> float:
    """Side of a square as large as the mean grain, d = 1/√(n·10⁴/645).

    Parameters
    ----------
    grain_number : ASTM number G

    Returns
    -------
    [mm]
    """
    return 1 / math.sqrt(2 ** (grain_number - 1) * 1e4 / 645)


@published("grains in a square millimetre", "1/mm²", f"{E112}: 7.75 · 2^G", "from memory")
def grains_per_area(grain_number: float) -> float:
    """Number of grains on a square millimetre of the face.

    Parameters
    ----------
    grain_number : ASTM number G

    Returns
    -------
    [1/mm²]
    """
    return 7.75 * 2**grain_number


@published("grain number by intercepts", "", f"{E112}: G = −6.6439 lg ℓ − 3.2877", "from memory")
def grain_number_from_intercept(intercept: float) -> float:
    """ASTM grain number from the mean intercept length.

    Parameters
    ----------
    intercept : mean intercept length ℓ [mm]

    Returns
    -------
    [no unit]
    """
    return -6.6439 * math.log10(intercept) - 3.2877


@published("grain number by counting", "", f"{E112}: N_A = 7.75 · 2^G, solved for G", "from memory")
def grain_number_from_count(grains: float, area: float) -> float:
    """ASTM grain number from a count on a known area.

    Parameters
    ----------
    grains : whole grains, and half of those that the border cuts
    area : [mm²]

    Returns
    -------
    [no unit]
    """
    return math.log2(grains / area / 7.75)


@published("grain number, ISO 643", "", "ISO 643: m = 8 · 2^G grains a square millimetre", "from memory")
def grain_number_iso(grains: float, area: float) -> float:
    """ISO grain number from a count on a known area.

    Parameters
    ----------
    grains : whole grains, and half of those that the border cuts
    area : [mm²]

    Returns
    -------
    [no unit]
    """
    return math.log2(grains / area / 8)
