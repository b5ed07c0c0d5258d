"""Sets of limits as JSON: those of the standards, and a shop's own that are kept, changed, binned, brought back."""

from dataclasses import asdict
from pathlib import Path as Folder
from typing import Annotated

from fastapi import Path, Query, Request
from pydantic import BaseModel, Field

from etchbook.tables import limit_sets
from etchbook.usecases.ownlimits import OwnRow, rows_of, toml_of
from etchbook.web.api.shapes import Given, shown
from etchbook.web.api.told import Names
from etchbook.web.api.verbs import After, Limit, sliced, verbs
from etchbook.web.api.weldshapes import Value
from etchbook.web.bench import get_bench, hand_of
from etchbook.wiring import limitsbin, ownlimits

router = verbs("limits")
OwnName = Annotated[str, Path(max_length=60, examples=["bracket-sheet-4"])]
Mark = Annotated[str, Field(max_length=64, description="The `mark` of the limits that you looked at.")]
Words = Annotated[str, Field(max_length=400)]
ROW = {"dimension": "throat", "least": "0.9 * a", "most": "", "cap": "", "short": False, "title": "",
       "clause": "sheet 4", "remark": ""}  # fmt: skip
OWN = {"name": "bracket-sheet-4", "against": "own:bracket-sheet-4", "title": "Bracket fillet, sheet 4", "mark": "9f2c"}
LYING = {"id": "bracket-sheet-4.1", "name": "bracket-sheet-4", "title": "Bracket fillet, sheet 4", "by": "anna",
         "at": "2026-03-14T09:30:00+01:00"}  # fmt: skip


class OwnRowGiven(Given):
    """Limits on one dimension, by its id: numbers in its unit, or formulas such as 0.9 * a."""

    dimension: str = Field(max_length=60, examples=["throat"])
    least: Value = Field("", examples=["0.9 * a"])
    most: Value = ""
    cap: Value = Field("", description="A number that the formula of `most` is not to exceed.")
    short: bool = Field(False, description="More than nothing is permitted only where it is short.")
    title: Words = ""
    clause: Words = ""
    remark: Words = ""


class OwnLimitsGiven(Given):
    """Own limits whole; `mark` is that of the ones you looked at, "" where they are new."""

    model_config = shown(title="Bracket fillet, sheet 4", mark="", rows=[{"dimension": "leg_1", "least": 3.0},
                         {"dimension": "throat", "least": "0.9 * a", "clause": "sheet 4"}])  # fmt: skip
    title: str = Field(min_length=1, max_length=200)
    rows: list[OwnRowGiven] = Field(min_length=1, max_length=60)
    mark: Mark = ""


class OwnRowTold(BaseModel):
    """Limits on one dimension, as they were written."""

    dimension: str
    least: str
    most: str
    cap: str
    short: bool
    title: str
    clause: str
    remark: str


class OwnListed(BaseModel):
    """Own limits of this book; `against` is the name by which a reading is judged."""

    name: str
    against: str
    title: str
    mark: str


class OwnLimitsTold(OwnListed):
    """Own limits whole."""

    model_config = shown(**OWN, rows=[ROW])
    rows: list[OwnRowTold]


class OwnSetsTold(BaseModel):
    """A page of own limits; `next` goes into `after`, "" at the end."""

    model_config = shown(items=[OWN], next="")
    items: list[OwnListed]
    next: str


class BinnedTold(BaseModel):
    """Own limits in the bin, and who put them there."""

    model_config = shown(**LYING)
    id: str
    name: str
    title: str
    by: str
    at: str


class BinnedSetsTold(BaseModel):
    """A page of own limits in the bin, newest first; `next` goes into `after`, "" at the end."""

    model_config = shown(items=[LYING], next="")
    items: list[BinnedTold]
    next: str


def _folder(request: Request) -> Folder:
    return get_bench(request).folder


@router.get("/limits")
def list_limits(request: Request, limit: Limit = 100, after: After = "") -> Names:
    """Names of every set of limits, the book's own first, a page at a time."""
    own = [f"{ownlimits.OWN}{name}" for name in ownlimits.own_sets(_folder(request))]
    shown_now, next_one = sliced([*own, *limit_sets()], limit, after, str)
    return Names(items=list(shown_now), next=next_one)


@router.get("/own-limits")
def list_own_limits(request: Request, limit: Limit = 100, after: After = "") -> OwnSetsTold:
    """Own limits of this book by name, a page at a time."""
    folder = _folder(request)
    names, next_one = sliced(list(ownlimits.own_sets(folder)), limit, after, str)
    return OwnSetsTold(items=[_told(folder, name) for name in names], next=next_one)


@router.get("/own-limits/{name}")
def get_own_limits(request: Request, name: OwnName) -> OwnLimitsTold:
    """Own limits row by row."""
    return _told(_folder(request), name)


def _told(folder: Folder, name: str) -> OwnLimitsTold:
    text = ownlimits.own_text(folder, name)
    title, rows = rows_of(text)
    return OwnLimitsTold(name=name, against=f"{ownlimits.OWN}{name}", title=title or name,
                         mark=ownlimits.mark_of(text), rows=[OwnRowTold(**asdict(one)) for one in rows])  # fmt: skip


@router.put("/own-limits/{name}")
def keep_own_limits(request: Request, name: OwnName, given: OwnLimitsGiven) -> OwnLimitsTold:
    """Keep own limits under a name; what stood there before is kept beside, and never overwritten unseen."""
    rows = [_row(one) for one in given.rows]
    ownlimits.keep_own(_folder(request), name, toml_of(given.title, rows), given.mark)
    return _told(_folder(request), name)


def _row(one: OwnRowGiven) -> OwnRow:
    bounds = {key: value if isinstance(value, str) else repr(value)
              for key, value in (("least", one.least), ("most", one.most), ("cap", one.cap))}  # fmt: skip
    return OwnRow(dimension=one.dimension, short=one.short, title=one.title, clause=one.clause, remark=one.remark,
                  **bounds)  # fmt: skip


@router.delete("/own-limits/{name}")
def bin_own_limits(
    request: Request, name: OwnName, mark: Annotated[str, Query(max_length=64, examples=[""])] = ""
) -> BinnedTold:
    """Put own limits into the bin; judgements that were made by them keep what they found."""
    return _lying(limitsbin.bin_own(_folder(request), name, hand_of(request), mark))


def _lying(one: limitsbin.Binned) -> BinnedTold:
    return BinnedTold.model_validate(one, from_attributes=True)


@router.get("/binned-limits")
def list_binned_limits(request: Request, limit: Limit = 100, after: After = "") -> BinnedSetsTold:
    """Own limits in the bin, newest first, a page at a time."""
    shown_now, next_one = sliced(limitsbin.binned_sets(_folder(request)), limit, after, lambda one: one.id)
    return BinnedSetsTold(items=[_lying(one) for one in shown_now], next=next_one)


@router.post("/binned-limits/{name}/back")
def bring_limits_back(
    request: Request, name: Annotated[str, Path(max_length=60, examples=["bracket-sheet-4.1"])]
) -> OwnLimitsTold:
    """Bring own limits back out of the bin, by their `id` there."""
    return _told(_folder(request), limitsbin.bring_back_own(_folder(request), name))
