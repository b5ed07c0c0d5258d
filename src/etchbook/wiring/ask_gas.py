"""What the gas can and cannot do, for people who write Python: ``etchbook.ask.gas``.

Shares of CO2 are percent by volume, pressures are gauge pressures [bar], temperatures [°C], as they are read.
"""

from collections.abc import Sequence

from etchbook.usecases import gassing, parted
from etchbook.usecases.gassing import GasAnswer, GasLine, co2_share

__all__ = ["GasAnswer", "GasLine", "contents", "flow", "mixing", "regulator", "sound", "split"]


def split(*, co2: float, coldest: float, filled: float = 200.0, filled_at: float = 15.0) -> GasAnswer:
    """Whether argon with CO2 can come apart in its cylinder, by gravity or by cold, and what would be drawn off.

    Parameters
    ----------
    co2 : share of CO2 [%]
    coldest : coldest temperature that the cylinder has seen [°C]
    filled, filled_at : gauge pressure of the full cylinder [bar] and the temperature of that [°C]
    """
    return parted.can_part(co2_share(co2), filled, filled_at, coldest)


def mixing(
    *, co2: float, filled: float = 200.0, at: float = 20.0, days: Sequence[float] = (7, 14, 30, 60, 120)
) -> GasAnswer:
    """How long layers from filling last, upright and lying, and what rolling can and cannot do.

    Parameters
    ----------
    co2 : share of CO2 [%]
    filled, at : gauge pressure [bar] and temperature of the store [°C]
    days : since filling, to tell the gas at the valve for [d]
    """
    return parted.mixing(co2_share(co2), filled, at, tuple(days))


def contents(
    *, co2: float, litres: float, gauge: float, at: float, flow: float = 15.0, gauge_u: float | None = None
) -> GasAnswer:
    """How much gas is left, for how many hours, and what the gauge would show warmer or colder.

    Parameters
    ----------
    co2 : share of CO2 [%]
    litres : water capacity stamped on the cylinder [L]
    gauge, gauge_u : reading of the gauge and its standard uncertainty [bar]
    at : temperature of the cylinder [°C]
    flow : while the arc burns [L/min]
    """
    return gassing.cylinder_contents(co2_share(co2), litres, gauge, at, flow=flow, gauge_u=gauge_u)


def flow(
    *,
    co2: float,
    read: float,
    unit: str = "L/min",
    tube: str = "same",
    nozzle: float = 16.0,
    wind: float | None = None,
) -> GasAnswer:
    """What a flow tube's reading means, and whether the nozzle's flow may be turbulent.

    Parameters
    ----------
    co2 : share of CO2 [%]
    read, unit : as read, in L/min or cfh
    tube : gas the scale was made for: air, argon, co2 or same
    nozzle : inner diameter [mm]
    wind : at the arc [m/s]
    """
    return gassing.gas_flow(co2_share(co2), read, unit=unit, scale_for=tube, bore=nozzle, wind=wind)


def regulator(*, co2: float, gauge: float, at: float, flow: float = 15.0) -> GasAnswer:
    """Whether the regulator can frost up and make the flow hunt.

    Parameters
    ----------
    co2 : share of CO2 [%]
    gauge, at : reading of the cylinder gauge [bar] and temperature of the cylinder [°C]
    flow : while the arc burns [L/min]
    """
    return gassing.regulator_frost(co2_share(co2), gauge, at, flow)


def sound(
    *,
    co2: float,
    at: float = 20.0,
    tube: float = 250.0,
    tones: tuple[float, float] | None = None,
    u: float = 0.3,
) -> GasAnswer:
    """How a tube tells two gases apart, and what two tones say.

    Parameters
    ----------
    co2 : share of CO2 of the known gas [%]
    at : temperature of the tube [°C]
    tube : its length, closed at one end [mm]
    tones : with the known and with the suspect gas [Hz]; None to be told how to do it
    u : standard uncertainty of each tone [Hz]
    """
    return parted.sound_test(co2_share(co2), at, tube / 1000, heard=tones, u_hz=u)
