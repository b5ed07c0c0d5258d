"""How many beads a difference takes, and settings dialled in together, as JSON."""

from collections.abc import Mapping

from fastapi import Request

from etchbook.terms import DIMENSIONS
from etchbook.terms.settings import SETTINGS
from etchbook.trials.designs import Factor
from etchbook.usecases import RefusedError
from etchbook.usecases.book_beads import own_scatter
from etchbook.usecases.dialling import dialled_from, factors_from, runs, told
from etchbook.usecases.planned import size_rows
from etchbook.usecases.scatters import scatter_of
from etchbook.web.api.comparing import scatter
from etchbook.web.api.planshapes import (
    DesignAsked,
    DesignTold,
    EffectTold,
    Ends,
    FitAsked,
    FitTold,
    SizeAsked,
    SizeRow,
    SizeTold,
)
from etchbook.web.api.quantities import finite, plain
from etchbook.web.api.verbs import verbs
from etchbook.web.api.weldshapes import Value
from etchbook.web.aside import aside
from etchbook.web.bench import get_book
from etchbook.wiring.units import listed

router = verbs("plans")


@router.post("/plan/size")
def size_trial(request: Request, given: SizeAsked) -> SizeTold:
    """How many beads show each difference: in two arms, in blocks, in a reference plan; and to show none so large."""
    known = scatter_of(given.response, given.scatter, welding=given.welding, own=own_scatter(get_book(request)))
    low, high = known.limits()
    rows = aside(size_rows, known.sd, given.worth, given.power)
    names = ("beads_an_arm", "blocks", "blocks_a_phase", "none_so_large")
    told_rows = [SizeRow(worth=worth, **{name: int(one) for name, one in zip(names, row[1:], strict=True)})
                 for worth, row in zip(given.worth, rows, strict=True)]  # fmt: skip
    return SizeTold(scatter=scatter(known), low=low, high=high, rows=told_rows)


@router.post("/plan/design")
def design_beads(given: DesignAsked) -> DesignTold:
    """The beads to weld for dialling several settings in together, in randomised order."""
    factors = _factors(given.turn)
    beads = runs(factors, given.kind, centres=given.centres, seed=given.seed)
    return DesignTold(units={one.name: one.unit for one in factors}, beads=list(beads))


@router.post("/plan/fit")
def fit_beads(given: FitAsked) -> FitTold:
    """What the beads of a design say, and the next setting to try."""
    if given.response not in DIMENSIONS:
        raise RefusedError(f'"{given.response}" is no dimension: see docs/terms.md for the ids')
    beads = [(one.settings, one.result) for one in given.beads]
    found = dialled_from(beads, _factors(given.turn), target=given.target, tolerance=given.tolerance,
                         unit=DIMENSIONS[given.response].unit)  # fmt: skip
    surface = found.surface
    return FitTold(
        unit=surface.unit,
        scatter=finite(surface.scatter),
        dof=finite(surface.dof),
        effects=[EffectTold(name=name, **plain(value)) for name, value in surface.effects()],
        next_bead=None if found.next_bead is None else dict(found.next_bead),
        chance=None if found.chance is None else finite(found.chance),
        words=[line.strip() for line in told(found, given.target, given.tolerance)],
    )


def _factors(turn: Mapping[str, Ends]) -> list[Factor]:
    return factors_from({name: (_end(name, ends.low), _end(name, ends.high)) for name, ends in turn.items()})


def _end(name: str, typed: Value) -> float:
    if name not in SETTINGS:
        raise RefusedError(f'"{name}" is no setting: see docs/terms.md for the ids')
    if isinstance(typed, str):
        return listed(typed, SETTINGS[name].unit, f"the end of {SETTINGS[name].label}").value
    return typed
