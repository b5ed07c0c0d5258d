"""What comes out of the JSON verbs; every list is a page with the way to the next one."""

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

JOB_STATES = Literal["waiting", "running", "done", "refused", "stopped", "interrupted"]
THING = {
    "code": "N7",
    "kind": "trial",
    "edition": 1,
    "by": "anna",
    "at": "2026-03-14T09:30:00+01:00",
    "binned": "",
    "words": "does sheet 4 give a 4 mm throat?, tee",
    "record": {"code": "N7", "question": "does sheet 4 give a 4 mm throat?"},
}
JOB = {"id": "3vQm0Zk2hW1x", "state": "running", "step": "looking for plates, weld and heat-affected zone",
       "result": "", "picture": "N1-01-A-1-P1"}  # fmt: skip
CHANGE = {"number": 12, "by": "anna", "at": "2026-03-14T09:30:00+01:00", "words": "logged bead N1-03", "undoes": 0,
          "touched": ["N1-03"]}  # fmt: skip
ROW = {"id": "leg_1", "label": "Leg 1", "before": "4.12 ± 0.10 mm", "theirs": "4.20 ± 0.10 mm",
       "yours": "4.31 ± 0.10 mm", "both": "4.38 ± 0.10 mm"}  # fmt: skip


def _shown(example: dict[str, Any], *, more: bool = False) -> ConfigDict:
    return ConfigDict(json_schema_extra={"example": example}, extra="allow" if more else "ignore")


class Thing(BaseModel):
    """One thing of the book: its code never changes, and each edition stays."""

    model_config = _shown(THING)
    code: str
    kind: str
    edition: int
    by: str
    at: str
    binned: str
    words: str
    record: dict[str, Any]


class Things(BaseModel):
    """A page of things; `next` goes into `after` for the following page, "" at the end."""

    model_config = _shown({"items": [THING], "next": "N7"})
    items: list[Thing]
    next: str


class Pieces(BaseModel):
    """What a cut made."""

    model_config = _shown({"items": [{**THING, "code": "N1-01-A", "kind": "piece", "words": "drawer 4", "record": {}}]})
    items: list[Thing]


class Change(BaseModel):
    """One line of the history; `undoes` is the change that it took back, 0 where it took none back."""

    model_config = _shown(CHANGE)
    number: int
    by: str
    at: str
    words: str
    undoes: int
    touched: list[str]


class Changes(BaseModel):
    """A page of the history, newest first; `next` goes into `before`, 0 at the end."""

    model_config = _shown({"items": [CHANGE], "next": 12})
    items: list[Change]
    next: int


class JobTold(BaseModel):
    """How far a job is; `result` is the reading's code when it is done, `picture` the picture's once it is kept."""

    model_config = _shown(JOB)
    id: str
    state: JOB_STATES
    step: str
    result: str
    picture: str


class JobsTold(BaseModel):
    """A page of jobs, newest first; `next` goes into `after`, "" at the end."""

    model_config = _shown({"items": [JOB], "next": ""})
    items: list[JobTold]
    next: str


class DimensionTold(BaseModel):
    """A dimension with its standard uncertainty `u`, or the reason why it is absent."""

    model_config = ConfigDict(extra="allow")
    value: float | None = None
    u: float | None = None
    unit: str | None = None
    absent: str | None = None


class ReadingTold(BaseModel):
    """A reading whole, as docs/reading.schema.json describes it; here its most used parts."""

    model_config = _shown(
        {
            "format": "etchbook reading 1",
            "program": "etchbook 0.1.0",
            "joint": {"family": "tee", "thickness_1": 8.0, "thickness_2": 6.0, "throat": 4.0},
            "scale": {"px_per_mm": 128.3, "u": 0.64, "from": "rule"},
            "dimensions": {
                "leg_1": {"value": 4.12, "u": 0.05, "unit": "mm"},
                "haz_width_1": {"absent": "no edge of the heat-affected zone was found"},
            },
            "indications": [],
            "notes": [],
        },
        more=True,
    )
    format: str
    program: str
    joint: dict[str, Any]
    scale: dict[str, Any]
    dimensions: dict[str, DimensionTold]
    indications: list[dict[str, Any]]
    notes: list[str]


class JudgementTold(BaseModel):
    """A reading held against limits."""

    model_config = _shown(
        {"title": "ISO 5817, quality level B", "findings": [{"verdict": "met", "dimension": "throat"}], "notes": []},
        more=True,
    )


class Kept(BaseModel):
    """A reading's new edition."""

    model_config = _shown({"code": "N1-01-A-1-P1-R1", "edition": 2})
    code: str
    edition: int


class Met(BaseModel):
    """Somebody saved another edition meanwhile: yours is kept as a draft, to be decided about."""

    model_config = _shown(
        {
            "error": "ben saved edition 2 while you worked on edition 1. Yours is not lost, it waits beside theirs. "
            "Theirs changed: Leg 1 from 4.12 ± 0.10 mm to 4.20 ± 0.10 mm",
            "draft": "Zk2hW1x3vQm0",
            "beside": "/reading/N1-01-A-1-P1-R1/beside/Zk2hW1x3vQm0",
        }
    )
    error: str
    draft: str
    beside: str


class BesideTold(BaseModel):
    """One dimension as the edition before, theirs, yours and both laid together have it, in words."""

    model_config = _shown(ROW)
    id: str
    label: str
    before: str
    theirs: str
    yours: str
    both: str


class DraftTold(BaseModel):
    """A draft beside the newest edition."""

    model_config = _shown({"draft": "Zk2hW1x3vQm0", "code": "N1-01-A-1-P1-R1", "seen": 1, "newest": 2,
                           "both_moved": [], "rows": [ROW]})  # fmt: skip
    draft: str
    code: str
    seen: int
    newest: int
    both_moved: list[str]
    rows: list[BesideTold]


class QuestionTold(BaseModel):
    """What would tell most about an indication: `check` and a state go into an answer."""

    check: str
    question: str
    states: dict[str, str]


class IndicationTold(BaseModel):
    """An indication in words, with the next question and the next test."""

    model_config = _shown(
        {
            "code": "N1-01-A-1-P1-R1-X1",
            "sentence": "most likely a segregation band",
            "question": {"check": "removed_by_polishing", "question": "Is it gone after polishing?",
                         "states": {"yes": "yes", "no": "no"}},
            "test": "look at it again after etching anew",
        }
    )  # fmt: skip
    code: str
    sentence: str
    question: QuestionTold | None
    test: str


class IndicationsTold(BaseModel):
    """A page of indications; `next` goes into `after`, "" at the end."""

    model_config = _shown({"items": [], "next": ""})
    items: list[IndicationTold]
    next: str


class Names(BaseModel):
    """A page of names; `next` goes into `after`, "" at the end."""

    model_config = _shown({"items": ["own:bracket-sheet-4", "iso-5817:B"], "next": ""})
    items: list[str]
    next: str


class DeviceTold(BaseModel):
    """A device that was let in; its session came as a cookie."""

    model_config = _shown({"name": "camera PC", "begun": "2026-03-14T08:30:00+00:00"})
    name: str
    begun: str


class Trouble(BaseModel):
    """What went wrong, in one sentence."""

    model_config = _shown({"error": "there is no trial N9 in the book; there is N1"})
    error: str = Field(min_length=1)
