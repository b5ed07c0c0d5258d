"""The fields of the welding arithmetic: settings and coupon, typed in any common unit."""

from collections.abc import Mapping
from typing import Any

from etchbook.procedure import Settings
from etchbook.usecases.beadwork import settings_in_book
from etchbook.usecases.keeping.ports import BookStore
from etchbook.web.asking import Field
from etchbook.wiring.welding import settings_from, typed_of

LABELS = {
    "process": ("Process", "135"), "material": ("Material", "S275"), "joint": ("Joint", "tee"),
    "volts": ("Volts", "21.5 V"), "amps": ("Amps", "188 A"), "wire_feed": ("Wire feed", "8.5 m/min"),
    "wire_diameter": ("Wire diameter", "1.0 mm"), "travel": ("Travel speed", "34 cm/min"),
    "bead_length": ("Bead length", "140 mm"), "arc_time": ("Arc time", "24.7 s"), "stick_out": ("Stick-out", "15 mm"),
    "co2": ("CO2 in the argon", "18 %"), "gas_flow": ("Gas flow", "14 L/min or 30 cfh"),
    "nozzle": ("Bore of the nozzle", "16 mm"), "thickness_1": ("Thickness of member 1", "8 mm"),
    "thickness_2": ("Thickness of member 2", "6 mm"), "throat": ("Throat on the drawing", "4 mm"),
    "plate_length": ("Length of the coupon", "150 mm"), "plate_width": ("Width of the coupon", "100 mm"),
    "start_temperature": ("Start temperature", "19 °C"), "interpass_temperature": ("Interpass temperature", "120 °C"),
    "ambient": ("Temperature of the bay", "18 °C"), "loss": ("Heat loss at the surface", "25"),
    "hydrogen": ("Diffusible hydrogen", "5"), "cable_length": ("Cables, out and back", "20 m"),
    "cable_area": ("Copper of the cables", "50 mm²"), "power": ("Power off a meter", "3900 W"),
    "energy": ("Energy off a meter", "96 kJ"), "steel": ("Steel", "C=0.18 Mn=1.4 Si=0.35 rest=0"),
}  # fmt: skip
HINTS = {
    "process": "ISO 4063 number or name: 135, 136, 138, 111, 121, 141.",
    "material": "Carbon steel, stainless steel or aluminium, or a grade.",
    "joint": "Tee, lap, corner, butt or bead.",
    "amps": "As read. Left empty, it is reckoned from feed and stick-out.",
    "travel": "Or leave it empty and give length and arc time.",
    "loss": "W/(m²·K): about 25 on edge in air, 100 on a cold bench.",
    "hydrogen": "Of the consumable, ml/100 g.",
    "power": "Mean of the instantaneous power.",
    "steel": "In per cent; rest=0 says that nothing else is in it.",
}
ARC = ("process", "volts", "amps", "wire_feed", "wire_diameter", "travel", "bead_length", "arc_time", "stick_out")
PLATE = ("material", "joint", "thickness_1", "thickness_2", "plate_length", "plate_width", "start_temperature")
HEAT = (*ARC, *PLATE, "co2", "ambient", "loss")
WELD = (*ARC, *PLATE, "throat", "co2", "gas_flow", "nozzle", "steel", "hydrogen", "interpass_temperature", "loss",
        "power", "energy", "cable_length", "cable_area")  # fmt: skip


def fields(names: tuple[str, ...]) -> tuple[Field, ...]:
    """A field for each setting; none has to be filled in, for what is missing is said with the figure that needs it."""
    return tuple(_field(name) for name in names)


def _field(name: str) -> Field:
    label, like = LABELS[name]
    said = name.replace("_", " ")
    return Field(name=name, label=label, kind="own", own=_checked, like=like, hint=HINTS.get(name, ""), needed=False,
                 told=(label, said, f"{said}s"))  # fmt: skip


def _checked(name: str, text: str) -> str:
    settings_from({name: text})  # refuses what is no amount, no joint, no composition
    return text


def settings_said(values: Mapping[str, Any]) -> Settings:
    """The settings of a form."""
    return settings_from({name: text for name, text in values.items() if text and name in LABELS})


def typed_in_book(store: BookStore, bead: str) -> dict[str, str]:
    """A bead's settings as they would be typed; nothing where no bead is named."""
    return typed_of(settings_in_book(store, bead)) if bead else {}
