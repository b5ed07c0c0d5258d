"""Any one formula of the house, by name."""

import difflib
from collections.abc import Mapping

from etchbook.procedure import Figure
from etchbook.procedure.entered import FORMULAS
from etchbook.procedure.formulas import Formula, Traced, described, figure, inputs_of, reckon, unit_said
from etchbook.usecases.errors import RefusedError


def formula_named(name: str) -> Formula:
    """A formula of the register that takes plain numbers, or a refusal that names what is near."""
    held = FORMULAS.get(name.strip().replace("-", "_"))
    if held is None or not inputs_of(held):
        near = difflib.get_close_matches(name, [one.id for one in formulas()], n=3)
        hint = f"did you mean {' or '.join(near)}" if near else "`etchbook reckon` lists them"
        raise RefusedError(f'"{name}" is no formula; {hint}')
    return held


def formulas() -> tuple[Formula, ...]:
    """Every formula that takes plain numbers, in the order of the sheet."""
    return tuple(one for one in FORMULAS.values() if inputs_of(one))


def input_units(held: Formula) -> Mapping[str, str]:
    """Unit of each argument of a formula; "" where it has none."""
    words = described(held)
    return {name: unit_said(words.get(name, "")) for name in inputs_of(held)}


def reckoned(held: Formula, given: Mapping[str, tuple[float, float]]) -> Figure:
    """One formula at these values with their standard uncertainties.

    Parameters
    ----------
    held : the formula
    given : value and u of each argument, in the unit of `input_units`
    """
    wanted = inputs_of(held)
    strange = [name for name in given if name not in wanted]
    if strange:
        raise RefusedError(f"{held.id} does not take {strange[0]}; it takes {', '.join(wanted)}")
    lacking = [name for name in wanted if name not in given]
    if lacking:
        raise RefusedError(f"{held.id} also needs {', '.join(lacking)}")
    inputs = {name: Traced(value=value, parts={name: u} if u else {}) for name, (value, u) in given.items()}
    return figure(held.id, reckon(held.id, **inputs))
