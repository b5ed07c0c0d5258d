"""What goes in to the JSON verbs; a number is a number, and nothing unknown is taken in silently."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

TEXT = 400
Length = Annotated[float | None, Field(gt=0, le=1000, allow_inf_nan=False)]


class Given(BaseModel):
    """What a caller sends: strict, and only fields that are known."""

    model_config = ConfigDict(strict=True, extra="forbid")


def shown(**example: Any) -> ConfigDict:
    """The example that stands in the description."""
    return ConfigDict(json_schema_extra={"example": example})


Size = Annotated[float | None, Field(ge=0, le=1000, allow_inf_nan=False)]


class GrooveGiven(Given):
    """The preparation of a butt joint before welding [mm, °], each with its standard uncertainty where it is known."""

    gap: Size = Field(None, examples=[2.0])
    angle: Size = Field(None, examples=[60.0], description="Between the two edges; 0 where they are square.")
    root_face: Size = Field(None, examples=[1.0])
    bevelled: Literal["both", "1", "2"] = Field("both", examples=["both"])
    u_gap: Size = Field(None, examples=[0.2])
    u_angle: Size = Field(None, examples=[2.0])
    u_root_face: Size = Field(None, examples=[0.2])


class JointGiven(Given):
    """The joint of a trial [mm]."""

    family: Literal["tee", "lap", "corner", "butt", "bead"] = Field(examples=["tee"])
    thickness_1: Length = Field(None, examples=[8.0])
    thickness_2: Length = Field(None, examples=[6.0])
    throat: Length = Field(None, examples=[4.0])
    groove: GrooveGiven | None = None


class TrialGiven(Given):
    """A new trial; without a code it takes the next free one."""

    model_config = shown(code="N7", question="does sheet 4 give a 4 mm throat?",
                          joint={"family": "tee", "thickness_1": 8.0, "thickness_2": 6.0, "throat": 4.0})  # fmt: skip
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

    model_config = shown(settings=[{"name": "volts", "value": "18.5 V", "origin": "set"},
                                    {"name": "travel", "value": "30 cm/min", "origin": "set"},
                                    {"name": "amps", "value": "150±3 A", "origin": "read"}])  # fmt: skip
    settings: list[SettingGiven] = Field(default_factory=list, max_length=100)
    like: str = Field("", max_length=40, description="Code of a bead whose settings it takes over.")


class SettingsGiven(Given):
    """Settings that are added to a bead, with the edition that the caller looked at."""

    model_config = shown(edition=1, settings=[{"name": "amps", "value": "148±3 A", "origin": "read"}])
    edition: int = Field(ge=1, le=1_000_000)
    settings: list[SettingGiven] = Field(min_length=1, max_length=100)


class CutGiven(Given):
    """How a coupon or a piece is cut: into so many, or at these places along it [mm]."""

    model_config = shown(into=2, at=[], kerf=1.2, place="drawer 4")
    into: int = Field(2, ge=2, le=60)
    at: list[Annotated[float, Field(gt=0, le=100_000, allow_inf_nan=False)]] = Field(
        default_factory=list, max_length=60
    )
    kerf: float = Field(0.0, ge=0, le=100, allow_inf_nan=False)
    place: str = Field("", max_length=TEXT)


class PlaceGiven(Given):
    """Where a piece is now."""

    model_config = shown(place="drawer 4", state="kept", remarks="", edition=1)
    place: str | None = Field(None, max_length=TEXT)
    state: Literal["kept", "lost", "scrapped", "sent away"] | None = None
    remarks: str | None = Field(None, max_length=TEXT)
    edition: int = Field(0, ge=0, le=1_000_000, description="The edition you looked at; 0 where you did not.")


class FaceGiven(Given):
    """A new face of a piece; `towards` is the piece that it met across the cut."""

    model_config = shown(towards="N1-01-B", remarks="")
    towards: str = Field("", max_length=40)
    remarks: str = Field("", max_length=TEXT)


class ReadGiven(Given):
    """How a picture is to be read; what is left out is as the trial says."""

    model_config = shown(joint="tee", scale_from="thickness_1=8", px_per_mm="")
    joint: str = Field("", max_length=20)
    scale_from: str = Field("", max_length=80, description="rule, thickness_1=8 and so on; no scale is ever guessed.")
    px_per_mm: str = Field("", max_length=30)


class JudgementGiven(Given):
    """The limits against which a reading is judged, and the edition that the caller looked at."""

    model_config = shown(against="iso-5817:B", edition=1)
    against: str = Field(max_length=60)
    edition: int = Field(ge=1, le=1_000_000)


class CorrectionGiven(Given):
    """All marks of a reading as they are to be, with the edition that the caller began with."""

    model_config = shown(edition=1, marks={"toe_1": [412.5, 588.0], "weld_face": [[500.0, 560.0], [540.0, 571.0]]},
                          scale="")  # fmt: skip
    edition: int = Field(ge=1, le=1_000_000)
    marks: dict[str, Any] = Field(default_factory=dict, max_length=20)
    scale: str = Field("", max_length=200, description="Where the millimetres are to come from instead, such as rule.")


class DecisionGiven(Given):
    """Which of two is to stand, and the edition that was shown beside the draft."""

    model_config = shown(choice="both", edition=2)
    choice: Literal["mine", "both", "theirs"]
    edition: int = Field(ge=1, le=1_000_000)


class AnswerGiven(Given):
    """What somebody found out about an indication: the check and its result."""

    model_config = shown(check="removed_by_polishing", state="no")
    check: str = Field(max_length=80)
    state: str = Field(max_length=80)


class PairGiven(Given):
    """The code that the shop's PC shows, and a name for the device."""

    model_config = shown(code="K7QX-2MPD", name="camera PC")
    code: str = Field(max_length=20)
    name: str = Field(min_length=1, max_length=40)
