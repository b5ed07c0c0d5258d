"""Two groups of beads compared, as JSON."""

from typing import Annotated, Literal

from pydantic import BaseModel, Field

from etchbook.web.api.quantities import QuantityTold
from etchbook.web.api.shapes import Given, shown

Code = Annotated[str, Field(min_length=1, max_length=60)]
Positive = Annotated[float, Field(gt=0, le=1e6, allow_inf_nan=False)]
Welding = Literal["", "mechanised", "hand"]
LOW, TALL = ({"value": value, "u": 0.03, "unit": "mm", "absent": ""} for value in (0.25, 1.13))
VIEW = {"name": "t interval", "assumes": "Beads of both groups scatter alike.", "words": "0.6 to 1.1 mm at 95 %.",
        "low": 0.6, "high": 1.1, "p": 0.01}  # fmt: skip
DIFFERENCE = {"value": 0.88, "least_shown": 0.78, "views": [VIEW], "inside": 0.001, "above": 0.998, "below": 0.001,
              "margin": 0.2, "verdict": "a difference is shown", "words": "A difference is shown.",
              "absent": ""}  # fmt: skip
ROW = {"dimension": "convexity", "label": "convexity", "unit": "mm", "a": LOW, "b": TALL, "difference": DIFFERENCE,
       "scatter": {"sd": 0.28, "dof": 5.0, "source": "planning value, welded by hand"}}  # fmt: skip
SUSPECT = {"setting": "stick_out", "kind": "moved with it", "a": 15.0, "b": 22.0,
           "words": "Stick-out is 15 mm and 22 mm."}  # fmt: skip


class CompareAsked(Given):
    """Two groups, each of one or more beads (or single readings) by code, and what is asked of them."""

    model_config = shown(a=["N1-01", "N1-02"], b=["N1-03", "N1-04"], names=["15 mm", "22 mm"], on="convexity",
                         under_test="stick_out")  # fmt: skip
    a: list[Code] = Field(min_length=1, max_length=200)
    b: list[Code] = Field(min_length=1, max_length=200)
    names: list[Annotated[str, Field(max_length=80)]] = Field(default=["a", "b"], min_length=2, max_length=2)
    on: str = Field("", max_length=60, description="Id of the dimension in question; how tall it stands where empty.")
    under_test: str = Field("", max_length=60, description="Id of the setting that was meant to differ.")
    welding: Welding = Field("", description="Which planning value stands in for a scatter nobody knows.")
    scatter: Positive | None = Field(None, description="From bead to bead, in the unit of the dimension in question.")
    scatter_dof: Positive | None = None
    margin: Positive | None = Field(None, description="Differences up to this are of no consequence.")
    margins: dict[str, Positive] = Field(default_factory=dict, max_length=80, description="The same, by dimension.")


class ScatterTold(BaseModel):
    """Standard deviation from bead to bead; `dof` is null where it is taken as known."""

    sd: float
    dof: float | None
    source: str


class ViewTold(BaseModel):
    """One way of looking at a difference, and what has to be true for it."""

    name: str
    assumes: str
    words: str
    low: float | None
    high: float | None
    p: float | None


class DifferenceTold(BaseModel):
    """Group b less group a, or the reason why that cannot be reckoned under `absent`."""

    value: float | None
    least_shown: float | None
    views: list[ViewTold]
    inside: float | None
    above: float | None
    below: float | None
    margin: float | None
    verdict: str
    words: str
    absent: str


class RowTold(BaseModel):
    """One dimension of both groups."""

    dimension: str
    label: str
    unit: str
    a: QuantityTold
    b: QuantityTold
    difference: DifferenceTold
    scatter: ScatterTold | None


class SplitTold(BaseModel):
    """The change of a height in two parts: from the deposited amount, and from the form [mm]."""

    total: QuantityTold
    amount: QuantityTold
    shape: QuantityTold
    at_equal_area: QuantityTold
    words: str


class SuspectTold(BaseModel):
    """A setting that differs, moved along, or was not logged."""

    setting: str
    kind: str
    a: float | str | None
    b: float | str | None
    words: str


class ExpectedTold(BaseModel):
    """What one setting's difference alone would do to width, depth and height [mm], by conduction."""

    setting: str
    words: str
    width: float | None
    depth: float | None
    height: float | None
    source: str
    counted: bool


class ComparisonTold(BaseModel):
    """Two groups compared: the sentence first, then every dimension, what else was not the same, what that would do."""

    model_config = shown(sentence="Convexity: a difference is shown.", question="convexity", names=["15 mm", "22 mm"],
                         rows=[ROW], splits={}, suspects=[SUSPECT], expected=[], no_expected="the heat is not known",
                         seen={"leg": 0.1, "convexity": 0.88, "depth": 0.1}, hints=[], notes=[])  # fmt: skip
    sentence: str
    question: str
    names: list[str]
    rows: list[RowTold]
    splits: dict[str, SplitTold]
    suspects: list[SuspectTold]
    expected: list[ExpectedTold]
    no_expected: str
    seen: dict[str, float | None]
    hints: list[str]
    notes: list[str]
