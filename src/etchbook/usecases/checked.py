"""The register of checked functions: from the plain inputs of a check row to a function of ours."""

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from etchbook.acceptance import Facts, Finding, conformity, guarded_limit, hold, run_risks
from etchbook.acceptance.facts import chord_length
from etchbook.geometry import Line, largest_isosceles_height
from etchbook.picture import Scale
from etchbook.quantity import (
    Measured,
    Quantity,
    coverage_factor,
    expanded,
    linear_covariance,
    normal_quantile,
    numeric_jacobian,
    straight_line,
    welch_satterthwaite,
)
from etchbook.section import Landmark
from etchbook.tables import load_limits
from etchbook.terms import DIMENSIONS
from etchbook.usecases.checked_evidence import CHECKED_EVIDENCE
from etchbook.usecases.checked_gas import CHECKED_GAS
from etchbook.usecases.checked_preparation import CHECKED_PREPARATION
from etchbook.usecases.checked_procedure import CHECKED_PROCEDURE
from etchbook.usecases.checked_trials import CHECKED_TRIALS

Answer = float | str


def _facts(dimension: str, value: float, u: float, family: str, given: Mapping[str, float]) -> Facts:
    """Exact round figures as the facts of a section: t, b, a, z, root [mm]."""
    exact = {name: Measured(value=number, u=0.0, unit="mm") for name, number in given.items()}
    names = {
        "t": ("thickness_1", "thickness_2", "thinner"),
        "a": ("throat_asked", "throat_meant"),
        "b": ("face_width",),
        "z": ("longest_leg",),
        "root": ("root_width",),
    }
    known: dict[str, Quantity] = {key: exact[name] for name, keys in names.items() if name in exact for key in keys}
    unit = DIMENSIONS[dimension].unit if dimension else "mm"
    read: dict[str, Quantity] = {dimension: Measured(value=value, u=u, unit=unit)}
    return Facts(family=family, dimensions=read, known=known)


def _held(limits: str, item: str, facts: Facts, dimension: str) -> Finding:
    rows = [row for row in load_limits(limits).limits if row.item == item]
    found = [finding for finding in hold(rows, facts) if finding.dimension == dimension]
    if len(found) != 1:
        raise LookupError(f"{limits} gives {len(found)} answers for {item}, {dimension}")
    return found[0]


def limit(limits: str, item: str, dimension: str, family: str = "tee", **given: float) -> Answer:
    """The number of a packaged limit for round figures."""
    finding = _held(limits, item, _facts(dimension, 0.0, 0.0, family, given), dimension)
    if finding.limit.rule:
        return finding.limit.rule
    return "none" if finding.bound is None else finding.bound


def verdict(
    limits: str, item: str, dimension: str, value: float, u: float, family: str = "tee", **given: float
) -> Answer:
    """The verdict of a packaged limit on a round value."""
    return str(_held(limits, item, _facts(dimension, value, u, family, given), dimension).verdict)


def _conformity(value: float, u: float, least: float | None = None, most: float | None = None) -> Answer:
    return conformity(Measured(value=value, u=u, unit=""), least=least, most=most)


def _combined(parts: Sequence[float]) -> Answer:
    ones = np.ones((1, len(parts)))
    return float(linear_covariance(ones, np.diag(np.square(parts)))[0, 0] ** 0.5)


def _effective_dof(parts: Sequence[float], dof: Sequence[float]) -> Answer:
    return welch_satterthwaite(list(zip(parts, dof, strict=True)))


def _expanded(u: float, level: float, dof: float) -> Answer:
    return expanded(Measured(value=0.0, u=u, unit="", dof=dof), level)


def impedance(want: str, volts: float, amperes: float, phase: float, u: Sequence[float], r: Sequence[float]) -> Answer:
    """Resistance, reactance and impedance from voltage, current and phase, with u and correlations."""
    tie = np.array([[1.0, r[0], r[1]], [r[0], 1.0, r[2]], [r[1], r[2], 1.0]])
    at, spread = np.array([volts, amperes, phase]), np.asarray(u)
    values = _ohms(at)
    covariance = linear_covariance(numeric_jacobian(_ohms, at, spread), tie * np.outer(spread, spread))
    kind, _, which = want.rpartition("_")
    places = ["RXZ".index(letter) for letter in which]
    if kind == "u":
        return float(covariance[places[0], places[0]] ** 0.5)
    if kind == "r":
        first, second = places
        return float(covariance[first, second] / (covariance[first, first] * covariance[second, second]) ** 0.5)
    return float(values[places[0]])


def _ohms(at: np.ndarray) -> np.ndarray:
    size = at[0] / at[1]
    return np.array([size * math.cos(at[2]), size * math.sin(at[2]), size])


def calibration_line(want: str, x: Sequence[float], y: Sequence[float], origin: float) -> Answer:
    """Intercept, slope, their u and correlation, and the line at 30, of a straight-line calibration."""
    line = straight_line(np.asarray(x), np.asarray(y), origin=origin)
    u = np.sqrt(np.diag(line.covariance))
    there = line.at(30.0)
    answers = {
        "intercept": line.parameters[0],
        "slope": line.parameters[1],
        "u_intercept": u[0],
        "u_slope": u[1],
        "r": line.covariance[0, 1] / (u[0] * u[1]),
        "at_30": there.value,
        "u_at_30": there.u,
    }
    return float(answers[want])


def _chord_throat(leg_1: float, leg_2: float) -> Answer:
    chord = Line(x=leg_1, y=0.0, heading=math.atan2(leg_2, -leg_1))
    return float(abs(chord.across(np.zeros((1, 2)))[0]))


def _inscribed_throat(leg_1: float, leg_2: float, angle: float) -> Answer:
    turn = math.radians(angle)
    ends = np.array([[leg_1, 0.0], [leg_2 * math.cos(turn), leg_2 * math.sin(turn)]])
    share = np.linspace(0, 1, 401)[:, None]
    return largest_isosceles_height(ends[0] + share * (ends[1] - ends[0]), leg_1, leg_2, turn)


def _skew_factor(angle: float) -> Answer:
    """How much larger the toe-to-plate distance of a skewed tee must be than at 90° for the same throat."""
    distance = math.sin(math.radians(angle)) / float(_inscribed_throat(1.0, 1.0, angle))
    return distance / (1.0 / float(_inscribed_throat(1.0, 1.0, 90.0)))


def _face_width(toe_1: Sequence[float], toe_2: Sequence[float], px_per_mm: float) -> Answer:
    toes = [Landmark(point=np.asarray(toe, float), covariance=np.zeros((2, 2))) for toe in (toe_1, toe_2)]
    return chord_length(toes[0], toes[1], Scale(px_per_mm=px_per_mm, u=0.0, origin="given")).value


CHECKED: dict[str, Callable[..., Answer]] = {
    "calibration_line": calibration_line,
    "chord_throat": _chord_throat,
    "combined": _combined,
    "conformity": _conformity,
    "consumer_risk": lambda **inputs: run_risks(**inputs)[0],
    "coverage_factor": coverage_factor,
    "effective_dof": _effective_dof,
    "expanded": _expanded,
    "face_width": _face_width,
    "guarded_limit": guarded_limit,
    "impedance": impedance,
    "inscribed_throat": _inscribed_throat,
    "limit": limit,
    "normal_quantile": normal_quantile,
    "producer_risk": lambda **inputs: run_risks(**inputs)[1],
    "skew_factor": _skew_factor,
    "verdict": verdict,
    **CHECKED_EVIDENCE,
    **CHECKED_GAS,
    **CHECKED_TRIALS,
    **CHECKED_PREPARATION,
    **CHECKED_PROCEDURE,
}
