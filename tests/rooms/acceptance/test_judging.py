"""A whole judgement: what applies to which joint, what is counted, what is said."""

from dataclasses import replace

import pytest

from etchbook.acceptance import Verdict, judge
from etchbook.section import Doubt
from etchbook.tables import limit_sets, load_limits
from etchbook.terms import FAMILIES, dimensions_of
from rooms.acceptance.sections import reading_of

TEE = reading_of(
    "tee",
    {
        "convexity": (1.2, 0.05),
        "undercut_1": (0.0, 0.02),
        "undercut_2": (0.4, 0.02),
        "overlap_1": (0.0, 0.02),
        "overlap_2": (0.0, 0.02),
        "toe_angle_1": (130.0, 3.0),
        "toe_angle_2": (109.0, 3.0),
        "asymmetry": (0.4, 0.05),
        "missed_root": (0.0, 0.03),
        "nominal_throat": (4.2, 0.05),
        "throat": (4.6, 0.05),
    },
    thickness_1=8.0,
    thickness_2=6.0,
    throat=4.0,
)


def verdicts(findings: object) -> dict[tuple[str, str], Verdict]:
    return {(each.limit.item, each.dimension): each.verdict for each in findings}  # type: ignore[attr-defined]


def test_a_tee_at_level_b() -> None:
    answers = verdicts(judge(TEE, load_limits("iso-5817:B")).findings)
    assert answers["convexity", "convexity"] is Verdict.MET  # 1 + 0.1 x 10 = 2.0
    assert answers["undercut", "undercut_1"] is Verdict.MET
    assert answers["undercut", "undercut_2"] is Verdict.NOT_MET  # 0.05 x 6 = 0.3
    assert answers["toe_angle_fillet", "toe_angle_1"] is Verdict.MET
    assert answers["toe_angle_fillet", "toe_angle_2"] is Verdict.TOO_CLOSE  # 109 ± 6 against 110
    assert answers["insufficient_throat", "nominal_throat"] is Verdict.MET
    assert answers["crack", ""] is Verdict.NOT_READABLE
    assert answers["excess_weld_metal", "excess_weld_metal"] is Verdict.DOES_NOT_APPLY


def test_counts_add_up_to_the_findings() -> None:
    judgement = judge(TEE, load_limits("iso-5817:B"))
    assert list(judgement.counts) == [str(verdict) for verdict in Verdict]
    assert sum(judgement.counts.values()) == len(judgement.findings)
    assert judgement.counts["not met"] == 1


def test_level_2_of_the_procedure_test_is_milder_on_undercut() -> None:
    answers = verdicts(judge(TEE, load_limits("iso-15614-1:2")).findings)
    assert answers["undercut", "undercut_2"] is Verdict.MET  # level C: 0.1 x 6 = 0.6, at most 0.5
    assert answers["toe_angle_fillet", "toe_angle_2"] is Verdict.MET  # 109 ± 6 against 100


def test_it_never_calls_itself_a_certificate() -> None:
    notes = judge(TEE, load_limits("iso-5817:B")).notes
    assert any("never a certificate" in note for note in notes)
    assert any("5 %" in note for note in notes)
    assert any("2023" in note for note in notes)


def test_doubtful_parts_are_named() -> None:
    doubtful = replace(TEE, doubts=(Doubt(part="fusion line 1", reason="faint", remedy="set marks"),))
    assert any("fusion line 1" in note for note in judge(doubtful, load_limits("iso-5817:B")).notes)
    assert not any("doubtful" in note for note in judge(TEE, load_limits("iso-5817:B")).notes)


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("name", limit_sets())
def test_every_set_answers_for_every_joint_in_words(family: str, name: str) -> None:
    middling = {term.id: (4.0, 0.1) for term in dimensions_of(family)}  # type: ignore[arg-type]
    judgement = judge(reading_of(family, middling, thickness_1=8.0, thickness_2=6.0, throat=4.0), load_limits(name))
    assert judgement.findings
    for each in judgement.findings:
        row = each.limit
        assert each.words.endswith(".") and row.source in each.words and row.status in each.words
        assert row.edition in each.words and row.clause in each.words
        reckoned = each.verdict not in (Verdict.NOT_READABLE, Verdict.DOES_NOT_APPLY)
        assert reckoned == (each.probability is not None)
        if reckoned:
            assert "±" in each.words and each.formula and each.bound is not None


def test_a_bead_on_plate_is_no_joint_for_iso_5817() -> None:
    bead = reading_of("bead", {"undercut_1": (0.0, 0.02)}, thickness_1=8.0)
    answers = judge(bead, load_limits("iso-5817:B")).findings
    found = next(each for each in answers if each.limit.item == "undercut")
    assert found.verdict is Verdict.DOES_NOT_APPLY and "bead on plate" in found.words


def test_short_rows_never_give_a_plain_met_to_something_that_is_there() -> None:
    for name in limit_sets():
        for value in (0.15, 0.3, 0.6, 1.0):
            values = {term.id: (value, 0.001) for term in dimensions_of("butt")}
            judged = judge(reading_of("butt", values, thickness_1=8.0, thickness_2=8.0), load_limits(name))
            short = [each for each in judged.findings if each.limit.short]
            assert all(each.verdict is not Verdict.MET for each in short)


@pytest.mark.parametrize("risk", [0.0, -0.1, 0.51, float("nan")])
def test_a_risk_out_of_range_is_refused(risk: float) -> None:
    with pytest.raises(ValueError, match="risk"):
        judge(TEE, load_limits("iso-5817:B"), risk=risk)
