"""Telling two gases apart by their sound, with a tube and a phone."""

import math

from scipy.optimize import brentq

from etchbook.gas.constants import constant, grid, lagrange
from etchbook.gas.records import GasError, share, within
from etchbook.quantity import Measured


def sound_speed(co2: float, t_c: float = 20.0) -> Measured:
    """Speed of sound in argon with CO2 at one atmosphere [m/s].

    Parameters
    ----------
    co2 : share of CO2, 0 to 1
    t_c : temperature [°C], −10 to 40

    Source: EOS-CG through CoolProp (packaged table); measured values lie within 0.64 % (seen).
    """
    within("the temperature", t_c, -10.0, 40.0, "°C")
    value = _speed(share(co2), t_c)
    return Measured(value=value, u=value * constant("accuracy", "sound_share") / 3**0.5, unit="m/s")


def _speed(co2: float, t_c: float) -> float:
    held = grid("sound", "m_per_s")
    return float(lagrange(held.t_c, lagrange(held.co2, held.values, co2), t_c))


def tube_tone(co2: float, length_m: float, t_c: float = 20.0, *, bore_mm: float = 0.0) -> float:
    """Lowest tone of a tube closed at one end [Hz].

    Source: f = c / (4 (L + 0.3 d)), end correction 0.6 of the radius of an unflanged mouth (from memory).
    """
    within("the tube's length", length_m, 0.02, 5.0, "m")
    return _speed(co2, t_c) / (4 * (length_m + 0.3 * bore_mm / 1000))


def compared(known_co2: float, known_hz: Measured, other_hz: Measured, t_c: Measured) -> Measured:
    """Share of CO2 of a suspect gas from its tone beside that of a known gas in the same tube.

    Parameters
    ----------
    known_co2 : share of CO2 of the known gas
    known_hz, other_hz : tones [Hz], each with the scatter of its repeats
    t_c : temperature of the tube [°C]; u is how far it may have moved between the two gases

    Returns
    -------
    Measured
        Share of CO2, 0 to 1; u covers both tones and the drift of the temperature.

    Source: c_other / c_known = f_other / f_known; the tube's length and end correction cancel.
    """
    within("the temperature", t_c.value, -10.0, 40.0, "°C")
    if min(known_hz.value, other_hz.value) <= 0:
        raise GasError("a tone is above 0 Hz")
    wanted = _speed(share(known_co2), t_c.value) * other_hz.value / known_hz.value
    low, high = _speed(1.0, t_c.value), _speed(0.0, t_c.value)
    if not low <= wanted <= high:
        raise GasError(
            f"the ratio of the tones, {other_hz.value / known_hz.value:.4f}, is that of no argon with CO2 "
            f"beside {100 * known_co2:g} % CO2: look for air in the tube, or another gas"
        )
    found = float(brentq(lambda co2: _speed(co2, t_c.value) - wanted, 0.0, 1.0))
    relative = math.hypot(known_hz.u / known_hz.value, other_hz.u / other_hz.value, 0.0017 * t_c.u)
    return Measured(value=found, u=relative * wanted / _slope(found, t_c.value), unit="")


def _slope(co2: float, t_c: float) -> float:
    """How fast sound slows with the share of CO2 [m/s per unit of share]."""
    low, high = max(co2 - 0.01, 0.0), min(co2 + 0.01, 1.0)
    return (_speed(low, t_c) - _speed(high, t_c)) / (high - low)
