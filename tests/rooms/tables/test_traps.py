"""The traps that the standards note met in public prints (its 1.4, and remarks beside figures), one test each."""

import pytest

from etchbook.acceptance import Verdict, judge
from etchbook.tables import Limit, formula, load_limits
from rooms.acceptance.sections import reading_of


def row_of(name: str, row_id: str) -> Limit:
    return next(row for row in load_limits(name).limits if row.id == row_id)


def reach(row: Limit, **numbers: float) -> float:
    return min(formula(row.most).value(numbers), float(row.cap or "inf"))


@pytest.mark.parametrize("level", ["B", "C", "D"])
def test_the_2023_edition_exists_and_no_figure_claims_to_be_of_it(level: str) -> None:
    limits = load_limits(f"iso-5817:{level}")
    assert any("2023 edition exists, whose figures were not seen" in note for note in limits.notes)
    assert not any("2023" in row.edition for row in limits.limits)


def test_convexity_at_level_b_is_capped_at_3_and_not_at_the_5_of_one_level_sheet() -> None:
    row = row_of("iso-5817:B", "convexity")
    assert reach(row, b=25.0) == 3.0
    assert "5 mm" in row.remark and "3 mm" in row.remark


@pytest.mark.parametrize(
    ("level", "limit", "forerunner"),
    [("B", 0.3, 0.5), ("C", 0.5, 1.0), ("D", 1.0, 1.5)],
)
def test_undercut_is_not_the_forerunners_plain_millimetres(level: str, limit: float, forerunner: float) -> None:
    row = row_of(f"iso-5817:{level}", "undercut:thick")
    assert reach(row, t=6.0) == pytest.approx(limit) != forerunner
    assert reach(row, t=100.0) == {"B": 0.5, "C": 0.5, "D": 1.0}[level]


def test_an_8_mm_fillet_under_d1_1_is_not_let_off_with_a_quizs_5_mm() -> None:
    # Equal legs of 8 mm have a face 11.3 mm wide: 3 mm of convexity, not the 3/16 in (5 mm) that a quiz page asserts.
    values = {"convexity": (4.0, 0.05), "leg_1": (8.0, 0.05), "leg_2": (8.0, 0.05)}
    reading = reading_of("tee", values, toes=((0.0, 320.0), (320.0, 0.0)), thickness_1=12.0, thickness_2=12.0)
    found = [item for item in judge(reading, load_limits("aws-d1.1:static")).findings if item.dimension == "convexity"]
    assert [(item.verdict, item.bound) for item in found] == [(Verdict.NOT_MET, 3.0)]


@pytest.mark.parametrize("level", ["C", "D"])
def test_a_short_row_is_never_a_plain_pass(level: str) -> None:
    # Throat of 5 asked for, 4.4 read: the depth keeps to 0.3 + 0.1 x 5 = 0.8 mm, the length one section cannot show.
    reading = reading_of("tee", {"nominal_throat": (4.4, 0.02)}, thickness_1=6.0, thickness_2=6.0, throat=5.0)
    found = judge(reading, load_limits(f"iso-5817:{level}")).findings
    (throat,) = [item for item in found if item.limit.item == "insufficient_throat"]
    assert throat.verdict is Verdict.ONLY_IF_SHORT


def test_undercut_above_3_mm_and_convexity_have_no_length_condition() -> None:
    for level in "BCD":
        assert not row_of(f"iso-5817:{level}", "undercut:thick").short
        assert not row_of(f"iso-5817:{level}", "convexity").short


def test_level_2_of_the_procedure_test_takes_just_the_listed_items_from_level_c() -> None:
    listed = {"undercut", "excess_weld_metal", "convexity", "excess_penetration", "toe_angle_butt",
              "toe_angle_fillet", "excessive_throat"}  # fmt: skip
    for row in load_limits("iso-15614-1:2").limits:
        assert ("level C" in row.clause) == (row.item in listed), row.id


def test_pore_area_is_held_against_the_row_for_a_section_and_not_for_a_projection() -> None:
    assert [reach(row_of(f"iso-5817:{level}", "pore_area")) for level in "BCD"] == [1.0, 1.5, 2.5]


def test_a_bead_on_plate_joins_nothing_and_that_is_said_once_and_first() -> None:
    bead = reading_of("bead", {"undercut_1": (0.0, 0.02), "weld_width": (8.0, 0.1)}, thickness_1=8.0)
    for name in ("iso-5817:B", "iso-15614-1:2", "aws-d1.1:static", "asme-ix:QW-184"):
        judged = judge(bead, load_limits(name))
        assert {item.verdict for item in judged.findings} == {Verdict.DOES_NOT_APPLY}
        assert "does not apply here: a bead on plate joins nothing" in judged.notes[0]
        assert "limits of your own" in judged.notes[0]


@pytest.mark.parametrize("name", ["iso-5817:B", "iso-5817:C", "iso-5817:D"])
def test_every_row_that_the_standard_splits_has_both_thickness_bands(name: str) -> None:
    split = ("surface_pore", "crater_pipe", "undercut", "shrinkage_groove", "excess_penetration", "incompletely_filled",
             "root_concavity", "insufficient_throat", "misalignment", "root_gap")  # fmt: skip
    found = {row.id: row.when for row in load_limits(name).limits}
    for item in split:
        assert found[f"{item}:thin"] == "0.5 <= t <= 3" and found[f"{item}:thick"] == "t > 3"


def test_a_lap_leg_may_not_be_larger_than_the_edge_it_runs_along() -> None:
    # AISC J2 as quoted in the note: below 1/4 in the plate itself, from there on 1/16 in [2 mm] less.
    def leg(thick: float, value: float) -> Verdict:
        values = {"leg_2": (value, 0.02), "leg_1": (8.0, 0.1)}
        reading = reading_of("lap", values, thickness_1=12.0, thickness_2=thick, throat=4.0)
        found = judge(reading, load_limits("aws-d1.1:static")).findings
        return next(item.verdict for item in found if item.limit.item == "greatest_leg")

    assert (leg(5.0, 4.9), leg(5.0, 5.2)) == (Verdict.MET, Verdict.NOT_MET)
    assert (leg(8.0, 5.9), leg(8.0, 6.2)) == (Verdict.MET, Verdict.NOT_MET)
