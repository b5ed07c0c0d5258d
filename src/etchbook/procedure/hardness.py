"""How hard the heat-affected zone becomes: three estimates, each with its scatter."""

import math

from etchbook.procedure.formulas import Range, published
from etchbook.procedure.records import ProcedureError

SCATTER = 30.0
"""Standard deviation of such estimates [HV]; the best hybrid of a study of over 300 points had 28 HV (seen)."""

TIMES = (Range(name="t85", least=1, most=100, unit="s"),)


def _positive(t85: float) -> None:
    if t85 <= 0:
        raise ProcedureError(f"a cooling time of {t85:g} s is none: give one above zero")


@published("HAZ hardness, Düren", "HV", "Düren (Lorenz and Düren)", "from memory", valid=TIMES, scatter=SCATTER)
def haz_hardness_duren(
    C: float, Si: float, Mn: float, Cu: float, Cr: float, Ni: float, Mo: float, V: float, t85: float
) -> float:
    """HAZ hardness for a mixed structure, 2019 [C (1 - 0.5 lg t) + 0.3 X] + 66 (1 - 0.8 lg t), never above martensite.

    Parameters
    ----------
    C, Si, Mn, Cu, Cr, Ni, Mo, V : [% by mass]; X = Si/11 + Mn/8 + Cu/9 + Cr/5 + Ni/17 + Mo/6 + V/3
    t85 : cooling time t8/5 [s]

    Returns
    -------
    [HV10]
        An estimate: u is the formula's own scatter of about 30 HV. Bounded by martensite, 802 C + 305, and by
        bainite, 350 (C + X) + 101.
    """
    _positive(t85)
    x = Si / 11 + Mn / 8 + Cu / 9 + Cr / 5 + Ni / 17 + Mo / 6 + V / 3
    slow = math.log10(t85)
    mixed = 2019 * (C * (1 - 0.5 * slow) + 0.3 * x) + 66 * (1 - 0.8 * slow)
    return min(max(mixed, 350 * (C + x) + 101), 802 * C + 305)


@published("HAZ hardness, Yurioka", "HV", "Yurioka 1987", "from memory", valid=TIMES, scatter=SCATTER)
def haz_hardness_yurioka(
    C: float, Si: float, Mn: float, Cu: float, Ni: float, Cr: float, Mo: float, V: float, Nb: float, t85: float
) -> float:
    """HAZ hardness between martensite and bainite along an arctangent of lg t8/5.

    Parameters
    ----------
    C, Si, Mn, Cu, Ni, Cr, Mo, V, Nb : [% by mass]
    t85 : cooling time t8/5 [s]

    Returns
    -------
    [HV10]
        An estimate: u is the formula's own scatter of about 30 HV.
    """
    _positive(t85)
    one = C + Si / 24 + Mn / 6 + Cu / 15 + Ni / 12 + Cr * (1 - 0.16 * math.sqrt(max(Cr, 0.0))) / 8 + Mo / 4
    two = C + Si / 24 + Mn / 5 + Cu / 10 + Ni / 18 + Cr / 5 + Mo / 2.5 + V / 5 + Nb / 3
    three = C + Mn / 3.6 + Cu / 20 + Ni / 9 + Cr / 5 + Mo / 4
    hard = martensite_hardness_yurioka(C)
    soft = 145 + 130 * math.tanh(2.65 * two - 0.69)
    first, last = 10.6 * one - 4.8, 6.2 * three + 0.74
    if last <= first:
        raise ProcedureError("this composition lies outside what the formula was made for")
    turn = math.atan(4 * (math.log(t85) - first) / (last - first) - 2)
    return (hard + soft) / 2 - (hard - soft) / 2.2 * turn


@published("HAZ hardness, Beckert and Holz", "HV", "Beckert and Holz", "from memory", scatter=SCATTER)
def haz_hardness_beckert(C: float, Si: float, Mn: float, Ni: float, Cr: float) -> float:
    """Highest HAZ hardness from the composition alone, 90 + 1050 C + 47 Si + 75 Mn + 30 Ni + 31 Cr.

    Parameters
    ----------
    C, Si, Mn, Ni, Cr : [% by mass]

    Returns
    -------
    [HV10]
        An estimate that knows nothing of the cooling time.
    """
    return 90 + 1050 * C + 47 * Si + 75 * Mn + 30 * Ni + 31 * Cr


@published("martensite hardness", "HV", "Düren (Lorenz and Düren)", "from memory", scatter=SCATTER)
def martensite_hardness(C: float) -> float:
    """Hardness of martensite, 802 C + 305.

    Parameters
    ----------
    C : [% by mass]

    Returns
    -------
    [HV10]
    """
    return 802 * C + 305


@published("martensite hardness, Yurioka", "HV", "Yurioka 1987", "from memory", scatter=SCATTER)
def martensite_hardness_yurioka(C: float) -> float:
    """Hardness of martensite, 884 C (1 - 0.3 C²) + 294.

    Parameters
    ----------
    C : [% by mass]

    Returns
    -------
    [HV10]
    """
    return 884 * C * (1 - 0.3 * C**2) + 294
