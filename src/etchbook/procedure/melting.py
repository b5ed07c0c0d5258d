"""The melting balance: amps from feed and stick-out, and back; where the volts go on the way to the arc."""

import math
from collections.abc import Sequence

import numpy as np

from etchbook.procedure.formulas import Range, published
from etchbook.procedure.records import ProcedureError
from etchbook.procedure.wire import wire_area

ANODE, JOULE, REFERENCE = 0.3, 5e-5, 1.2
"""α [mm/(A·s)] and β [1/(A²·s)] for this wire diameter [mm], plain carbon steel (Norrish, from memory)."""

SHARE = 0.06
"""Standard uncertainty of a current reckoned this way, as a share (judged: the constants are from memory)."""

NORRISH = "melting balance w = αI + βLI² (Lesnewich 1958; constants Norrish, 1.2 mm carbon steel, scaled by area)"
WINDOW = (Range(name="wire", least=0.8, most=1.6, unit="mm"), Range(name="stick_out", least=5, most=30, unit="mm"))
HOT, COPPER = 0.8e-3, 1.78e-5
"""Resistivity of steel wire, mean when hot, and of warm copper [Ω·mm]."""


def _constants(wire: float) -> tuple[float, float]:
    ratio = wire_area(REFERENCE) / wire_area(wire)
    return ANODE * ratio, JOULE * ratio**2


@published("amps from feed and stick-out", "A", NORRISH, "from memory", valid=WINDOW, share=SHARE)
def amps_from_feed(feed: float, wire: float, stick_out: float) -> float:
    """Current that melts the wire as fast as it is fed.

    Parameters
    ----------
    feed : wire feed [m/min]
    wire : [mm]
    stick_out : wire from contact tip to arc L [mm]

    Returns
    -------
    [A]
        For solid carbon steel wire. Fit your own constants with `fit_melting` where you have a log of amps and feed.
    """
    alpha, beta = _constants(wire)
    speed = feed * 1000 / 60
    return (-alpha + math.sqrt(alpha**2 + 4 * beta * stick_out * speed)) / (2 * beta * stick_out)


@published("feed from amps and stick-out", "m/min", NORRISH, "from memory", valid=WINDOW, share=SHARE)
def feed_from_amps(amps: float, wire: float, stick_out: float) -> float:
    """Wire feed that a current melts.

    Parameters
    ----------
    amps : [A]
    wire : [mm]
    stick_out : [mm]

    Returns
    -------
    [m/min]
    """
    alpha, beta = _constants(wire)
    return (alpha * amps + beta * stick_out * amps**2) * 60 / 1000


@published("stick-out from amps and feed", "mm", NORRISH, "from memory", valid=WINDOW[:1])
def stick_out_from_amps(amps: float, feed: float, wire: float) -> float:
    """Stick-out at which this feed takes this current.

    Parameters
    ----------
    amps : [A]
    feed : [m/min]
    wire : [mm]

    Returns
    -------
    [mm]
        Changes of stick-out are read better than its absolute length: the constants are only roughly known.
    """
    alpha, beta = _constants(wire)
    length = (feed * 1000 / 60 - alpha * amps) / (beta * amps**2)
    if length <= 0:
        raise ProcedureError(f"{amps:.4g} A is more than {feed:.3g} m/min of this wire can take at any stick-out")
    return length


@published("volts lost in the stick-out", "V", "Ohm's law, hot wire 0.8 µΩ·m on average", "from memory")
def stick_out_drop(amps: float, stick_out: float, wire: float) -> float:
    """Voltage drop along the wire between contact tip and arc.

    Parameters
    ----------
    amps : [A]
    stick_out : [mm]
    wire : [mm]

    Returns
    -------
    [V]
    """
    return amps * HOT * stick_out / wire_area(wire)


@published("volts lost in the cables", "V", "Ohm's law, copper 0.0178 µΩ·m", "from memory")
def cable_drop(amps: float, cable_length: float, cable_area: float) -> float:
    """Voltage drop along copper welding cables.

    Parameters
    ----------
    amps : [A]
    cable_length : out and back together [m]
    cable_area : copper section [mm²]

    Returns
    -------
    [V]
    """
    return amps * COPPER * cable_length * 1000 / cable_area


@published("volts lost in a contact", "V", "Ohm's law", "reckoned")
def contact_drop(amps: float, resistance: float) -> float:
    """Voltage drop across a clamp or joint.

    Parameters
    ----------
    amps : [A]
    resistance : [mΩ]

    Returns
    -------
    [V]
    """
    return amps * resistance / 1000


def fit_melting(feed: Sequence[float], amps: Sequence[float], stick_out: Sequence[float]) -> tuple[float, float]:
    """Melting constants of your own wire from a log, by least squares.

    Parameters
    ----------
    feed : (n,) [m/min]
    amps : (n,) [A]
    stick_out : (n,) [mm]

    Returns
    -------
    (α [mm/(A·s)], β [1/(A²·s)])

    Source: w = αI + βLI², linear in α and β; ordinary least squares.
    """
    current, length = np.asarray(amps, float), np.asarray(stick_out, float)
    if not (len(feed) == len(current) == len(length) >= 3):
        raise ProcedureError("fitting the melting balance needs three or more readings of feed, amps and stick-out")
    design = np.stack([current, length * current**2], axis=1)
    found, _, rank, _ = np.linalg.lstsq(design, np.asarray(feed, float) * 1000 / 60, rcond=None)
    if rank < 2:
        raise ProcedureError("the readings are all alike: log the amps at feeds or stick-outs that differ")
    return float(found[0]), float(found[1])
