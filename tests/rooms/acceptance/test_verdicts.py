"""The verdict on one dimension, worked out by hand: z = 1.6449 is the one-sided factor of a 5 % risk."""

import pytest

from etchbook.acceptance import Finding, Verdict, judge
from etchbook.picture import NoScale, Scale
from etchbook.quantity import Absent
from etchbook.section import Reading
from etchbook.tables import load_limits, own_limits
from rooms.acceptance.sections import reading_of


def found(reading: Reading, against: str, dimension: str, item: str, risk: float = 0.05) -> Finding:
    limits = own_limits(against) if "\n" in against else load_limits(against)
    findings = [
        each
        for each in judge(reading, limits, risk=risk).findings
        if each.limit.item == item and each.dimension == dimension
    ]
    assert len(findings) == 1
    return findings[0]


def leg(value: float, u: float, text: str = "least = 6") -> Finding:
    return found(reading_of("tee", {"leg_1": (value, u)}), f"[leg_1]\n{text}\n", "leg_1", "leg_1")


@pytest.mark.parametrize(
    ("value", "u", "verdict"),
    [
        (6.0, 0.0, Verdict.MET),  # exactly at the limit and exactly known
        (5.9999, 0.0, Verdict.NOT_MET),
        (6.0, 0.1, Verdict.TOO_CLOSE),  # even odds
        (6.15, 0.1, Verdict.TOO_CLOSE),  # 93.3 %: short of 95 %
        (6.164, 0.1, Verdict.TOO_CLOSE),
        (6.165, 0.1, Verdict.MET),  # 6 + 1.6449 x 0.1 = 6.16449
        (5.836, 0.1, Verdict.TOO_CLOSE),
        (5.835, 0.1, Verdict.NOT_MET),  # 6 - 0.16449 = 5.83551
    ],
)
def test_least_with_a_guard_band(value: float, u: float, verdict: Verdict) -> None:
    assert leg(value, u).verdict is verdict


def test_the_probability_is_that_of_the_normal_distribution() -> None:
    assert leg(6.15, 0.1).probability == pytest.approx(0.9332, abs=5e-5)  # normal table at 1.5


def test_a_larger_risk_narrows_the_doubt() -> None:
    reading = reading_of("tee", {"leg_1": (6.15, 0.1)})
    assert found(reading, "[leg_1]\nleast = 6\n", "leg_1", "leg_1", risk=0.10).verdict is Verdict.MET


def test_least_and_most_together_count_both_tails() -> None:
    # each side 1.8 u away: 3.59 % above and below, 92.8 % inside; one side alone would be met
    both = leg(6.0, 0.1, "least = 5.82\nmost = 6.18")
    assert both.verdict is Verdict.TOO_CLOSE
    assert both.probability == pytest.approx(0.9281, abs=1e-4)
    assert leg(6.0, 0.1, "least = 5.82").verdict is Verdict.MET


def test_the_bounds_own_uncertainty_counts() -> None:
    # most = 0.5 b with b = 10 ± 0.4: 5.0 ± 0.2; x = 4.7 ± 0.15; the margin 0.3 has u = 0.25, 1.2 u away
    reading = reading_of("butt", {"weld_width": (10.0, 0.4), "excess_weld_metal": (4.7, 0.15)})
    finding = found(reading, '[excess_weld_metal]\nmost = "0.5 * b"\n', "excess_weld_metal", "excess_weld_metal")
    assert finding.probability == pytest.approx(0.8849, abs=1e-4)  # normal table at 1.2
    assert finding.verdict is Verdict.TOO_CLOSE


def test_an_error_of_the_scale_moves_value_and_bound_together() -> None:
    # Both u come from a 4 % scale alone, and 4.7 < 0.5 x 10 whatever the scale: the margin 0.3 has u = 0.04 x 0.3.
    reading = reading_of(
        "butt",
        {"weld_width": (10.0, 0.4), "excess_weld_metal": (4.7, 0.188)},
        scale=Scale(px_per_mm=40.0, u=1.6, origin="given"),
    )
    finding = found(reading, '[excess_weld_metal]\nmost = "0.5 * b"\n', "excess_weld_metal", "excess_weld_metal")
    assert finding.verdict is Verdict.MET
    assert finding.probability is not None and finding.probability > 0.9999


def test_a_cap_holds_where_the_formula_goes_beyond_it() -> None:
    # toes 1000 px apart at 40 px/mm: b = 25 mm, 1 + 2.5 = 3.5, capped at 3
    reading = reading_of("tee", {"convexity": (3.2, 0.01)}, toes=((0, 0), (600, 800)), thickness_1=8, thickness_2=6)
    finding = found(reading, "iso-5817:B", "convexity", "convexity")
    assert finding.bound == 3.0
    assert finding.verdict is Verdict.NOT_MET
    assert finding.formula == "1 + 0.1 × 25.00 = 3.50 mm, at most 3 mm"


def test_a_hollow_face_is_no_excessive_convexity() -> None:
    reading = reading_of("tee", {"convexity": (-0.8, 0.05)}, thickness_1=8, thickness_2=6)
    assert found(reading, "iso-5817:B", "convexity", "convexity").verdict is Verdict.MET


def test_a_hollow_face_counts_where_concavity_is_limited_too() -> None:
    reading = reading_of("tee", {"convexity": (-1.9, 0.05)})
    assert found(reading, "asme-ix:QW-184", "convexity", "profile").verdict is Verdict.NOT_MET


def undercut(value: float, u: float, against: str, thickness: float) -> Verdict:
    reading = reading_of("tee", {"undercut_1": (value, u)}, thickness_1=thickness, thickness_2=thickness)
    return found(reading, against, "undercut_1", "undercut").verdict


@pytest.mark.parametrize(
    ("value", "u", "verdict"),
    [
        (0.0, 0.0, Verdict.MET),
        (0.0, 0.05, Verdict.MET),  # up to 0.082 mm could hide
        (0.0, 0.07, Verdict.TOO_CLOSE),  # up to 0.115 mm could hide
        (0.05, 0.01, Verdict.TOO_CLOSE),  # surely something, but smaller than what counts
        (0.2, 0.05, Verdict.NOT_MET),  # 0.2 - 0.082 is above 0
        (0.2, 0.15, Verdict.TOO_CLOSE),  # 0.2 - 0.247 is not
        (0.11, 0.0, Verdict.NOT_MET),
    ],
)
def test_not_permitted(value: float, u: float, verdict: Verdict) -> None:
    assert undercut(value, u, "iso-5817:B", 2.0) is verdict


def test_met_where_nothing_is_permitted_says_that_it_is_this_section_only() -> None:
    reading = reading_of("tee", {"overlap_1": (0.0, 0.02)}, thickness_1=8, thickness_2=6)
    finding = found(reading, "iso-5817:B", "overlap_1", "overlap")
    assert finding.verdict is Verdict.MET
    assert "on this section" in finding.words and "0.03 mm" in finding.words  # 1.6449 x 0.02


@pytest.mark.parametrize(
    ("value", "u", "verdict"),
    [
        (0.15, 0.01, Verdict.ONLY_IF_SHORT),  # 0.1 t = 0.2
        (0.2, 0.0, Verdict.ONLY_IF_SHORT),  # exactly at the limit
        (0.19, 0.02, Verdict.TOO_CLOSE),
        (0.3, 0.02, Verdict.NOT_MET),
        (0.0, 0.02, Verdict.MET),  # nothing there to be short or long
    ],
)
def test_only_if_short(value: float, u: float, verdict: Verdict) -> None:
    assert undercut(value, u, "iso-5817:C", 2.0) is verdict


@pytest.mark.parametrize(
    ("thickness", "verdict"),
    [
        (3.0, Verdict.NOT_MET),  # 3 mm belongs to the thin band: not permitted at level B
        (3.01, Verdict.MET),  # 0.05 t = 0.1505 mm
        (0.4, Verdict.DOES_NOT_APPLY),
    ],
)
def test_band_edges(thickness: float, verdict: Verdict) -> None:
    assert undercut(0.15, 0.0001, "iso-5817:B", thickness) is verdict


def test_a_measured_thickness_on_the_edge_of_two_bands_leaves_it_open() -> None:
    values = {"undercut_1": (0.14, 0.001), "thickness_1": (3.0, 0.1), "thickness_2": (8.0, 0.1)}
    finding = found(reading_of("tee", values), "iso-5817:B", "undercut_1", "undercut")
    assert finding.verdict is Verdict.TOO_CLOSE
    assert "which range holds" in finding.words


def test_bands_that_agree_leave_nothing_open() -> None:
    values = {"undercut_1": (0.9, 0.001), "thickness_1": (3.0, 0.1), "thickness_2": (8.0, 0.1)}
    assert found(reading_of("tee", values), "iso-5817:B", "undercut_1", "undercut").verdict is Verdict.NOT_MET


def test_each_undercut_is_held_against_its_own_member() -> None:
    reading = reading_of(
        "tee", {"undercut_1": (0.38, 0.001), "undercut_2": (0.38, 0.001)}, thickness_1=8, thickness_2=6
    )
    bounds = [found(reading, "iso-5817:B", f"undercut_{n}", "undercut") for n in (1, 2)]
    assert [each.bound for each in bounds] == pytest.approx([0.4, 0.3])
    assert [each.verdict for each in bounds] == [Verdict.MET, Verdict.NOT_MET]


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(0.9, Verdict.MET), (1.2, Verdict.ONLY_IF_SHORT), (2.0, Verdict.ONLY_IF_SHORT), (2.1, Verdict.NOT_MET)],
)
def test_deeper_only_for_a_short_length(value: float, verdict: Verdict) -> None:
    assert undercut(value, 0.0, "aws-d1.1:static", 8.0) is verdict


def test_an_undersize_leg_is_only_if_short() -> None:
    # throat 4 asked for: leg 5.657; 2 mm less on a short length
    reading = reading_of("tee", {"leg_1": (5.1, 0.05)}, throat=4.0)
    finding = found(reading, "aws-d1.1:static", "leg_1", "undersize")
    assert finding.verdict is Verdict.ONLY_IF_SHORT
    assert finding.bound == pytest.approx(5.657, abs=5e-4)


@pytest.mark.parametrize(("x", "verdict"), [(5.0, Verdict.MET), (4.4, Verdict.ONLY_IF_SHORT), (4.1, Verdict.NOT_MET)])
def test_the_throat_is_held_against_the_throat_asked_for(x: float, verdict: Verdict) -> None:
    # level C, a = 5: 0.3 + 0.5 = 0.8 mm too little is allowed when short
    reading = reading_of("tee", {"nominal_throat": (x, 0.01)}, thickness_1=8, thickness_2=6, throat=5.0)
    assert found(reading, "iso-5817:C", "nominal_throat", "insufficient_throat").verdict is verdict


def test_without_a_throat_asked_for_the_throat_is_not_judged() -> None:
    reading = reading_of("tee", {"nominal_throat": (5.0, 0.01)}, thickness_1=8, thickness_2=6)
    finding = found(reading, "iso-5817:C", "nominal_throat", "insufficient_throat")
    assert finding.verdict is Verdict.NOT_READABLE and "throat" in finding.words
    assert finding.bound is None


def test_asymmetry_falls_back_on_the_throat_as_read() -> None:
    # a = 4.0 read: 1.5 + 0.6 = 2.1
    reading = reading_of("tee", {"asymmetry": (2.0, 0.01), "nominal_throat": (4.0, 0.05)}, thickness_1=8, thickness_2=6)
    finding = found(reading, "iso-5817:B", "asymmetry", "asymmetry")
    assert finding.bound == pytest.approx(2.1)
    assert "4.00 ± 0.10 mm" in finding.words


def test_what_was_not_read_is_not_judged() -> None:
    reading = reading_of("tee", {}, thickness_1=8, thickness_2=6)
    finding = found(reading, "iso-5817:B", "undercut_1", "undercut")
    assert finding.verdict is Verdict.NOT_READABLE
    assert isinstance(finding.value, Absent) and "left out of this example" in finding.words
    assert finding.probability is None


def test_without_the_thickness_the_limit_is_not_reckoned() -> None:
    finding = found(reading_of("tee", {"undercut_1": (0.2, 0.02)}), "iso-5817:B", "undercut_1", "undercut")
    assert finding.verdict is Verdict.NOT_READABLE and "thickness of member 1" in finding.words


def test_without_a_scale_angles_are_judged_and_widths_are_not() -> None:
    reading = reading_of(
        "tee",
        {"toe_angle_1": (130.0, 3.0), "convexity": (1.0, 0.1)},
        scale=NoScale(reason="no scale was given"),
        thickness_1=8,
        thickness_2=6,
    )
    assert found(reading, "iso-5817:B", "toe_angle_1", "toe_angle_fillet").verdict is Verdict.MET
    convexity = found(reading, "iso-5817:B", "convexity", "convexity")
    assert convexity.verdict is Verdict.NOT_READABLE and "no scale was given" in convexity.words


def test_a_missing_toe_leaves_the_face_width_out() -> None:
    reading = reading_of("tee", {"convexity": (1.0, 0.1)}, toes=None, thickness_1=8, thickness_2=6)
    assert found(reading, "iso-5817:B", "convexity", "convexity").verdict is Verdict.NOT_READABLE
