"""Quantities in JSON: a value with its standard uncertainty, or the reason why there is none."""

import math
from typing import Any

from pydantic import BaseModel, ConfigDict

from etchbook.quantity import Absent, Quantity


class QuantityTold(BaseModel):
    """A value with its standard uncertainty `u` and unit; where it could not be had, `absent` says why."""

    model_config = ConfigDict(json_schema_extra={"example": {"value": 1.06, "u": 0.05, "unit": "mm", "absent": ""}})
    value: float | None
    u: float | None
    unit: str
    absent: str


def quantity(held: Quantity) -> QuantityTold:
    """A quantity for JSON."""
    return QuantityTold(**plain(held))


def plain(held: Quantity) -> dict[str, Any]:
    """A quantity as the fields of `QuantityTold`."""
    if isinstance(held, Absent):
        return {"value": None, "u": None, "unit": "", "absent": held.reason}
    return {"value": finite(held.value), "u": finite(held.u), "unit": held.unit, "absent": ""}


def finite(number: float | None) -> float | None:
    """A number that JSON can hold; what is none is null."""
    return None if number is None or not math.isfinite(number) else float(number)
