"""Marks that are being moved on a picture: numbers and lines come back."""

import hmac
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Header, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from etchbook.web.bench import get_book, hand_of
from etchbook.web.safety.forms import ForeignFormError
from etchbook.wiring import benchpicture, blinking


def own_page(request: Request, x_token: Annotated[str, Header()] = "") -> None:
    """Refuse what does not carry this session's token."""
    if not hmac.compare_digest(x_token, request.state.token):
        raise ForeignFormError("this page was open in another session, so nothing was kept: do it once more")


router = APIRouter(prefix="/api/reading", include_in_schema=False, dependencies=[Depends(own_page)])


class Moved(BaseModel):
    """Marks as a page holds them: names as in a marks file, points in picture pixels."""

    model_config = ConfigDict(extra="forbid", strict=True)

    marks: dict[str, Any] = Field(default_factory=dict, max_length=20)
    scale: str = Field(default="", max_length=200)
    quick: bool = False
    edition: int = Field(default=0, ge=0)


class Saved(Moved):
    """The same, with the edition that the person began with."""

    edition: int = Field(ge=1)


@router.post("/{code}/moved")
def moved(request: Request, code: str, told: Moved) -> Response:
    """What the marks make of the section."""
    page = benchpicture.moved(get_book(request), code, told.marks, told.scale, told.quick, told.edition)
    return Response(page, media_type="application/json")


@router.post("/{code}/save")
def save(request: Request, code: str, told: Saved) -> dict[str, int]:
    """Keep the reading with these marks as its next edition."""
    made = benchpicture.save(get_book(request), hand_of(request), code, told.marks, told.scale, told.edition)
    return {"edition": made}


@router.get("/{code}/under/{other}")
def under(request: Request, code: str, other: str) -> dict[str, Any]:
    """Another picture of the same face, and how it lies under the picture of a reading."""
    return blinking.laid_under(get_book(request), code.rpartition("-")[0], other)
