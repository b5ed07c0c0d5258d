"""Marks that are being moved on a picture: numbers and lines come back."""

import hmac
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Header, Request
from pydantic import BaseModel, ConfigDict, Field

from etchbook.usecases.remeasuring import rows
from etchbook.web.bench import get_book, hand_of
from etchbook.web.safety.forms import ForeignFormError
from etchbook.wiring import benchpicture
from etchbook.wiring.benchlines import lines_of, outline_told, scale_words


def own_page(request: Request, x_token: Annotated[str, Header()] = "") -> None:
    """Refuse what does not carry this session's token."""
    if not hmac.compare_digest(x_token, request.state.token):
        raise ForeignFormError("this page was open in another session: load it again")


router = APIRouter(prefix="/api/reading", include_in_schema=False, dependencies=[Depends(own_page)])


class Moved(BaseModel):
    """Marks as a page holds them: names as in a marks file, points in picture pixels."""

    model_config = ConfigDict(extra="forbid", strict=True)

    marks: dict[str, Any] = Field(default_factory=dict, max_length=20)
    scale: str = Field(default="", max_length=200)
    quick: bool = False


class Saved(Moved):
    """The same, with the edition that the person began with."""

    edition: int = Field(ge=1)


@router.post("/{code}/moved")
def moved(request: Request, code: str, told: Moved) -> dict[str, Any]:
    """What the marks make of the section."""
    again, reading = benchpicture.moved(get_book(request), code, told.marks, told.scale, told.quick)
    return {
        "rows": rows(again, reading.dimensions),
        "outline": outline_told(again.outline),
        "lines": lines_of(again, reading),
        "scale": scale_words(again.scale),
        "doubts": [{"part": one.part, "reason": one.reason, "remedy": one.remedy} for one in again.doubts],
        "asked": again.asked,
    }


@router.post("/{code}/save")
def save(request: Request, code: str, told: Saved) -> dict[str, int]:
    """Keep the reading with these marks as its next edition."""
    made = benchpicture.save(get_book(request), hand_of(request), code, told.marks, told.scale, told.edition)
    return {"edition": made}
