"""Dialling in several settings at once: designs, a fitted surface with its uncertainty, and the next setting to try."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from etchbook.quantity import Measured
from etchbook.trials.scatter import StatisticsError

Vector = NDArray[np.float64]
Kind = Literal["two levels", "half", "surface", "surface in few beads"]
KINDS: tuple[Kind, ...] = ("two levels", "half", "surface", "surface in few beads")


@dataclass(frozen=True, kw_only=True, slots=True)
class Factor:
    """One setting that is turned: its id, its lowest and highest value, its unit."""

    name: str
    low: float
    high: float
    unit: str = ""

    def __post_init__(self) -> None:
        if not (np.isfinite([self.low, self.high]).all() and self.low < self.high):
            raise StatisticsError(f"{self.name} needs a lowest value below its highest, not {self.low} and {self.high}")

    def real(self, coded: float) -> float:
        """The setting that -1 (low) to 1 (high) stands for."""
        return (self.low + self.high) / 2 + coded * (self.high - self.low) / 2

    def coded(self, value: float) -> float:
        """Where a setting lies between -1 (low) and 1 (high)."""
        return (2 * value - self.low - self.high) / (self.high - self.low)


def design(factors: Sequence[Factor], kind: Kind, *, centres: int = 3, seed: int = 0) -> tuple[dict[str, float], ...]:
    """Settings of every bead, in randomised order.

    Parameters
    ----------
    factors : two to five settings to turn
    kind : "two levels" (all corners), "half" (half of them, three or more factors), "surface" (central composite on
        the faces), "surface in few beads" (Box and Behnken, three or more factors)
    centres : beads in the middle, which show scatter and bending
    seed : of the order

    Source: pydoe: ff2n, fracfact, ccdesign (faces), bbdesign.
    """
    if not 2 <= len(factors) <= 5 or len({factor.name for factor in factors}) != len(factors):
        raise StatisticsError("a design turns two to five different settings")
    if not 0 <= centres <= 20:
        raise StatisticsError(f"beads in the middle are 0 to 20, not {centres}")
    corners = _corners(len(factors), kind)
    coded = np.vstack([corners, np.zeros((centres, len(factors)))])
    order = np.random.default_rng(seed).permutation(len(coded))
    return tuple(
        {factor.name: factor.real(float(row[at])) for at, factor in enumerate(factors)} for row in coded[order]
    )


def _corners(count: int, kind: Kind) -> Vector:
    import pydoe

    if kind == "two levels":
        return np.asarray(pydoe.ff2n(count), float)
    if kind == "surface":
        return np.unique(np.asarray(pydoe.ccdesign(count, center=(0, 1), face="faced"), float), axis=0)
    if kind not in KINDS:
        raise StatisticsError(f'"{kind}" is no design: use {", ".join(KINDS)}')
    if count < 3:
        raise StatisticsError(f'the design "{kind}" needs three settings at least')
    if kind == "half":
        letters = "abcde"[: count - 1]
        return np.asarray(pydoe.fracfact(" ".join([*letters, letters])), float)
    return np.asarray(pydoe.bbdesign(count, center=1), float)


@dataclass(frozen=True, kw_only=True, slots=True)
class Surface:
    """A fitted response over the settings.

    Parameters
    ----------
    factors : the settings
    terms : each as the factors multiplied in it: () the constant, (0,) linear, (0, 1) both, (0, 0) bending
    values, covariance : (n,), (n, n) coefficients in coded units
    scatter : residual standard deviation [unit of the response]
    dof : degrees of freedom behind it
    unit : of the response
    """

    factors: tuple[Factor, ...]
    terms: tuple[tuple[int, ...], ...]
    values: Vector
    covariance: Vector
    scatter: float
    dof: float
    unit: str

    def at(self, settings: Mapping[str, float]) -> Measured:
        """The mean response at settings; u is that of the fitted mean.

        StatisticsError outside the settings that were tried.
        """
        coded = np.array([self._coded(factor, settings) for factor in self.factors])
        row = rows_of(coded[None], self.terms)[0]
        u = float(np.sqrt(max(row @ self.covariance @ row, 0.0)))
        return Measured(value=float(row @ self.values), u=u, unit=self.unit, dof=self.dof)

    def effects(self) -> tuple[tuple[str, Measured], ...]:
        """Each coefficient: half of what turning a setting from low to high does, or joint and bending parts."""
        u = np.sqrt(np.diag(self.covariance))
        return tuple(
            (self._term(term), Measured(value=float(value), u=float(spread), unit=self.unit, dof=self.dof))
            for term, value, spread in zip(self.terms, self.values, u, strict=True)
        )

    def _coded(self, factor: Factor, settings: Mapping[str, float]) -> float:
        if factor.name not in settings:
            raise StatisticsError(f"{factor.name} is missing from the settings")
        coded = factor.coded(settings[factor.name])
        if abs(coded) > 1 + 1e-9:
            raise StatisticsError(
                f"{factor.name} {settings[factor.name]:g} lies outside {factor.low:g} to {factor.high:g}, "
                "where nothing was tried"
            )
        return coded

    def _term(self, term: tuple[int, ...]) -> str:
        if not term:
            return "middle"
        names = [self.factors[index].name for index in term]
        return f"{names[0]}²" if len(term) == 2 and term[0] == term[1] else " × ".join(names)


def rows_of(coded: Vector, terms: Sequence[tuple[int, ...]]) -> Vector:
    """Rows of the fit, (n, terms), from settings in coded units, (n, factors)."""
    columns = [np.prod(coded[:, list(term)], axis=1) if term else np.ones(len(coded)) for term in terms]
    return np.stack(columns, axis=1)


def fit(factors: Sequence[Factor], beads: Sequence[tuple[Mapping[str, float], float]], *, unit: str = "mm") -> Surface:
    """Fit a response over the settings: linear, joint and bending parts as far as the beads allow.

    Parameters
    ----------
    factors : the settings that were turned
    beads : settings and mean response of each bead
    unit : of the response

    Source: statsmodels OLS in coded units.
    """
    import statsmodels.api as sm

    coded = np.array([[factor.coded(float(held[factor.name])) for factor in factors] for held, _ in beads])
    coded = coded.reshape(len(beads), len(factors))
    answers = np.array([value for _, value in beads], float)
    for terms in _models(len(factors)):
        rows = rows_of(coded, terms)
        if len(rows) > len(terms) and np.linalg.matrix_rank(rows) == len(terms):
            found = sm.OLS(answers, rows).fit()
            return Surface(
                factors=tuple(factors),
                terms=tuple(terms),
                values=np.asarray(found.params),
                covariance=np.asarray(found.cov_params()),
                scatter=float(np.sqrt(found.scale)),
                dof=float(found.df_resid),
                unit=unit,
            )
    raise StatisticsError(f"{len(beads)} beads are too few, or too much alike, to fit {len(factors)} settings")


def _models(count: int) -> list[list[tuple[int, ...]]]:
    """Models from the richest to the plainest."""
    linear: list[tuple[int, ...]] = [(), *((index,) for index in range(count))]
    joint = [*linear, *combinations(range(count), 2)]
    return [[*joint, *((index, index) for index in range(count))], joint, linear]


def next_setting(surface: Surface, *, target: float, tolerance: float, seed: int = 0) -> tuple[dict[str, float], float]:
    """The setting within what was tried at which the next bead most likely meets a target.

    Parameters
    ----------
    surface : fitted response
    target, tolerance : wanted value and how far off it may be [unit of the response]
    seed : of the settings that are looked at

    Returns
    -------
    settings, chance
        Chance that a new bead there lies within the tolerance, its own scatter counted in.
    """
    from scipy.stats import qmc, t

    if tolerance <= 0:
        raise StatisticsError("a tolerance is above 0")
    count = len(surface.factors)
    coded = 2 * qmc.Sobol(count, rng=np.random.default_rng(seed)).random_base2(12) - 1
    rows = rows_of(np.vstack([coded, np.zeros((1, count))]), surface.terms)
    middle = rows @ surface.values
    spread = np.sqrt(np.einsum("ij,jk,ik->i", rows, surface.covariance, rows) + surface.scatter**2)
    spread = np.maximum(spread, 1e-9)
    high, low = (target + tolerance - middle) / spread, (target - tolerance - middle) / spread
    chance = t.cdf(high, surface.dof) - t.cdf(low, surface.dof)
    best = int(np.argmax(chance))
    settings = np.vstack([coded, np.zeros((1, count))])[best]
    found = {factor.name: factor.real(float(settings[at])) for at, factor in enumerate(surface.factors)}
    return found, float(chance[best])


def contours(
    surface: Surface, first: str, second: str, held: Mapping[str, float], *, steps: int = 41
) -> tuple[Vector, Vector, Vector, Vector]:
    """The response over two settings, the others held: axes (n,), (n,), values (n, n) and their u, rows along `second`.

    Parameters
    ----------
    surface : fitted response
    first, second : names of the two settings
    held : values of the others; their middle where missing
    """
    named = {factor.name: factor for factor in surface.factors}
    if first not in named or second not in named or first == second:
        raise StatisticsError(f"contours go over two of {', '.join(named)}")
    base = {name: factor.real(0.0) for name, factor in named.items()} | dict(held)
    across = np.linspace(named[first].low, named[first].high, steps)
    up = np.linspace(named[second].low, named[second].high, steps)
    found = [[surface.at(base | {first: float(x), second: float(y)}) for x in across] for y in up]
    values = np.array([[one.value for one in row] for row in found])
    return across, up, values, np.array([[one.u for one in row] for row in found])
