"""The six questions about gas as JSON: what comes apart, how much is left, what the flow reading means."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field

from etchbook.usecases.gassing import GasAnswer, cylinder_safety
from etchbook.web.api.quantities import plain
from etchbook.web.api.shapes import Given, shown
from etchbook.web.api.verbs import verbs
from etchbook.web.aside import aside
from etchbook.wiring import ask_gas

router = verbs("gas")
Number = Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
Maybe = Annotated[float | None, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
Share = Annotated[float | None, Field(ge=0, le=100, allow_inf_nan=False, description="Of one gas [%]; rest argon.")]
LINE = {"label": "its mass", "words": "15.5 ± 1.1 kg", "value": 15.485, "u": 0.542, "unit": "kg", "absent": "",
        "source": "real-gas density, EOS-CG (computed)"}  # fmt: skip


class Mixture(Given):
    """One second gas in argon: name one of the three."""

    co2: Share = None
    o2: Share = None
    he: Share = None


class SplitAsked(Mixture):
    """Coldest temperature of the cylinder [°C]; gauge [bar] and temperature [°C] when it was filled."""

    model_config = shown(co2=18.0, coldest=-15.0, filled=200.0, filled_at=15.0)
    coldest: Number
    filled: Number = 200.0
    filled_at: Number = 15.0


class MixingAsked(Mixture):
    """Gauge when it was full [bar], temperature of the store [°C], and days since filling to tell of."""

    model_config = shown(co2=18.0, filled=200.0, at=20.0, days=[7.0, 30.0])
    filled: Number = 200.0
    at: Number = 20.0
    days: list[Number] = Field(default=[7.0, 14.0, 30.0, 60.0, 120.0], max_length=50)


class ContentsAsked(Mixture):
    """Water capacity [L], gauge and its u [bar], temperature of the cylinder [°C], flow while the arc burns [L/min]."""

    model_config = shown(co2=18.0, litres=50.0, gauge=150.0, at=8.0, flow=15.0)
    litres: Number
    gauge: Number
    at: Number
    flow: Number = 15.0
    gauge_u: Maybe = None


class FlowAsked(Mixture):
    """What the tube shows and in which unit, the gas its scale is made for, bore of the nozzle [mm], wind [m/s]."""

    model_config = shown(co2=18.0, read=15.0, unit="L/min", tube="argon", nozzle=16.0, wind=2.0)
    read: Number
    unit: Literal["L/min", "cfh"] = "L/min"
    tube: Literal["same", "argon", "co2", "air"] = "same"
    nozzle: Number = 16.0
    wind: Maybe = None


class RegulatorAsked(Mixture):
    """Gauge [bar], temperature of the cylinder [°C], flow while the arc burns [L/min]."""

    model_config = shown(co2=18.0, gauge=180.0, at=5.0, flow=18.0)
    gauge: Number
    at: Number
    flow: Number = 15.0


class SoundAsked(Mixture):
    """The known gas, temperature [°C] and length [mm] of the tube, tones with the known and the suspect gas [Hz]."""

    model_config = shown(co2=18.0, at=20.0, tube=250.0, tones=[298.6, 299.2], u=0.3)
    at: Number = 20.0
    tube: Number = 250.0
    tones: list[Number] | None = Field(None, min_length=2, max_length=2, description="Left out: how it is done.")
    u: Number = Field(0.3, description="Standard uncertainty of each tone [Hz].")


class GasLineTold(BaseModel):
    """One figure in words; as a value with u too, where it is one."""

    label: str
    words: str
    value: float | None
    u: float | None
    unit: str
    absent: str
    source: str


class SafetyTold(BaseModel):
    """What to heed before a cylinder is touched, and how that is known."""

    words: str
    status: str


class GasTold(BaseModel):
    """An answer about gas: the sentence that comes first, the figures, what to know beside them."""

    model_config = shown(sentence="argon with 18 % CO2, 50 L at 150 bar and 8 °C: 10.0 ± 0.8 h left at 15 L/min.",
                         lines=[LINE], notes=[], safety={"words": "Close the cylinder valve first ...",
                                                         "status": "common practice"})  # fmt: skip
    sentence: str
    lines: list[GasLineTold]
    notes: list[str]
    safety: SafetyTold


def _told(found: GasAnswer) -> GasTold:
    safe = cylinder_safety()
    lines = [GasLineTold(label=one.label, words=one.words, source=one.source, **_figure(one.answer))
             for one in found.lines]  # fmt: skip
    return GasTold(sentence=found.sentence, lines=lines, notes=list(found.notes),
                   safety=SafetyTold(words=safe.words, status=safe.status))  # fmt: skip


def _figure(held: Any) -> dict[str, Any]:
    return {"value": None, "u": None, "unit": "", "absent": ""} if isinstance(held, str) else plain(held)


@router.post("/gas/split")
def ask_whether_gas_splits(given: SplitAsked) -> GasTold:
    """Whether a mixture can come apart in its cylinder, by gravity or by cold, and what would then be drawn off."""
    return _told(aside(ask_gas.split, **given.model_dump()))


@router.post("/gas/mixing")
def ask_how_gas_mixes(given: MixingAsked) -> GasTold:
    """How long layers from filling last, upright and lying, and what rolling can and cannot do."""
    return _told(ask_gas.mixing(**given.model_dump()))


@router.post("/gas/contents")
def ask_what_gas_is_left(given: ContentsAsked) -> GasTold:
    """How much gas is left, for how many hours, and what the gauge would show warmer or colder."""
    return _told(ask_gas.contents(**given.model_dump()))


@router.post("/gas/flow")
def ask_what_flow_means(given: FlowAsked) -> GasTold:
    """What a flow tube's reading means, what leaves the nozzle, and whether it stays smooth."""
    return _told(ask_gas.flow(**given.model_dump()))


@router.post("/gas/regulator")
def ask_whether_regulator_freezes(given: RegulatorAsked) -> GasTold:
    """Whether the regulator can frost up and make the flow hunt."""
    return _told(ask_gas.regulator(**given.model_dump()))


@router.post("/gas/sound")
def ask_how_gas_sounds(given: SoundAsked) -> GasTold:
    """How a tube tells two gases apart by its tone, and what two tones say."""
    said = given.model_dump(exclude={"tones"})
    tones = (given.tones[0], given.tones[1]) if given.tones else None
    return _told(ask_gas.sound(tones=tones, **said))
