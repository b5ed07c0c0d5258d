"""Vickers indents: hardness, size, spacing, and the limits of a procedure test."""

import math
from itertools import pairwise

from etchbook.procedure.formulas import published
from etchbook.procedure.records import ProcedureError
from etchbook.tables.packaged import packaged

ISO = "ISO 6507-1"


@published("Vickers hardness", "HV", f"{ISO}; constant 0.1891 as printed in a tester's manual", "seen")
def vickers(force: float, diagonal_1: float, diagonal_2: float) -> float:
    """Vickers hardness HV = 0.102 × 2 F sin 68° / d², d the mean of both diagonals.

    Parameters
    ----------
    force : test force F [N]
    diagonal_1, diagonal_2 : [mm]

    Returns
    -------
    [HV]
    """
    mean = (diagonal_1 + diagonal_2) / 2
    if mean <= 0:
        raise ProcedureError("an indent has diagonals above zero")
    return 0.102 * 2 * force * math.sin(math.radians(68)) / mean**2


@published("diagonal of an indent", "mm", f"{ISO}, solved for d with 1 kgf = 9.80665 N", "reckoned")
def diagonal(hardness: float, load: float) -> float:
    """Mean diagonal of the indent that a hardness gives.

    Parameters
    ----------
    hardness : [HV]
    load : the number behind HV [kgf], 10 for HV10

    Returns
    -------
    [mm]
    """
    return math.sqrt(0.102 * 2 * load * 9.80665 * math.sin(math.radians(68)) / hardness)


@published("depth of an indent", "mm", f"{ISO}; d/7 as printed in a tester's manual", "seen")
def indent_depth(diagonal: float) -> float:
    """How deep an indent goes, d/7.

    Parameters
    ----------
    diagonal : mean diagonal d [mm]

    Returns
    -------
    [mm]
    """
    return diagonal / 7


@published("least spacing of indents", "mm", f"{ISO}, steel: 3 d from centre to centre", "from memory")
def indent_spacing(diagonal: float) -> float:
    """Least distance between the centres of two indents in steel.

    Parameters
    ----------
    diagonal : mean diagonal d of the larger indent [mm]

    Returns
    -------
    [mm]
    """
    return 3 * diagonal


@published("least distance of an indent from the edge", "mm", f"{ISO}, steel: 2.5 d", "from memory")
def indent_edge(diagonal: float) -> float:
    """Least distance from the centre of an indent to the edge of the piece, in steel.

    Parameters
    ----------
    diagonal : [mm]

    Returns
    -------
    [mm]
    """
    return 2.5 * diagonal


@published("least thickness under an indent", "mm", f"{ISO}: 1.5 d", "from memory")
def indent_thickness(diagonal: float) -> float:
    """Least thickness of the piece under an indent.

    Parameters
    ----------
    diagonal : [mm]

    Returns
    -------
    [mm]
    """
    return 1.5 * diagonal


def hardness_limit(group: str, *, heat_treated: bool) -> float:
    """Highest HV10 that a procedure test permits for a material group.

    Parameters
    ----------
    group : material group to ISO/TR 15608, such as "1" or "9.1"
    heat_treated : whether the joint was heat-treated after welding

    Returns
    -------
    [HV10]
        ProcedureError where the standard leaves the limit to an agreement beforehand.

    Source: ISO 15614-1:2017+A1:2019, Table 3 (seen).
    """
    rows = packaged("procedure")["hardness_limit"]
    row = next((row for row in rows if group.strip() in row["groups"]), None)
    column = "heat_treated" if heat_treated else "as_welded"
    if row is None or column not in row:
        state = "heat-treated" if heat_treated else "as welded"
        raise ProcedureError(
            f"ISO 15614-1 Table 3 gives no hardness limit for group {group.strip()} {state}: agree one beforehand"
        )
    return float(row[column])


def hardness_verdict(hardness: float, group: str, *, heat_treated: bool) -> str:
    """Whether one HV10 figure, taken as exact, keeps to the limit of the procedure test: "met" or "not met"."""
    return "met" if hardness <= hardness_limit(group, heat_treated=heat_treated) else "not met"


def hardness_as(hardness: float, scale: str) -> float:
    """Vickers hardness of unalloyed and low-alloy steel in another scale, between the rows of the conversion table.

    Parameters
    ----------
    hardness : [HV], 200 to 450
    scale : "HB", "HRC" or "Rm" [N/mm²]

    Returns
    -------
    [in the scale asked for]
        A conversion is only a guide: it may be off by several per cent.

    Source: ISO 18265:2013 Table A.1 (from memory).
    """
    rows = [row for row in packaged("procedure")["hardness_conversion"] if scale in row]
    if not rows:
        raise ProcedureError(f'"{scale}" is not a scale that is converted to: use HB, HRC or Rm')
    if not rows[0]["HV"] <= hardness <= rows[-1]["HV"]:
        raise ProcedureError(f"{scale} is tabled for {rows[0]['HV']} to {rows[-1]['HV']} HV, not for {hardness:g} HV")
    for first, second in pairwise(rows):
        if hardness <= second["HV"]:
            share = (hardness - first["HV"]) / (second["HV"] - first["HV"])
            return float(first[scale] + share * (second[scale] - first[scale]))
    raise AssertionError("the rows of a table rise")
