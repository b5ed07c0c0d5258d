"""Trials that are planned, sized and decided, and settings that are dialled in together, as JSON."""

from typing import Annotated, Literal

from pydantic import BaseModel, Field

from etchbook.web.api.compareshapes import DIFFERENCE, DifferenceTold, Positive, ScatterTold, Welding
from etchbook.web.api.quantities import QuantityTold
from etchbook.web.api.shapes import Given, shown
from etchbook.web.api.weldshapes import Value

Text = Annotated[str, Field(max_length=400)]
Id = Annotated[str, Field(max_length=60)]
Number = Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
Wanted = Annotated[float, Field(gt=0, lt=1, allow_inf_nan=False, description="Chance of showing it.")]
SCATTER = {"sd": 0.28, "dof": 5.0, "source": "planning value, welded by hand"}
RUN = {"number": 4, "code": "KX7", "block": 1, "phase": 1}
LISTED = {"code": "N3", "question": "Does a longer stick-out raise the bead?", "decision": ""}
PLAN = {**LISTED, "edition": 1, "arms": ["stick-out 15 mm", "stick-out 22 mm"], "kind": "two arms",
        "response": "convexity", "worth": 0.5, "scatter": SCATTER, "per_arm": 7, "power": 0.84, "covariate": "",
        "held": {"plate": "150 x 100 x 8 mm"}, "runs": [RUN], "rule": "An effect is claimed where ...",
        "lock": "9f2c", "seal": "77ab", "opened": [], "notes": []}  # fmt: skip
WELDED = ((17.0, 4.0, 0.82), (17.0, 6.0, 0.64), (20.0, 4.0, 0.41), (20.0, 6.0, 0.3), (18.5, 5.0, 0.55),
          (18.5, 5.0, 0.51), (18.5, 5.0, 0.58))  # fmt: skip
TURN = {"volts": {"low": "17 V", "high": "20 V"}, "travel": {"low": 4.0, "high": 6.0}}


class PlanAsked(Given):
    """A trial that can prove something; without a code it takes the next free one."""

    model_config = shown(question="Does a longer stick-out raise the bead?", arms=["15 mm", "22 mm"], worth=0.5,
                         response="convexity", welding="hand", held={"plate": "150 x 100 x 8 mm"})  # fmt: skip
    question: str = Field(min_length=1, max_length=400)
    arms: list[Text] = Field(min_length=2, max_length=2)
    worth: Positive = Field(description="Smallest difference worth knowing, in the unit of what is measured.")
    kind: Literal["two arms", "reference cylinder"] = "two arms"
    response: Id = "convexity"
    welding: Welding = ""
    scatter: Positive | None = None
    scatter_dof: Positive | None = None
    margin: Positive | None = None
    covariate: Id = Field("", description="Id of a setting that is measured beside every bead and taken out.")
    sections: int = Field(2, ge=1, le=100)
    warm_up: int = Field(3, ge=0, le=100)
    power: Wanted = 0.8
    beads: int | None = Field(None, ge=1, le=400, description="In each arm; left out, it is reckoned.")
    held: dict[Id, Text] = Field(default_factory=dict, max_length=60)
    code: str = Field("", max_length=12)


class RunTold(BaseModel):
    """One bead of the run sheet; which arm it is stays sealed. A bead to warm up has no code."""

    number: int
    code: str
    block: int
    phase: int


class PlanListed(BaseModel):
    """A planned trial; `decision` is "" until it is decided."""

    code: str
    question: str
    decision: str


class PlansTold(BaseModel):
    """A page of planned trials; `next` goes into `after`, "" at the end."""

    model_config = shown(items=[LISTED], next="")
    items: list[PlanListed]
    next: str


class PlanTold(PlanListed):
    """The open part of a plan: its size, order, codes and locked rule, and who took the sealed key out."""

    model_config = shown(**PLAN)
    edition: int
    arms: list[str]
    kind: str
    response: str
    worth: float
    scatter: ScatterTold
    per_arm: int
    power: float
    covariate: str
    held: dict[str, str]
    runs: list[RunTold]
    rule: str
    lock: str
    seal: str
    opened: list[str]
    notes: list[str]


class KeyTold(BaseModel):
    """The sealed key: which code is which arm, and what they were drawn from."""

    model_config = shown(codes={"KX7": {"arm": "15 mm", "block": 1, "phase": 1}}, secret="5f0c", seed=17)
    codes: dict[str, dict[str, str | int]]
    secret: str
    seed: int


class ResultGiven(Given):
    """Result of one bead: a number with its u, or the bead of the book whose sections count."""

    value: Number | None = Field(None, examples=[1.23])
    u: Annotated[float, Field(ge=0, le=1e6, allow_inf_nan=False)] = 0.0
    bead: str = Field("", max_length=40, examples=["N3-04"])


class DecisionAsked(Given):
    """A result for each code of the plan; why it was stopped, where it was; the key, where another machine planned."""

    model_config = shown(results={"KX7": {"value": 1.23, "u": 0.05}, "M4P": {"bead": "N3-05"}}, covariate={},
                         stopped="")  # fmt: skip
    results: dict[Id, ResultGiven] = Field(max_length=1000)
    covariate: dict[Id, Number] = Field(default_factory=dict, max_length=1000)
    stopped: Text = ""
    key: str = Field("", max_length=200_000, description="Text of key.sealed.json; left out, this machine's own.")


class DecisionTold(BaseModel):
    """What the locked rule says, with the numbers behind it."""

    model_config = shown(answer="effect", words="An effect is shown.", difference=DIFFERENCE, blocks=[7, 7], notes=[])
    answer: str
    words: str
    difference: DifferenceTold
    blocks: list[int]
    notes: list[str]


class SizeAsked(Given):
    """What is measured, and the differences worth knowing in its unit."""

    model_config = shown(response="convexity", worth=[0.3, 0.5], power=0.8, welding="hand")
    response: Id = "convexity"
    worth: list[Positive] = Field(min_length=1, max_length=20)
    power: Wanted = 0.8
    scatter: Positive | None = None
    welding: Welding = ""


class SizeRow(BaseModel):
    """How many it takes for one difference; `none_so_large`: beads an arm to show that there is none so large."""

    worth: float
    beads_an_arm: int
    blocks: int
    blocks_a_phase: int
    none_so_large: int


class SizeTold(BaseModel):
    """How many beads show each difference, and the scatter from bead to bead that it rests on."""

    model_config = shown(scatter=SCATTER, low=0.17, high=0.69, rows=[
        {"worth": 0.5, "beads_an_arm": 7, "blocks": 8, "blocks_a_phase": 13, "none_so_large": 8}])  # fmt: skip
    scatter: ScatterTold
    low: float
    high: float
    rows: list[SizeRow]


class Ends(Given):
    """Lowest and highest value of a setting, in words with a unit or as numbers in the unit of its term."""

    low: Value
    high: Value


class DesignAsked(Given):
    """Two to five settings to turn together, by id, and which beads."""

    model_config = shown(turn=TURN, kind="surface", centres=3, seed=1)
    turn: dict[Id, Ends] = Field(min_length=2, max_length=5)
    kind: Literal["surface", "two levels", "half", "surface in few beads"] = "surface"
    centres: int = Field(3, ge=0, le=20)
    seed: int = Field(1, ge=0, le=2**31)


class DesignTold(BaseModel):
    """The beads to weld in their order, each with its settings in the unit of their term."""

    model_config = shown(units={"volts": "V", "travel": "mm/s"}, beads=[{"volts": 18.5, "travel": 5.0}])
    units: dict[str, str]
    beads: list[dict[str, float]]


class WeldedGiven(Given):
    """Settings of a bead that was welded, and what was read on it."""

    settings: dict[Id, Number] = Field(max_length=5)
    result: Number


class FitAsked(Given):
    """What the beads of a design gave; with a target, the next setting to try is named."""

    model_config = shown(turn=TURN, response="convexity", target=0.5, tolerance=0.1,
                         beads=[{"settings": {"volts": volts, "travel": travel}, "result": result}
                                for volts, travel, result in WELDED])  # fmt: skip
    turn: dict[Id, Ends] = Field(min_length=2, max_length=5)
    beads: list[WeldedGiven] = Field(min_length=1, max_length=500)
    response: Id = "convexity"
    target: Number | None = None
    tolerance: Positive = 0.1


class EffectTold(QuantityTold):
    """Half of what a setting does from its low to its high end."""

    name: str


class FitTold(BaseModel):
    """The fit; `next_bead` is the setting to try next, null without a target, `chance` that it meets it."""

    model_config = shown(unit="mm", scatter=0.11, dof=5.0, next_bead={"volts": 18.7, "travel": 5.2}, chance=0.62,
                         effects=[{"name": "volts", "value": -0.21, "u": 0.04, "unit": "mm", "absent": ""}],
                         words=["11 beads, 6 terms"])  # fmt: skip
    unit: str
    scatter: float | None
    dof: float | None
    effects: list[EffectTold]
    next_bead: dict[str, float] | None
    chance: float | None
    words: list[str]
