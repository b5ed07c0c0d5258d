"""What the gas can and cannot do, for people who write Python: ``etchbook.ask.gas``.

One second gas in argon: `co2`, `o2` or `he`, percent by volume. Pressures are gauge pressures [bar], temperatures [°C],
as they are read.
"""

from collections.abc import Sequence

from etchbook.gas.records import within
from etchbook.usecases import gassing, other_gas, parted
from etchbook.usecases.gassing import GasAnswer, GasLine, co2_share
from etchbook.usecases.other_gas import second_gas

__all__ = ["GasAnswer", "GasLine", "contents", "flow", "mixing", "regulator", "sound", "split"]


def split(
    *,
    coldest: float,
    co2: float | None = None,
    o2: float | None = None,
    he: float | None = None,
    filled: float = 200.0,
    filled_at: float = 15.0,
) -> GasAnswer:
    """Whether the mixture can come apart in its cylinder, by gravity or by cold, and what would be drawn off.

    Parameters
    ----------
    coldest : coldest temperature that the cylinder has seen [°C]
    co2, o2, he : share of the second gas in argon [%]; one of them
    filled, filled_at : gauge pressure of the full cylinder [bar] and the temperature of that [°C]
    """
    other = second_gas(co2, o2, he)
    if other is not None:
        return other_gas.can_part(other, coldest)
    return parted.can_part(co2_share(co2 or 0.0), filled, filled_at, coldest)


def mixing(
    *,
    co2: float | None = None,
    o2: float | None = None,
    he: float | None = None,
    filled: float = 200.0,
    at: float = 20.0,
    days: Sequence[float] = (7, 14, 30, 60, 120),
) -> GasAnswer:
    """How long layers from filling last, upright and lying, and what rolling can and cannot do.

    Parameters
    ----------
    co2, o2, he : share of the second gas in argon [%]; one of them
    filled, at : gauge pressure [bar] and temperature of the store [°C]
    days : since filling, to tell the gas at the valve for [d]; with CO2
    """
    other = second_gas(co2, o2, he)
    if other is not None:
        return other_gas.mixing(other, filled, at)
    for day in days:
        within("the time since filling", day, 0.0, 100_000.0, "days")
    return parted.mixing(co2_share(co2 or 0.0), filled, at, tuple(days))


def contents(
    *,
    litres: float,
    gauge: float,
    at: float,
    co2: float | None = None,
    o2: float | None = None,
    he: float | None = None,
    flow: float = 15.0,
    gauge_u: float | None = None,
) -> GasAnswer:
    """How much gas is left, for how many hours, and what the gauge would show warmer or colder.

    Parameters
    ----------
    litres : water capacity stamped on the cylinder [L]
    gauge, gauge_u : reading of the gauge and its standard uncertainty [bar]
    at : temperature of the cylinder [°C]
    co2, o2, he : share of the second gas in argon [%]; one of them
    flow : while the arc burns [L/min]
    """
    other = second_gas(co2, o2, he)
    if gauge_u is not None:
        within("the uncertainty of the gauge", gauge_u, 0.0, 100.0, "bar")
    if other is not None:
        return other_gas.cylinder_contents(other, litres, gauge, at, flow=flow, gauge_u=gauge_u)
    return gassing.cylinder_contents(co2_share(co2 or 0.0), litres, gauge, at, flow=flow, gauge_u=gauge_u)


def flow(
    *,
    read: float,
    co2: float | None = None,
    o2: float | None = None,
    he: float | None = None,
    unit: str = "L/min",
    tube: str = "same",
    nozzle: float = 16.0,
    wind: float | None = None,
) -> GasAnswer:
    """What a flow tube's reading means, and whether the nozzle's flow may be turbulent.

    Parameters
    ----------
    read, unit : as read, in L/min or cfh
    co2, o2, he : share of the second gas in argon [%]; one of them
    tube : gas the scale was made for: air, argon, co2 or same
    nozzle : inner diameter [mm]
    wind : at the arc [m/s]
    """
    other = second_gas(co2, o2, he)
    if wind is not None:
        within("the wind", wind, 0.0, 100.0, "m/s")
    if other is not None:
        return other_gas.gas_flow(other, read, unit=unit, scale_for=tube, bore=nozzle, wind=wind)
    return gassing.gas_flow(co2_share(co2 or 0.0), read, unit=unit, scale_for=tube, bore=nozzle, wind=wind)


def regulator(
    *,
    gauge: float,
    at: float,
    co2: float | None = None,
    o2: float | None = None,
    he: float | None = None,
    flow: float = 15.0,
) -> GasAnswer:
    """Whether the regulator can frost up and make the flow hunt.

    Parameters
    ----------
    gauge, at : reading of the cylinder gauge [bar] and temperature of the cylinder [°C]
    co2, o2, he : share of the second gas in argon [%]; one of them
    flow : while the arc burns [L/min]
    """
    other = second_gas(co2, o2, he)
    within("the flow", flow, 0.1, 200.0, "L/min")
    within("the gauge", gauge, 0.0, 320.0, "bar")
    within("the temperature", at, -80.0, 100.0, "°C")
    if other is not None:
        return other_gas.regulator_frost(other, gauge, at)
    return gassing.regulator_frost(co2_share(co2 or 0.0), gauge, at, flow)


def sound(
    *,
    co2: float | None = None,
    o2: float | None = None,
    he: float | None = None,
    at: float = 20.0,
    tube: float = 250.0,
    tones: tuple[float, float] | None = None,
    u: float = 0.3,
) -> GasAnswer:
    """How a tube tells two gases apart, and what two tones say.

    Parameters
    ----------
    co2, o2, he : share of the second gas in the known mixture [%]; one of them
    at : temperature of the tube [°C]
    tube : its length, closed at one end [mm]
    tones : with the known and with the suspect gas [Hz]; None to be told how to do it
    u : standard uncertainty of each tone [Hz]
    """
    other = second_gas(co2, o2, he)
    within("the uncertainty of a tone", u, 0.0, 100.0, "Hz")
    for tone in tones or ():
        within("a tone", tone, 1.0, 100_000.0, "Hz")
    if other is not None:
        return other_gas.sound_test(other, at, tube / 1000, heard=tones, u_hz=u)
    return parted.sound_test(co2_share(co2 or 0.0), at, tube / 1000, heard=tones, u_hz=u)
