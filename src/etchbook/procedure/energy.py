"""Arc energy and heat input: how much heat goes into a millimetre of bead, by both conventions."""

from etchbook.procedure.formulas import published

TR = "ISO/TR 17671-1, arc energy and thermal efficiency k"


@published("travel speed", "mm/s", "length over time", "reckoned")
def travel_speed(bead_length: float, arc_time: float) -> float:
    """Travel speed from the length of a bead and the time the arc burned.

    Parameters
    ----------
    bead_length : [mm]
    arc_time : [s]

    Returns
    -------
    [mm/s]
    """
    return bead_length / arc_time


@published("arc energy", "kJ/mm", f"{TR}; AWS and ASME call this heat input", "seen")
def arc_energy(volts: float, amps: float, travel: float) -> float:
    """Arc energy AE = U I / v, without any efficiency.

    Parameters
    ----------
    volts : arc voltage U [V]
    amps : current I [A]
    travel : travel speed v [mm/s]

    Returns
    -------
    [kJ/mm]
        From mean volts and mean amps; a pulsed or short-circuiting arc can differ from its instantaneous power.
    """
    return volts * amps / (1000 * travel)


@published("arc energy, instantaneous power", "kJ/mm", "ISO/TR 18491 and ASME IX QW-409.1, power form", "from memory")
def power_energy(power: float, travel: float) -> float:
    """Arc energy from the mean of the instantaneous power.

    Parameters
    ----------
    power : mean of volts times amps, sample by sample [W]
    travel : [mm/s]

    Returns
    -------
    [kJ/mm]
    """
    return power / (1000 * travel)


@published("arc energy, instantaneous energy", "kJ/mm", "ISO/TR 18491 and ASME IX QW-409.1, energy form", "from memory")
def summed_energy(energy: float, bead_length: float) -> float:
    """Arc energy from the instantaneous energy summed over a bead.

    Parameters
    ----------
    energy : sum over the whole bead [J]
    bead_length : [mm]

    Returns
    -------
    [kJ/mm]
    """
    return energy / (1000 * bead_length)


@published("heat input", "kJ/mm", f"{TR}; EN 1011-1", "seen")
def heat_input(arc_energy: float, k: float) -> float:
    """Heat input Q = k AE, with the convention's efficiency of the process.

    Parameters
    ----------
    arc_energy : AE [kJ/mm]
    k : thermal efficiency of the process, a convention: 1.0, 0.8 or 0.6

    Returns
    -------
    [kJ/mm]
    """
    return k * arc_energy


@published("heat into the plate", "W", f"{TR}, k taken as the share of the arc's power", "reckoned")
def heat_rate(heat_input: float, travel: float) -> float:
    """Heat that flows into the plate while the arc burns.

    Parameters
    ----------
    heat_input : [kJ/mm]
    travel : [mm/s]

    Returns
    -------
    [W]
    """
    return 1000 * heat_input * travel
