"""The other system of units beside ours, for print. Exact factors; the numbers inside stay as they are."""

from etchbook.quantity import Absent, Measured, Quantity

INCH, POUND, FOOT = 25.4, 0.45359237, 304.8

_OTHER: dict[str, tuple[str, float]] = {
    "mm": ("in", 1 / INCH),
    "mm²": ("in²", 1 / INCH**2),
    "mm/s": ("in/min", 60 / INCH),
    "m/min": ("in/min", 1000 / INCH),
    "m/s": ("ft/s", 1000 / FOOT),
    "m/kg": ("in/lb", 1000 / INCH * POUND),
    "kg/h": ("lb/h", 1 / POUND),
    "g/mm": ("lb/ft", FOOT / 1000 / POUND),
    "kJ/mm": ("kJ/in", INCH),
    "L/min": ("cfh", 60 / FOOT**3 * 1e6),
    "K": ("°F", 1.8),
    "K/s": ("°F/s", 1.8),
    "1/mm²": ("1/in²", INCH**2),
}


def other_system(quantity: Quantity) -> Measured | None:
    """A value in the inch system, with its u; None where it has none, or where both systems share the unit."""
    if isinstance(quantity, Absent):
        return None
    if quantity.unit == "°C":
        return Measured(value=1.8 * quantity.value + 32, u=1.8 * quantity.u, unit="°F", dof=quantity.dof)
    if quantity.unit not in _OTHER:
        return None
    unit, factor = _OTHER[quantity.unit]
    return Measured(value=factor * quantity.value, u=factor * quantity.u, unit=unit, dof=quantity.dof)
