"""Bench card and cutting sheet: tagged PDF, boxes to tick, drawing true to scale, the same bytes again."""

import json
import re
from datetime import date
from io import BytesIO
from itertools import pairwise
from xml.etree import ElementTree

import pikepdf
import pytest

from etchbook.preparation import CutPlan, CutWish, PreparationPlan, PrepareWish, plan_cuts, plan_preparation
from etchbook.report.card import card_pdf
from etchbook.report.card_words import preparation_document, preparation_text
from etchbook.report.cutting_sheet import cutting_pdf
from etchbook.report.cutting_sheet_drawing import cutting_svg
from etchbook.report.cutting_sheet_words import cuts_document, cuts_text

DAY = date(2026, 3, 9)
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def steps() -> PreparationPlan:
    return plan_preparation(PrepareWish(want="haz", materials=("steel",), cut="saw", etchant="nital 5 %"))


@pytest.fixture(scope="module")
def sawing() -> CutPlan:
    return plan_cuts(
        CutWish(
            coupon="N1-03",
            length=300.0,
            width=80.0,
            family="tee",
            prove="iso-9606-1",
            thickness_1=8.0,
            thickness_2=6.0,
            start_stops=(150.0,),
        )
    )


def structure(pdf: bytes) -> tuple[bool, str, int]:
    with pikepdf.open(BytesIO(pdf)) as opened:
        tagged = bool(opened.Root.MarkInfo.Marked) and b"pdfuaid" in bytes(opened.Root.Metadata.read_bytes())
        return tagged, str(opened.docinfo["/Title"]), len(opened.pages)


def test_the_bench_card_is_tagged_short_and_the_same_again(steps: PreparationPlan) -> None:
    made = card_pdf(steps, today=DAY, piece="N1-03-C")
    tagged, title, pages = structure(made)
    assert tagged and title == steps.title and pages <= 3
    assert made == card_pdf(steps, today=DAY, piece="N1-03-C")


def test_words_of_people_cannot_become_instructions(steps: PreparationPlan) -> None:
    assert structure(card_pdf(steps, today=DAY, piece='#panic("no") $x$ *b* `c`'))[0]


def test_the_cutting_sheet_is_tagged_and_its_drawing_has_words(sawing: CutPlan) -> None:
    made = cutting_pdf(sawing, today=DAY)
    tagged, title, pages = structure(made)
    assert tagged and title.startswith("N1-03") and pages == 2
    assert made == cutting_pdf(sawing, today=DAY)


def test_cuts_are_drawn_to_scale(sawing: CutPlan) -> None:
    root = ElementTree.fromstring(cutting_svg(sawing))
    assert root.get("width") == "250mm" and root.get("viewBox", "").startswith("0 0 250 ")
    # 300 mm fit on 230 mm of paper at 1 : 2; every cut of 2 mm is a bar of 1 mm.
    bars = [r for r in root.iter(f"{SVG}rect") if r.get("fill") == "#1d2422"]
    middles = [float(r.get("x", "0")) + float(r.get("width", "0")) / 2 for r in bars]
    assert len(bars) == len(sawing.cuts)
    assert {float(r.get("width", "0")) for r in bars} == {1.0}
    apart = [b - a for a, b in pairwise(middles)]
    true = [b - a for a, b in pairwise(sawing.at)]
    assert apart == pytest.approx([half / 2 for half in true], abs=0.01)


def test_the_drawing_says_its_scale_every_letter_and_every_place(sawing: CutPlan) -> None:
    told = " ".join(t.text or "" for t in ElementTree.fromstring(cutting_svg(sawing)).iter(f"{SVG}text"))
    assert "one square is 10 mm, drawn 1 : 2" in told
    for piece in sawing.pieces:
        assert re.search(rf"\b{piece.letter}\b", told)
    assert "section 2 on E: 150 mm, stop/start" in told


@pytest.mark.parametrize("family", ["tee", "lap", "corner", "butt", "bead"])
@pytest.mark.parametrize(("length", "width"), [(60.0, 20.0), (240.0, 900.0), (2500.0, 100.0)])
def test_any_joint_and_size_stays_on_the_paper(family: str, length: float, width: float) -> None:
    wish = CutWish(
        coupon="N1-03", length=length, width=width, family=family, prove="own", thickness_1=8.0, discard=10.0  # type: ignore[arg-type]
    )  # fmt: skip
    root = ElementTree.fromstring(cutting_svg(plan_cuts(wish)))
    tall = float(root.get("viewBox", "").split()[-1])
    for bar in root.iter(f"{SVG}rect"):
        x, y = float(bar.get("x", "0")), float(bar.get("y", "0"))
        assert x >= 0 and x + float(bar.get("width", "0")) <= 250
        assert y >= 0 and y + float(bar.get("height", "0")) <= tall
    assert tall <= 174  # what A4, lying, has left under the heading


def test_json_can_be_ticked_off_by_id(steps: PreparationPlan) -> None:
    held = json.loads(json.dumps(preparation_document(steps), allow_nan=False))
    assert held["format"] == "etchbook preparation 1"
    assert [step["id"] for step in held["steps"]] == [step.id for step in steps.steps]
    first = next(step for step in held["steps"] if step["id"] == "grind_p400")
    assert (first["grit"], first["ansi"], first["um"], first["cautions"]) == ("P400", "320", 35, ["grinding"])


def test_json_of_cuts_holds_codes_and_facing_sides(sawing: CutPlan) -> None:
    held = json.loads(json.dumps(cuts_document(sawing), allow_nan=False))
    assert held["format"] == "etchbook cuts 1"
    assert [cut["at"] for cut in held["cuts"]] == list(sawing.at)
    assert held["pieces"][1]["code"] == "N1-03-B" and held["pieces"][1]["faces_after"] == "N1-03-C"


def test_text_tells_each_safety_box_whole_once_and_before_the_step(steps: PreparationPlan) -> None:
    told = preparation_text(steps)
    for box in steps.boxes:
        assert told.count(box.text) == 1
    assert told.index("Measure the ethanol first") < told.index("47.5 mL ethanol")
    assert told.count("[ ]") == len(steps.steps)


def test_text_of_cuts_has_a_box_for_each_cut_and_piece_and_the_words_for_the_book(sawing: CutPlan) -> None:
    told = cuts_text(sawing)
    assert told.count("[ ]") == len(sawing.cuts) + len(sawing.pieces)
    assert "etchbook cut N1-03 --at 26mm," in told and "--kerf 2mm" in told
