"""Several settings dialled in together: the beads to weld, and what they say when they are read."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from etchbook.quantity import spoken
from etchbook.terms.settings import SETTINGS
from etchbook.trials.designs import KINDS, Factor, Surface, design, fit, next_setting
from etchbook.trials.scatter import StatisticsError
from etchbook.usecases.errors import RefusedError


@dataclass(frozen=True, kw_only=True, slots=True)
class Dialled:
    """What the beads of a design say.

    Parameters
    ----------
    surface : the fitted response
    beads : settings and response of each bead
    next_bead, chance : setting to try next, and the chance that it meets the target; None without a target
    """

    surface: Surface
    beads: tuple[tuple[Mapping[str, float], float], ...]
    next_bead: Mapping[str, float] | None
    chance: float | None


def factor_from(text: str) -> Factor:
    """``volts=17..20`` as a setting to turn, in the unit of its term."""
    name, sign, span = text.partition("=")
    low, dots, high = span.partition("..")
    if not (sign and dots):
        raise RefusedError(f'"{text}" is no setting to turn: write it like volts=17..20')
    try:
        ends = float(low), float(high)
    except ValueError:
        raise RefusedError(f"the ends of {name} are numbers, not {low} and {high}") from None
    term = SETTINGS.get(name.strip())
    if term is None:
        raise RefusedError(f'"{name.strip()}" is no setting: see `etchbook terms` for the ids')
    try:
        return Factor(name=term.id, low=ends[0], high=ends[1], unit=term.unit)
    except StatisticsError as error:
        raise RefusedError(str(error)) from None


def factors_from(turn: Mapping[str, tuple[float, float]]) -> list[Factor]:
    """Settings to turn from their lowest and highest values."""
    return [factor_from(f"{name}={low}..{high}") for name, (low, high) in turn.items()]


def runs(factors: Sequence[Factor], kind: str, *, centres: int, seed: int) -> tuple[dict[str, float], ...]:
    """Settings of every bead of a design, in randomised order."""
    if kind not in KINDS:
        raise RefusedError(f'"{kind}" is no design: use {", ".join(KINDS)}')
    try:
        return design(factors, kind, centres=centres, seed=seed)
    except StatisticsError as error:
        raise RefusedError(str(error)) from None


def run_list(factors: Sequence[Factor], kind: str, response: str, *, centres: int, seed: int) -> str:
    """The beads to weld in their order, as a CSV table with an empty column for the response."""
    beads = runs(factors, kind, centres=centres, seed=seed)
    out = io.StringIO()
    sheet = csv.writer(out, lineterminator="\n")
    sheet.writerow(["bead", *(factor.name for factor in factors), response])
    sheet.writerows([at + 1, *(f"{run[factor.name]:g}" for factor in factors), ""] for at, run in enumerate(beads))
    return out.getvalue()


def dialled(
    text: str, factors: Sequence[Factor], response: str, *, target: float | None, tolerance: float, unit: str = "mm"
) -> Dialled:
    """Fit the beads that were read, and name the next setting to try.

    Parameters
    ----------
    text : CSV with a column for each setting and one for the response; rows without a response are left out
    factors : the settings that were turned
    response : name of its column
    target, tolerance : wanted response and how far off it may be; None for no next setting
    """
    beads = _beads(text, factors, response)
    return dialled_from(beads, factors, target=target, tolerance=tolerance, unit=unit)


def dialled_from(
    beads: Sequence[tuple[Mapping[str, float], float]],
    factors: Sequence[Factor],
    *,
    target: float | None,
    tolerance: float,
    unit: str = "mm",
) -> Dialled:
    """The same from settings and response of each bead."""
    lacking = [factor.name for factor in factors for held, _ in beads if factor.name not in held]
    if lacking:
        raise RefusedError(f"a bead tells no {lacking[0]}")
    try:
        surface = fit(factors, beads, unit=unit)
        found = None if target is None else next_setting(surface, target=target, tolerance=tolerance)
    except StatisticsError as error:
        raise RefusedError(str(error)) from None
    return Dialled(
        surface=surface,
        beads=tuple(beads),
        next_bead=None if found is None else found[0],
        chance=None if found is None else found[1],
    )


def _beads(text: str, factors: Sequence[Factor], response: str) -> list[tuple[dict[str, float], float]]:
    rows = list(csv.DictReader(io.StringIO(text)))
    wanted = [*(factor.name for factor in factors), response]
    lacking = [name for name in wanted if not rows or name not in rows[0]]
    if lacking:
        raise RefusedError(f"the table has no column {lacking[0]}")
    told = []
    for at, row in enumerate(rows, start=1):
        if not (row[response] or "").strip():
            continue
        try:
            told.append(({name: float(row[name]) for name in wanted[:-1]}, float(row[response])))
        except (TypeError, ValueError):
            raise RefusedError(f"line {at} of the table holds something that is no number") from None
    return told


def told(found: Dialled, target: float | None, tolerance: float) -> list[str]:
    """The fit in lines of text."""
    surface = found.surface
    lines = [
        f"{len(found.beads)} beads, {len(surface.terms)} terms, scatter left over {surface.scatter:.3g} {surface.unit} "
        f"with {surface.dof:g} degrees of freedom",
        "half of what each setting does from its low to its high end:",
        *(f"  {name}: {spoken(value)}" for name, value in surface.effects()),
    ]
    if found.next_bead is not None and found.chance is not None and target is not None:
        setting = ", ".join(
            f"{factor.name} {found.next_bead[factor.name]:.3g} {factor.unit}".rstrip() for factor in surface.factors
        )
        here = surface.at(found.next_bead)
        lines.append(f"next to try: {setting}; fitted {spoken(here)}")
        lines.append(
            f"chance that the next bead there lies within {target:g} ± {tolerance:g}: {found.chance:.2f}; "
            "weld it, add it to the table, and fit again"
        )
    return lines
