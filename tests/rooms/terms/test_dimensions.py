"""The vocabulary against the written definitions of the trade's dimensions."""

import re

import pytest

from etchbook.terms import DIMENSIONS, FAMILIES, WORDS, Family, dimensions_of

FILLET = {
    "leg_1", "leg_2", "nominal_throat", "theoretical_throat", "deep_throat", "asymmetry",
}  # fmt: skip
EVERY = {
    "thickness_1", "penetration_1", "undercut_1", "undercut_2", "overlap_1", "overlap_2", "toe_angle_1", "toe_angle_2",
    "haz_width_1", "haz_width_max", "weld_area", "deposited_area", "fused_plate_area", "dilution", "depth_to_width",
    "pore_area_percent",
}  # fmt: skip
TWO_MEMBERS = {"thickness_2", "penetration_2", "haz_width_2", "throat"}
ROOT = {"convexity", "root_penetration", "missed_root"}
FLAT = {"weld_width", "excess_weld_metal"}
BUTT = {"root_width", "excess_penetration", "root_concavity", "misalignment", "incompletely_filled"}

WANTED: dict[Family, set[str]] = {
    "tee": EVERY | TWO_MEMBERS | ROOT | FILLET,
    "lap": EVERY | TWO_MEMBERS | ROOT | FILLET,
    "corner": EVERY | TWO_MEMBERS | ROOT,
    "butt": EVERY | TWO_MEMBERS | FLAT | BUTT,
    "bead": EVERY | FLAT,
}


@pytest.mark.parametrize("family", FAMILIES)
def test_each_joint_has_its_dimensions(family: Family) -> None:
    assert {term.id for term in dimensions_of(family)} == WANTED[family]


def test_the_order_of_telling_is_the_same_for_every_joint() -> None:
    order = list(DIMENSIONS)
    for family in FAMILIES:
        places = [order.index(term.id) for term in dimensions_of(family)]
        assert places == sorted(places)


@pytest.mark.parametrize("term", [*DIMENSIONS.values(), *WORDS.values()], ids=lambda term: term.id)
def test_each_word_is_whole(term: object) -> None:
    assert re.fullmatch(r"[a-z]+(_[a-z0-9]+)*", term.id)  # type: ignore[attr-defined]
    assert term.label and term.definition.endswith(".")  # type: ignore[attr-defined]


@pytest.mark.parametrize("term", DIMENSIONS.values(), ids=lambda term: term.id)
def test_units_follow_the_kind_of_dimension(term: object) -> None:
    name, unit = term.id, term.unit  # type: ignore[attr-defined]
    if name.endswith("_area"):
        assert unit == "mm²"
    elif name.startswith("toe_angle"):
        assert unit == "°"
    elif name in ("dilution", "depth_to_width"):
        assert unit == ""
    else:
        assert unit == ("%" if name.endswith("_percent") else "mm")
