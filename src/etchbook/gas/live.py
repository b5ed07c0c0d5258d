"""The thermodynamics library itself, where the optional extra `gas` is installed."""

from functools import cache
from importlib.util import find_spec
from typing import Any

from etchbook.gas.records import KELVIN, R


@cache
def available() -> bool:
    """Whether the library can be asked."""
    return find_spec("CoolProp") is not None


def live_z(co2: float, t_c: float, bar: float) -> float:
    """Compressibility from the library, for a state that is known to be one phase.

    Source: CoolProp, HEOS mixture model (EOS-CG for argon with CO2).
    """
    from scipy.optimize import brentq

    state = _state(co2)
    kelvin, pascal = t_c + KELVIN, bar * 1e5
    ideal = pascal / (R * kelvin)

    def excess(density: float) -> float:
        from CoolProp import DmolarT_INPUTS

        state.update(DmolarT_INPUTS, density, kelvin)
        return float(state.p()) - pascal

    # The library's own search for a density fails for some dense mixtures, so the density is searched here.
    highest = next(step * ideal for step in (1.02, 1.2, 1.5, 2.0, 2.5, 3.5) if excess(step * ideal) > 0)
    return float(ideal / brentq(excess, 0.3 * ideal, highest, rtol=1e-12))


def _state(co2: float) -> Any:
    from CoolProp import AbstractState, iphase_gas  # type: ignore[attr-defined,unused-ignore]

    if co2 == 0:
        state = AbstractState("HEOS", "Argon")
    else:
        state = AbstractState("HEOS", "Argon&CO2")
        state.set_mole_fractions([1 - co2, co2])
    state.specify_phase(iphase_gas)
    return state
