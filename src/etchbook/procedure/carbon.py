"""Carbon equivalents and preheat."""

import math

from etchbook.procedure.formulas import Range, published

LX = "published worked exercise set"
ALLOY = (
    Range(name="C", least=0.05, most=0.32, unit="%"),
    Range(name="Mn", least=0.5, most=1.9, unit="%"),
    Range(name="Cr", least=0, most=1.5, unit="%"),
    Range(name="Cu", least=0, most=0.7, unit="%"),
    Range(name="Mo", least=0, most=0.75, unit="%"),
    Range(name="Ni", least=0, most=2.5, unit="%"),
)
METHOD_B = (
    Range(name="cet", least=0.2, most=0.5, unit="%"),
    Range(name="thickness", least=10, most=90, unit="mm"),
    Range(name="hydrogen", least=1, most=20, unit="ml/100 g"),
    Range(name="heat_input", least=0.5, most=4.0, unit="kJ/mm"),
)


@published("carbon equivalent CE(IIW)", "%", f"IIW; EN 1011-2 Annex C method A ({LX})", "seen")
def ce_iiw(C: float, Mn: float, Cr: float, Mo: float, V: float, Ni: float, Cu: float) -> float:
    """Carbon equivalent CE = C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15.

    Parameters
    ----------
    C, Mn, Cr, Mo, V, Ni, Cu : [% by mass]

    Returns
    -------
    [% by mass]
    """
    return C + Mn / 6 + (Cr + Mo + V) / 5 + (Ni + Cu) / 15


@published("carbon equivalent CET", "%", f"EN 1011-2 Annex C method B ({LX})", "seen", valid=ALLOY)
def cet(C: float, Mn: float, Mo: float, Cr: float, Cu: float, Ni: float) -> float:
    """Carbon equivalent CET = C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40.

    Parameters
    ----------
    C, Mn, Mo, Cr, Cu, Ni : [% by mass]

    Returns
    -------
    [% by mass]
    """
    return C + (Mn + Mo) / 10 + (Cr + Cu) / 20 + Ni / 40


@published("carbon equivalent Pcm", "%", "Ito and Bessyo, public transcriptions", "seen")
def pcm(C: float, Si: float, Mn: float, Cu: float, Cr: float, Ni: float, Mo: float, V: float, B: float) -> float:
    """Carbon equivalent Pcm = C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5B.

    Parameters
    ----------
    C, Si, Mn, Cu, Cr, Ni, Mo, V, B : [% by mass]

    Returns
    -------
    [% by mass]
    """
    return C + Si / 30 + (Mn + Cu + Cr) / 20 + Ni / 60 + Mo / 15 + V / 10 + 5 * B


def _method_b(
    constants: tuple[float, float], cet: float, thickness: float, hydrogen: float, heat_input: float
) -> float:
    of_cet, end = constants
    plate = 160 * math.tanh(thickness / 35)
    return of_cet * cet + plate + 62 * math.pow(hydrogen, 0.35) + (53 * cet - 32) * heat_input + end


@published(
    "preheat, method B (697 CET … − 328)",
    "°C",
    "EN 1011-2:2001 Annex C.3, public transcription of the formula; its ranges from memory",
    "seen",
    valid=METHOD_B,
)
def preheat_b(cet: float, thickness: float, hydrogen: float, heat_input: float) -> float:
    """Lowest preheat by method B, in the form 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328.

    Parameters
    ----------
    cet : CET [% by mass]
    thickness : plate thickness d [mm]
    hydrogen : diffusible hydrogen HD [ml/100 g]
    heat_input : Q [kJ/mm]

    Returns
    -------
    [°C]
        At or below the plate's own temperature no preheat is called for by this method.
    """
    return _method_b((697, -328), cet, thickness, hydrogen, heat_input)


@published("preheat, method B in the older form (700 CET … − 330)", "°C", f"SEW 088 ({LX})", "seen", valid=METHOD_B)
def preheat_b_older(cet: float, thickness: float, hydrogen: float, heat_input: float) -> float:
    """Lowest preheat temperature in the older rounding, 700 CET ... - 330.

    Parameters
    ----------
    cet : [% by mass]
    thickness : [mm]
    hydrogen : [ml/100 g]
    heat_input : [kJ/mm]

    Returns
    -------
    [°C]
    """
    return _method_b((700, -330), cet, thickness, hydrogen, heat_input)
