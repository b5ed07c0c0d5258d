"""The thermodynamics library itself, where the optional extra `gas` is installed."""

from functools import cache
from importlib.util import find_spec
from typing import Any

from etchbook.gas.records import KELVIN, R


@cache
def available() -> bool:
    """Whether the library can be asked."""
    return find_spec("CoolProp") is not None


def live_z(share: float, t_c: float, bar: float, second: str = "CO2") -> float:
    """Compressibility from the library, for a state that is known to be one phase.

    Parameters
    ----------
    share : of the second gas, 0 to 1
    t_c, bar : temperature [°C] and absolute pressure [bar]
    second : CO2, Oxygen or Helium

    Source: CoolProp, HEOS mixture model (EOS-CG for argon with CO2, GERG-2008 with O2 or helium).
    """
    from scipy.optimize import brentq

    state = _state(share, second)
    kelvin, pascal = t_c + KELVIN, bar * 1e5
    ideal = pascal / (R * kelvin)

    def excess(density: float) -> float:
        from CoolProp import DmolarT_INPUTS

        state.update(DmolarT_INPUTS, density, kelvin)
        return float(state.p()) - pascal

    # The library's own search for a density fails for some dense mixtures, so the density is searched here.
    highest = next(step * ideal for step in (1.02, 1.2, 1.5, 2.0, 2.5, 3.5) if excess(step * ideal) > 0)
    return float(ideal / brentq(excess, 0.3 * ideal, highest, rtol=1e-12))


def _state(share: float, second: str) -> Any:
    from CoolProp import AbstractState, iphase_gas  # type: ignore[attr-defined,unused-ignore]

    if share in (0, 1):
        state = AbstractState("HEOS", second if share else "Argon")
    else:
        state = AbstractState("HEOS", f"Argon&{second}")
        state.set_mole_fractions([1 - share, share])
    state.specify_phase(iphase_gas)
    return state
