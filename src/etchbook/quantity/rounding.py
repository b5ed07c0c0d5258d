"""How a value with its uncertainty is printed."""

import math

from etchbook.quantity.coverage import expanded
from etchbook.quantity.measured import Absent, Measured, Quantity


def rounded(measured: Measured, level: float = 0.95) -> tuple[str, str]:
    """The value and its expanded uncertainty as text with the same last place.

    U keeps two significant digits when it starts with 1 or 2, otherwise one; it is
    rounded up, so that print never claims more than was found.

    Source: JCGM 100:2008 (GUM), 7.2.6.
    """
    uncertainty = expanded(measured, level)
    places = _places(uncertainty)
    step = 10.0**-places
    up = math.ceil(uncertainty / step - 1e-9) * step if uncertainty > 0 else 0.0
    digits = max(places, 0)
    value = round(measured.value, places)
    return f"{value + 0.0:.{digits}f}", f"{up:.{digits}f}"


def spoken(quantity: Quantity, level: float = 0.95) -> str:
    """One plain phrase: ``5.32 ± 0.08 mm``, or the reason why there is none."""
    if isinstance(quantity, Absent):
        return f"not read: {quantity.reason}"
    value, uncertainty = rounded(quantity, level)
    unit = quantity.unit if quantity.unit in ("", "°") else f" {quantity.unit}"
    return f"{value} ± {uncertainty}{unit}"


def _places(uncertainty: float) -> int:
    if uncertainty <= 0:
        return 3
    exponent = math.floor(math.log10(uncertainty) + 1e-12)
    leading = uncertainty / 10.0**exponent
    return 1 - exponent if leading < 3 - 1e-9 else -exponent
