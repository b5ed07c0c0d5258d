"""Records as plain values and back; what does not fit is refused in a sentence."""

import json
from typing import Any

import pytest

from etchbook.joint import Groove, Joint
from etchbook.trials import KINDS, BodyError, body_of, record_of
from etchbook.trials.records import (
    Answer,
    Bead,
    Certificate,
    Coupon,
    Dimension,
    Face,
    Facing,
    FindingEntry,
    IndicationEntry,
    JudgementEntry,
    PictureEntry,
    Piece,
    Plate,
    ReadingEdition,
    Record,
    Setting,
    Step,
    Trial,
)

RECORDS: dict[str, Record] = {
    "trial": Trial(code="N1", mark="m", joint=Joint(family="butt", thickness_1=8.0, groove=Groove(gap=2.0, u_gap=0.2))),
    "bead": Bead(code="N1-01", settings=(Setting(name="volts", origin="read", value=18.5, u=0.1),), welded="2026"),
    "coupon": Coupon(code="N1-01-0", beads=("N1-01", "N1-02"), plates=(Plate(member=1, thickness=8.0),), length=150.0),
    "piece": Piece(code="N1-01-A", parent="N1-01-0", facing=(Facing(cut=1, other="N1-01-B", end="stop"),)),
    "face": Face(code="N1-01-A-1", steps=(Step(kind="etch", etchant="nital 3 %", seconds=8.0),)),
    "picture": PictureEntry(code="N1-01-A-1-P1", sha256="0", name="p", suffix=".jpg", size=1, width=2, height=3),
    "reading": ReadingEdition(
        code="N1-01-A-1-P1-R1", document="0", picture="1", made="corrected", program="p", family="tee",
        dimensions=(Dimension(name="leg_1", value=6.0, u=0.1, dof=7.0), Dimension(name="leg_2", absent="hidden")),
    ),
    "indication": IndicationEntry(code="N1-01-A-1-P1-R1-X1", answers=(Answer(check="magnet", answer="none"),)),
    "judgement": JudgementEntry(
        code="N1-01-A-1-P1-R1-J1", edition=2, against="a", title="t", risk=0.05,
        findings=(FindingEntry(verdict="met", item="503"),),
    ),
    "certificate": Certificate(code="CERT-1", heat="4711", composition={"C": 0.15}),
}  # fmt: skip


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_kind_goes_through_json_and_comes_back(kind: str) -> None:
    assert record_of(kind, json.loads(json.dumps(body_of(RECORDS[kind])))) == RECORDS[kind]


@pytest.mark.parametrize(
    ("kind", "body", "said"),
    [
        ("thing", {}, "newer etchbook"),
        ("bead", [], "named values"),
        ("bead", {}, "code of bead is missing"),
        ("bead", {"code": "N1-01", "colour": 1}, '"colour"'),
        ("bead", {"code": 1}, "text"),
        ("bead", {"code": "N1-01", "settings": {}}, "a list"),
        ("bead", {"code": "N1-01", "settings": [{"name": "volts", "value": "18"}]}, "finite number"),
        ("bead", {"code": "N1-01", "settings": [{"name": "volts", "value": float("nan")}]}, "finite number"),
        ("bead", {"code": "N1-01", "settings": [{"name": "volts", "value": True}]}, "finite number"),
        ("bead", {"code": "N1-01", "settings": [{"name": "volts", "origin": "guessed"}]}, "set, read, seen"),
        ("judgement", {**body_of(RECORDS["judgement"]), "edition": 1.5}, "whole number"),
        ("certificate", {"code": "CERT-1", "heat": "1", "composition": []}, "named values"),
    ],
)
def test_what_does_not_fit_is_refused(kind: str, body: Any, said: str) -> None:
    with pytest.raises(BodyError, match=said) as refused:
        record_of(kind, body)
    assert "\n" not in str(refused.value)


def test_a_record_of_an_older_program_takes_the_defaults() -> None:
    assert record_of("bead", {"code": "N1-01"}) == Bead(code="N1-01")
