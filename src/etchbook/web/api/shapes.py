"""What goes in and out of the JSON verbs; a number is a number, and nothing unknown is taken in silently."""

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

TEXT = 400


class Given(BaseModel):
    """What a caller sends: strict, and only fields that are known."""

    model_config = ConfigDict(strict=True, extra="forbid")


class JointGiven(Given):
    """The joint of a trial [mm]."""

    family: Literal["tee", "lap", "corner", "butt", "bead"]
    thickness_1: float | None = Field(None, gt=0, le=1000, allow_inf_nan=False)
    thickness_2: float | None = Field(None, gt=0, le=1000, allow_inf_nan=False)
    throat: float | None = Field(None, gt=0, le=1000, allow_inf_nan=False)


class TrialGiven(Given):
    """A new trial; without a code it takes the next free one."""

    model_config = ConfigDict(
        json_schema_extra={
            "example": {
                "code": "N7",
                "question": "does sheet 4 give a 4 mm throat?",
                "joint": {"family": "tee", "thickness_1": 8.0, "thickness_2": 6.0, "throat": 4.0},
            }
        }
    )
    code: str = Field("", max_length=12)
    question: str = Field("", max_length=TEXT)
    joint: JointGiven | None = None
    material: str = Field("", max_length=TEXT)
    wire: str = Field("", max_length=TEXT)
    gas: str = Field("", max_length=TEXT)
    procedure: str = Field("", max_length=TEXT)
    remarks: str = Field("", max_length=TEXT)


class SettingGiven(Given):
    """One setting as a person would type it, with its unit."""

    name: str = Field(max_length=60, examples=["volts"])
    value: str = Field(max_length=TEXT, examples=["18.5 V"])
    origin: Literal["set", "read", "seen"] = "set"


class BeadGiven(Given):
    """A new bead of a trial."""

    model_config = ConfigDict(
        json_schema_extra={
            "example": {
                "settings": [
                    {"name": "volts", "value": "18.5 V", "origin": "set"},
                    {"name": "travel", "value": "30 cm/min", "origin": "set"},
                    {"name": "amps", "value": "150±3 A", "origin": "read"},
                ]
            }
        }
    )
    settings: list[SettingGiven] = Field(default_factory=list, max_length=100)
    like: str = Field("", max_length=40)


class Thing(BaseModel):
    """One thing of the book: its code never changes, and each edition stays."""

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

    items: list[Thing]
    next: str


class JobTold(BaseModel):
    """How far a job is: waiting, running, done, refused or stopped; `result` is the reading's code when it is done."""

    id: str
    state: str
    step: str
    result: str
    picture: str


class Trouble(BaseModel):
    """What went wrong, in one sentence."""

    error: str
