"""Checked functions of the room ``procedure``: from the plain inputs of a check row to a function of ours."""

from collections.abc import Callable
from typing import Any

import numpy as np

from etchbook.procedure.deriving import Derived
from etchbook.procedure.entered import FORMULAS
from etchbook.procedure.formulas import Known, Traced
from etchbook.procedure.heat_flow import Coupon, bead_series, fused, temperatures
from etchbook.procedure.indenting import diagonal, hardness_as, hardness_limit, hardness_verdict
from etchbook.procedure.records import Settings
from etchbook.procedure.rules import thumb_feed
from etchbook.procedure.wire import deposition_from_length, weld_mass, wire_per_mass

Answer = float | str
INCH, POUND = 25.4, 0.45359237
STEEL = 0.283 * POUND * 1000 / 2.54**3
"""0.283 lb/in³ as [g/cm³]."""

PLAIN = (
    "amps_from_feed",
    "arc_energy",
    "bead_warming",
    "cable_drop",
    "ce_iiw",
    "cet",
    "contact_drop",
    "cooling_time",
    "deposited_area",
    "deposition_efficiency",
    "dilution",
    "feed_from_amps",
    "fillet_convexity",
    "fillet_leg",
    "fillet_throat",
    "grain_diameter",
    "grain_number_from_intercept",
    "grains_per_area",
    "haz_hardness_duren",
    "haz_hardness_yurioka",
    "heat_input",
    "martensite_hardness",
    "martensite_hardness_yurioka",
    "nozzle_reynolds",
    "pcm",
    "preheat_b",
    "preheat_b_older",
    "relative_thickness",
    "stick_out_drop",
    "t85_thick",
    "t85_thin",
    "thick_temperature",
    "thin_cooling_rate",
    "thin_haz_width",
    "thin_peak",
    "thin_temperature",
    "thumb_amps",
    "transition_thickness",
    "vickers",
    "weld_mass",
    "wire_per_mass",
)


def _number(known: Known) -> Answer:
    return known.value if isinstance(known, Traced) else known.reason


def _coupon(**changes: float) -> Coupon:
    """The coupon of the research note: 2280 W at 5 mm/s on steel with k 30 W/(m·K) and ρc 5 J/(cm³·K)."""
    usual: dict[str, Any] = {
        "conductivity": 30.0,
        "capacity": 5.0,
        "melting": 1500.0,
        "haz_edge": 730.0,
        "start": 20.0,
        "loss": 30.0,
        "power": 2280.0,
        "travel": 5.0,
        "bead_start": 10.0,
    }
    held = usual | changes
    held.setdefault("bead_length", held["length"] - 2 * held["bead_start"])
    return Coupon(**held)


def _endless(thickness: float, ahead: float, across: float, depth: float) -> Answer:
    """The finite coupon, so large that its edges cannot be felt, with a source that has no width."""
    plate = _coupon(length=2000.0, width=2000.0, thickness=thickness, loss=0.0, spread=0.0, bead_start=0.0)
    times = np.array([-ahead / plate.travel])
    return float(temperatures(plate, times, 1000.0, np.array([across]), np.array([depth]))[0, 0])


def _fused(want: str, **plate: float) -> Answer:
    return float(getattr(fused(_coupon(**plate)), want))


def _series(bead: int, **inputs: float) -> Answer:
    return bead_series(beads=bead, **inputs)[-1]


def _inch_wire(inches: float) -> Answer:
    return wire_per_mass(inches * INCH, STEEL) * 1000 / INCH * POUND


def _pounds_an_hour(feed: float, inches_per_pound: float) -> Answer:
    metres = inches_per_pound * INCH / 1000 / POUND
    return deposition_from_length(feed * INCH / 1000, metres, 1.0) / POUND


def _pounds_a_foot(leg: float) -> Answer:
    return weld_mass((leg * INCH) ** 2 / 2, STEEL) * 12 * INCH / 1000 / POUND


CHECKED_PROCEDURE: dict[str, Callable[..., Answer]] = {
    **{name: FORMULAS[name].function for name in PLAIN},
    "arc_energy_per_inch": lambda volts, amps, travel: (
        FORMULAS["arc_energy"].function(volts, amps, travel * INCH / 60) * INCH
    ),
    "bead_series": _series,
    "coupon_fused": _fused,
    "deposition_pounds": _pounds_an_hour,
    "endless_coupon": _endless,
    "fillet_pounds": _pounds_a_foot,
    "hardness_as": hardness_as,
    "hardness_limit": hardness_limit,
    "hardness_verdict": hardness_verdict,
    "indent_diagonal": lambda hardness, load: 1000 * diagonal(hardness, load),
    "inches_per_pound": _inch_wire,
    "process_efficiency": lambda process, co2=None: _number(Derived(Settings(process=process, co2=co2)).efficiency),
    "process_k": lambda process: _number(Derived(Settings(process=process)).k),
    "thumb_feed_inches": lambda amps, wire: thumb_feed(amps, wire) * 1000 / INCH,
}
