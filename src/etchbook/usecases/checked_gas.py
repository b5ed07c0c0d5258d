"""Checked functions of the gas room."""

from collections.abc import Callable, Mapping
from typing import cast

import numpy as np
from scipy.interpolate import CubicSpline

from etchbook.gas import (
    Filling,
    boundary,
    compressibility,
    contents,
    dew_pressure,
    draw_off,
    gravity_difference,
    hours_left,
    layered_top,
    mass_density,
    mixing_time,
    parting,
    reynolds,
    sound_speed,
    tube_factor,
)
from etchbook.gas.boundary import at_temperature
from etchbook.gas.flow import TubeState, gas_factor, litres_per_minute
from etchbook.gas.mixing import diffusion, fuller
from etchbook.gas.mixtures import Mixture, no_liquid_above
from etchbook.gas.mixtures import compressibility as other_z
from etchbook.gas.mixtures import contents as other_contents
from etchbook.gas.mixtures import diffusion as diffusion_of
from etchbook.gas.mixtures import gravity_difference as other_gravity
from etchbook.gas.mixtures import sound_speed as other_sound
from etchbook.gas.mixtures import throttled as other_throttled
from etchbook.gas.regulator import sublimation, throttled
from etchbook.quantity import Measured, Quantity

Answer = float | str


def _value(found: Quantity) -> float:
    return cast(Measured, found).value


def _contents(co2: float, litres: float, gauge: float, t_c: float) -> tuple[Quantity, Quantity]:
    exact = Measured(value=gauge, u=0.0, unit="bar"), Measured(value=t_c, u=0.0, unit="°C")
    return contents(co2, litres, *exact)


def _hours(flow: float, **cylinder: float) -> float:
    return _value(hours_left(_contents(**cylinder)[0], flow))


def _side(part: str, t_c: float, bar: float) -> float:
    """CO2 of one phase at a pressure of the isotherm."""
    sheet = at_temperature(t_c)
    known = np.isfinite(sheet.bar)
    return float(CubicSpline(sheet.bar[known], getattr(sheet, part)[known])(bar))


def _tube(read: float, scale: Mapping[str, float], actual: Mapping[str, float]) -> float:
    return read * tube_factor(TubeState(**scale), TubeState(**actual))


def _drawn(co2: float, filled: float, held: float, withdrawn: float) -> float:
    course = draw_off(Filling(co2=co2, bar=filled, t_c=15.0), held)
    return min(course, key=lambda moment: abs(moment.withdrawn - withdrawn)).co2


def _mix(second: str, share: float) -> Mixture:
    return Mixture(second="o2" if second == "o2" else "he", share=share)


def _other_volume(second: str, share: float, litres: float, gauge: float, t_c: float) -> float:
    exact = Measured(value=gauge, u=0.0, unit="bar"), Measured(value=t_c, u=0.0, unit="°C")
    return _value(other_contents(_mix(second, share), litres, *exact)[0])


CHECKED_GAS: dict[str, Callable[..., Answer]] = {
    "gas_boundary": lambda co2: _value(boundary(co2)),
    "gas_cfh": litres_per_minute,
    "gas_density": lambda **state: _value(mass_density(**state, method="table")),
    "gas_dew": lambda co2, t_c: _value(dew_pressure(co2, t_c)),
    "gas_diffusion": lambda t_c, bar: diffusion(t_c, bar).value,
    "gas_drawn": _drawn,
    "gas_factor": lambda scale, co2: gas_factor(scale, co2),
    "gas_fuller": fuller,
    "gas_gravity": lambda **state: _value(gravity_difference(**state)),
    "gas_hours": _hours,
    "gas_layered": lambda co2, days, tau: layered_top(co2, days, tau),
    "gas_liquid_at": lambda t_c, bar: _side("liquid", t_c, bar),
    "gas_mass": lambda **cylinder: _value(_contents(**cylinder)[1]),
    "gas_mixing_time": lambda height_m, t_c, bar: mixing_time(height_m, t_c, bar).value,
    "gas_other_diffusion": lambda second, share, **state: diffusion_of(_mix(second, share), **state).value,
    "gas_other_gravity": lambda second, share, **column: other_gravity(_mix(second, share), **column),
    "gas_other_liquid": lambda second, share: no_liquid_above(_mix(second, share)).value,
    "gas_other_sound": lambda second, share, t_c: other_sound(_mix(second, share), t_c).value,
    "gas_other_throttled": lambda second, share, **state: _value(other_throttled(_mix(second, share), **state)),
    "gas_other_volume": _other_volume,
    "gas_other_z": lambda second, share, **state: _value(other_z(_mix(second, share), **state, method="table")),
    "gas_reynolds": lambda co2, flow, bore: reynolds(co2, flow, bore),
    "gas_sound": lambda co2, t_c: sound_speed(co2, t_c).value,
    "gas_sublimation": sublimation,
    "gas_throttled": lambda co2, t_c, bar: _value(throttled(co2, t_c, bar)),
    "gas_tube": _tube,
    "gas_vapour_at": lambda t_c, bar: _side("vapour", t_c, bar),
    "gas_verdict": lambda co2, filled, coldest: parting(Filling(co2=co2, bar=filled, t_c=15.0), coldest).answer,
    "gas_volume": lambda **cylinder: _value(_contents(**cylinder)[0]),
    "gas_z": lambda **state: _value(compressibility(**state, method="table")),
}
