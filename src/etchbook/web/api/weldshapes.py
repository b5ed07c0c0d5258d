"""What goes into the welding arithmetic and what comes out of it, as JSON."""

from typing import Annotated

from pydantic import BaseModel, Field

from etchbook.web.api.quantities import QuantityTold
from etchbook.web.api.shapes import Given, shown

Words = Annotated[str, Field(max_length=400)]
Value = Annotated[str, Field(max_length=60)] | Annotated[float, Field(ge=-1e9, le=1e9, allow_inf_nan=False)]
"""Words with any common unit and perhaps ±, or a number in the unit that the field names."""
Typed = Value | None
SETTINGS = {"process": "135", "material": "S275", "joint": "bead", "volts": "21.5 V", "amps": "188±3 A",
            "travel": "34 cm/min", "bead_length": 140.0, "thickness_1": 8.0, "plate_length": 150.0,
            "plate_width": 100.0, "start_temperature": "19 °C"}  # fmt: skip
ENERGY = "ISO/TR 17671-1, arc energy and thermal efficiency k; AWS and ASME call this heat input"
FIGURE = {"id": "arc_energy", "label": "arc energy", "value": 0.7133, "u": 0.0114, "unit": "kJ/mm", "absent": "",
          "inch": {"value": 18.12, "u": 0.289, "unit": "kJ/in", "absent": ""}, "notes": [], "source": ENERGY,
          "status": "seen"}  # fmt: skip
COUPON = {"length": 150.0, "width": 100.0, "thickness": 8.0, "start": 19.0, "power": 3234.0, "travel": 5.67,
          "bead_start": 5.0, "bead_length": 140.0}  # fmt: skip
FORMULA = {"id": "arc_energy", "label": "arc energy", "unit": "kJ/mm", "group": "energy", "takes": {"volts": "V"},
           "source": ENERGY, "status": "seen"}  # fmt: skip


class SettingsTyped(Given):
    """Settings of a bead; those of `bead` out of the book, with what is named here laid over them.

    Each is words with any common unit and perhaps ±, such as "188±3 A", or a number in the unit named here.
    """

    bead: str = Field("", max_length=40, examples=["N1-01"], description="Code of a bead whose settings are taken.")
    process: Words = ""
    material: Words = ""
    joint: Words = ""
    steel: Words = Field("", examples=["C=0.18 Mn=1.4 Si=0.35 rest=0"], description="Composition in per cent.")
    volts: Typed = Field(None, description="V")
    amps: Typed = Field(None, description="A")
    power: Typed = Field(None, description="W")
    energy: Typed = Field(None, description="J")
    wire_feed: Typed = Field(None, description="m/min")
    wire_diameter: Typed = Field(None, description="mm")
    travel: Typed = Field(None, description="mm/s")
    bead_length: Typed = Field(None, description="mm")
    arc_time: Typed = Field(None, description="s")
    stick_out: Typed = Field(None, description="mm")
    co2: Typed = Field(None, description="%")
    gas_flow: Typed = Field(None, description="L/min")
    nozzle: Typed = Field(None, description="mm")
    thickness_1: Typed = Field(None, description="mm")
    thickness_2: Typed = Field(None, description="mm")
    throat: Typed = Field(None, description="mm")
    plate_length: Typed = Field(None, description="mm")
    plate_width: Typed = Field(None, description="mm")
    start_temperature: Typed = Field(None, description="°C")
    interpass_temperature: Typed = Field(None, description="°C")
    ambient: Typed = Field(None, description="°C")
    loss: Typed = Field(None, description="W/(m²·K)")
    hydrogen: Typed = Field(None, description="ml/100 g")
    cable_length: Typed = Field(None, description="m")
    cable_area: Typed = Field(None, description="mm²")


class WeldAsked(SettingsTyped):
    """Settings, and where the permitted hardness is wanted the material group to ISO/TR 15608."""

    model_config = shown(**SETTINGS, group="1", treated=False)
    group: Words = ""
    treated: bool = Field(False, description="Heat-treated after welding.")


Point = Annotated[list[Annotated[float, Field(ge=-10_000, le=10_000, allow_inf_nan=False)]],
                  Field(min_length=2, max_length=2)]  # fmt: skip


class HeatAsked(SettingsTyped):
    """Settings; points to follow, as across and depth [mm]; how many beads, and the time from start to start [s]."""

    model_config = shown(**SETTINGS, points=[[6.0, 0.0]], beads=1)
    points: list[Point] = Field(default_factory=list, max_length=6)
    beads: int = Field(1, ge=1, le=50)
    every: float | None = Field(None, gt=0, le=1e6, allow_inf_nan=False)


class FigureTold(QuantityTold):
    """One reckoned figure, in the inch system too, with what to know and where its formula stands."""

    model_config = shown(**FIGURE)
    id: str
    label: str
    inch: QuantityTold | None
    notes: list[str]
    source: str
    status: str


class WeldTold(BaseModel):
    """Everything that settings come to; what cannot be reckoned says why. `hardness` is the highest permitted HV10."""

    model_config = shown(figures=[FIGURE], hardness=380.0)
    figures: list[FigureTold]
    hardness: float | None


class ChangeTold(BaseModel):
    """What a change would do to the fused width and depth [mm], its area [mm²] and t8/5 [s]."""

    words: str
    width: float | None
    depth: float | None
    area: float | None
    t85: float | None


class IsothermTold(BaseModel):
    """One temperature [°C] and its lines [mm]."""

    level: float
    lines: list[list[tuple[float, float]]]


class HistoryTold(BaseModel):
    """Temperature [°C] over time [s] of one point, given as across and depth [mm]."""

    across: float
    depth: float
    peak: float
    seconds: list[float]
    temperatures: list[float]


class CouponTold(BaseModel):
    """The plate and the heat that was reckoned with [mm, °C, W, mm/s]."""

    model_config = shown(**COUPON)
    length: float
    width: float
    thickness: float
    start: float
    power: float
    travel: float
    bead_start: float
    bead_length: float


class HeatTold(BaseModel):
    """Heat flow by conduction: figures, what changes would do, isotherms in plan and section, the points over time.

    `starts` are the start temperatures of a series of beads [°C]; where there are none, `no_starts` says why.
    """

    model_config = shown(coupon=COUPON, figures=[FIGURE], changes=[], plan=[], section=[], histories=[], starts=[],
                         no_starts="only one bead was asked for", model="by conduction alone")  # fmt: skip
    coupon: CouponTold
    figures: list[FigureTold]
    changes: list[ChangeTold]
    plan: list[IsothermTold]
    section: list[IsothermTold]
    histories: list[HistoryTold]
    starts: list[float]
    no_starts: str
    model: str


class FormulaTold(BaseModel):
    """A formula of the house: what it takes with its units, where it stands and how that is known."""

    model_config = shown(**FORMULA)
    id: str
    label: str
    unit: str
    group: str
    takes: dict[str, str]
    source: str
    status: str


class FormulasTold(BaseModel):
    """A page of formulas; `next` goes into `after`, "" at the end."""

    model_config = shown(items=[FORMULA], next="")
    items: list[FormulaTold]
    next: str


class FormulaAsked(Given):
    """What goes into a formula, by name: words with any common unit and perhaps ±, or a number in its unit."""

    model_config = shown(values={"volts": "21.5 V", "amps": "188±3 A", "travel": 5.67})
    values: dict[Annotated[str, Field(max_length=60)], Value] = Field(max_length=30)
