"""The JSON document: stable, described by its schema, and read back to the same."""

import copy
import json
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from etchbook.acceptance.records import Verdict
from etchbook.joint import Groove, Joint
from etchbook.quantity import Absent, Measured
from etchbook.report import DocumentError, reading_document, reading_from_document
from etchbook.section import CutPlace, Indication, Preparation, Reading
from etchbook.terms import dimensions_of
from rooms.report import example, others

ROOT = Path(__file__).parents[3]


def schema() -> dict[str, Any]:
    return json.loads((resources.files("etchbook.report") / "schema" / "reading.schema.json").read_text("utf-8"))


def through_json(reading: Reading, *, judged: bool = False) -> dict[str, Any]:
    document = reading_document(reading, example.judgement(reading) if judged else None)
    return json.loads(json.dumps(document, allow_nan=False))


def indicated() -> Reading:
    found = Indication(
        where="weld metal", length=Measured(value=0.8, u=0.1, unit="mm"), width=Absent(reason="too thin to measure")
    )
    return example.reading(indications=(found,))


EVERY = {
    "tee": example.reading,
    "no scale": lambda: example.reading(scaled=False),
    "corrected": example.corrected,
    "indicated": indicated,
    "bead": others.bead,
    "butt": others.butt,
    "turned": lambda: others.turned(33.0),
    "nothing": others.nothing,
}


@pytest.mark.parametrize("name", EVERY)
def test_it_comes_back_the_same(name: str) -> None:
    first = through_json(EVERY[name]())
    back = reading_from_document(first)
    assert through_json(back) == first
    assert through_json(reading_from_document(through_json(back))) == first


@pytest.mark.parametrize("name", EVERY)
def test_it_keeps_to_the_schema(name: str) -> None:
    check = jsonschema.Draft202012Validator(schema())
    check.validate(through_json(EVERY[name]()))
    check.validate(through_json(EVERY[name](), judged=name in ("tee", "corrected", "no scale")))


def test_the_schema_in_the_docs_is_the_one_shipped() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    assert json.loads((ROOT / "docs" / "reading.schema.json").read_text("utf-8")) == schema()


@pytest.mark.parametrize(
    "spoil",
    [
        lambda d: d["dimensions"]["leg_1"].pop("u"),
        lambda d: d["dimensions"].update(leg_1={"absent": ""}),
        lambda d: d["scale"].update(px_per_mm=0),
        lambda d: d["outline"].pop("landmarks"),
        lambda d: d["picture"].update(sha256="none"),
        lambda d: d.update(more=1),
    ],
)
def test_the_schema_refuses_what_is_no_reading(spoil: Any) -> None:
    document = through_json(example.reading())
    spoil(document)
    assert not jsonschema.Draft202012Validator(schema()).is_valid(document)


def test_values_stand_as_they_were_read() -> None:
    document = through_json(example.reading(), judged=True)
    assert document["dimensions"]["leg_1"] == {"value": 6.2, "u": 0.041, "unit": "mm"}
    assert document["dimensions"]["penetration_1"]["dof"] == 9.0
    assert list(document["dimensions"]["haz_width_2"]) == ["absent"]
    assert document["scale"] == {"px_per_mm": 40.0, "u": 0.12, "from": "thickness_1=8"}
    assert document["joint"] == {"family": "tee", "thickness_1": 8.0, "thickness_2": 6.0, "throat": 4.0, "groove": None}
    assert [found["verdict"] for found in document["judgement"]["findings"]] == [
        "met", "too close to say", "not met", "only if short", "not readable", "does not apply",
    ]  # fmt: skip
    assert document["judgement"]["counts"] == {str(verdict): 1 for verdict in Verdict}


def test_every_dimension_of_the_joint_is_there_in_its_order() -> None:
    document = through_json(example.reading(dimensions={"leg_2": Measured(value=5.0, u=0.1, unit="mm")}))
    assert list(document["dimensions"]) == [term.id for term in dimensions_of("tee")]
    assert document["dimensions"]["leg_1"]["absent"]


def test_millimetres_are_pixels_over_the_scale() -> None:
    outline = through_json(example.reading())["outline"]
    # The joint root lies at (420, 430) px; toe 1 is 6.2 mm to the right of it, at 40 px/mm.
    assert outline["landmarks"]["toe_1"]["px"] == [668.0, 430.0]
    assert outline["landmarks"]["toe_1"]["mm"] == [16.7, 10.75]
    assert outline["px"]["surface_1"][-1] == [996.0, 430.0]
    assert outline["mm"]["surface_1"][-1] == [24.9, 10.75]
    assert through_json(example.reading(scaled=False))["outline"]["mm"] == {"absent": "no rule lies in the picture"}


def test_the_automatic_outline_is_kept_beside_a_corrected_one() -> None:
    document = through_json(example.corrected())
    assert document["automatic"]["landmarks"]["toe_1"]["px"] == [668.0, 430.0]
    assert document["marks"][0] == {"name": "toe_1", "points": [[668.0, 430.0]], "replaces": False}
    assert document["marks"][1]["replaces"] is True
    assert "automatic" not in through_json(example.reading())


SPOILT = {
    "a list": lambda d: [],
    "another format": lambda d: d | {"format": "something else"},
    "no outline": lambda d: {key: value for key, value in d.items() if key != "outline"},
    "an unknown joint": lambda d: d | {"joint": {"family": "dovetail"}},
    "a scale of 0": lambda d: d | {"scale": {"px_per_mm": 0, "u": 0, "from": "given"}},
    "a scale of text": lambda d: d | {"scale": {"px_per_mm": "40", "u": 0, "from": "given"}},
    "a negative u": lambda d: d | {"dimensions": {"leg_1": {"value": 6, "u": -1, "unit": "mm"}}},
    "a value in another unit": lambda d: d | {"dimensions": {"leg_1": {"value": 6, "u": 0.1, "unit": "in"}}},
    "a value that is not finite": lambda d: d | {"dimensions": {"leg_1": {"value": 1e999, "u": 0.1, "unit": "mm"}}},
    "an unknown dimension": lambda d: d | {"dimensions": {"girth": {"value": 6, "u": 1, "unit": "mm"}}},
    "absent without a reason": lambda d: d | {"dimensions": {"leg_1": {"absent": " "}}},
    "true for a number": lambda d: d | {"picture": d["picture"] | {"width": True}},
    "points in threes": lambda d: d | {"marks": [{"name": "toe_1", "points": [[1, 2, 3]], "replaces": False}]},
    "points of words": lambda d: d | {"marks": [{"name": "toe_1", "points": [["a", "b"]], "replaces": False}]},
    "notes of numbers": lambda d: d | {"notes": [3]},
}


@pytest.mark.parametrize("name", SPOILT)
def test_what_is_no_reading_is_refused_in_one_sentence(name: str) -> None:
    document = SPOILT[name](copy.deepcopy(through_json(example.reading())))
    with pytest.raises(DocumentError) as caught:
        reading_from_document(document)
    told = str(caught.value)
    assert told and "\n" not in told and len(told) < 200


def test_the_preparation_and_the_place_of_the_cut_come_back_as_they_went() -> None:
    groove = Groove(gap=2.0, u_gap=0.2, angle=60.0, root_face=1.0, bevelled="1")
    said = Preparation(consumable="G3Si1", etching="15 s", cut=CutPlace(at=50.0, seam=150.0, towards="start"))
    kept = replace(example.reading(), joint=Joint(family="tee", groove=groove), preparation=said)
    document = through_json(kept)
    jsonschema.Draft202012Validator(schema()).validate(document)
    back = reading_from_document(document)
    assert back.joint.groove == groove and back.preparation == said
    older = through_json(example.reading())
    for name in ("consumable", "purpose", "etching", "place", "further", "cut"):
        older["preparation"].pop(name)  # a document from before these
    assert reading_from_document(older).preparation.cut is None
    document["joint"]["groove"]["bevelled"] = "left"
    with pytest.raises(DocumentError, match="bevelled side"):
        reading_from_document(document)
