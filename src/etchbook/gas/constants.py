"""Constants and packaged grids of the gas room, read once."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from etchbook.gas.records import KELVIN, share
from etchbook.tables.packaged import packaged

Vector = NDArray[np.float64]


def constant(group: str, name: str) -> float:
    """A number of gases.toml."""
    return float(packaged("gases")[group][name]["value"])


def source(group: str, name: str) -> str:
    """Where that number stands and how it is known."""
    row = packaged("gases")[group][name]
    return f"{row['source']} ({row['status']})"


def molar_mass(co2: float) -> float:
    """Molar mass [g/mol] of argon with a share of CO2."""
    return (1 - share(co2)) * constant("argon", "g_per_mol") + co2 * constant("co2", "g_per_mol")


@dataclass(frozen=True, kw_only=True, slots=True)
class Grid:
    """Values over composition, temperature [°C] and pressure [bar]; the last axis may be missing."""

    co2: Vector
    t_c: Vector
    bar: Vector
    values: Vector


@cache
def grid(name: str, key: str) -> Grid:
    """A packaged grid: gases-density/z, gases-throttle/after_c, gases-sound/m_per_s, or of another second gas."""
    held = packaged(f"gases-{name}")
    rows = held["composition"]
    return Grid(
        co2=np.array([row.get("co2", row.get("share")) for row in rows]),
        t_c=np.array(held["t_c"]),
        bar=np.array(held.get("bar", [])),
        values=np.array([row[key] for row in rows]),
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Isotherm:
    """Liquid and vapour side by side at one temperature; NaN where the model gave no answer.

    Parameters
    ----------
    kelvin : temperature [K]
    liquid, vapour : (n,) mole fraction of CO2
    bar : (n,) pressure
    liquid_density, vapour_density : (n,) [mol/L]
    """

    kelvin: float
    liquid: Vector
    vapour: Vector
    bar: Vector
    liquid_density: Vector
    vapour_density: Vector


@cache
def isotherms() -> tuple[Isotherm, ...]:
    """The packaged isotherms, cold first, all on the same compositions of the liquid."""
    rows = packaged("gases-phase")["isotherm"]
    longest = max(rows, key=lambda row: len(row["liquid"]))["liquid"]
    return tuple(
        Isotherm(
            kelvin=row["t_c"] + KELVIN,
            liquid=np.array(longest),
            vapour=_filled(row["vapour"], len(longest)),
            bar=_filled(row["bar"], len(longest)),
            liquid_density=_filled(row["liquid_mol_per_l"], len(longest)),
            vapour_density=_filled(row["vapour_mol_per_l"], len(longest)),
        )
        for row in rows
    )


def _filled(values: list[float], length: int) -> Vector:
    return np.concatenate([values, np.full(length - len(values), np.nan)])


def lagrange(axis: Vector, values: Vector, at: float, points: int = 4) -> Vector:
    """Interpolate along the first axis through the nearest `points`, two where one of those is missing.

    Parameters
    ----------
    axis : (n,) rising
    values : (n, ...)
    at : between the ends of `axis`
    """
    node = int(np.searchsorted(axis, at))
    if node < len(axis) and axis[node] == at:
        return np.asarray(values[node])
    width = min(points, len(axis))
    first = int(np.clip(node - width // 2, 0, len(axis) - width))
    held = values[first : first + width]
    if np.isnan(held).any() and width > 2:
        return lagrange(axis, values, at, points=2)
    near = axis[first : first + width]
    weights = [np.prod([(at - b) / (a - b) for b in near if b != a]) for a in near]
    return np.asarray(np.tensordot(weights, held, axes=1))
