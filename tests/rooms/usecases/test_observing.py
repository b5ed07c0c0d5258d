import numpy as np
import pytest

from etchbook.quantity import Absent
from etchbook.section import Indication
from etchbook.section.records import Meeting
from etchbook.usecases.observing import inside, observe
from rooms.usecases.marked import mm, plate_line, reading_with


def _seen(line: Indication, **dimensions) -> dict[str, str]:
    return {answer.observation: answer.state for answer in observe(reading_with(line, **dimensions), line).answers}


def test_a_line_at_mid_thickness_answers_what_its_fields_say():
    assert _seen(plate_line()) == {
        "parallel": "yes",
        "depth": "middle",
        "members": "one_only",
        "to_fusion_line": "stops",
        "edges": "wide_soft",
        "along_scratches": "no",
    }


def test_every_answer_is_signed_by_the_picture_and_carries_its_figure():
    line = plate_line()
    answers = {answer.observation: answer for answer in observe(reading_with(line), line).answers}
    assert all(answer.by == "the picture" for answer in answers.values())
    assert answers["depth"].words == "0.500 ± 0.010"


def test_absent_fields_answer_nothing():
    line = Indication(where="member_1", length=Absent(reason="no scale"), width=Absent(reason="no scale"))
    assert set(_seen(line)) == {"members"}


@pytest.mark.parametrize(
    ("value", "u", "state"),
    [
        (0.5, 0.01, "middle"),
        (0.05, 0.01, "near_face"),
        (0.95, 0.01, "near_face"),
        (0.3, 0.01, "between"),
        (0.45, 0.02, None),
        (0.5, 0.06, None),
    ],
)
def test_depth_is_told_only_where_its_u_leaves_little_doubt(value, u, state):
    assert _seen(plate_line(depth_fraction=mm(value, u, ""))).get("depth") == state


@pytest.mark.parametrize(("angle", "state"), [(0.0, "yes"), (8.0, "no"), (2.0, None)])
def test_parallel(angle, state):
    assert _seen(plate_line(angle_to_surface=mm(angle, 0.5, "°"))).get("parallel") == state


def test_inside_by_the_normal_table():
    # 68.27 % within one standard deviation, 50 % below the mean
    assert inside(mm(0.0, 1.0), -1.0, 1.0) == pytest.approx(0.6827, abs=5e-5)
    assert inside(mm(3.0, 1.0), most=3.0) == pytest.approx(0.5)
    assert inside(mm(3.0, 0.0), 2.0, 4.0) == 1.0
    assert inside(Absent(reason="not read"), 0.0, 1.0) is None


def test_an_unsharp_picture_says_nothing_of_edges():
    blurred = plate_line(edge_rise=mm(16.0, 0.3, "px"), sharpest_rise=mm(7.0, 0.2, "px"))
    assert "edges" not in _seen(blurred)


def test_sharp_and_black():
    black = plate_line(edge_rise=mm(2.1, 0.1, "px"), contrast=mm(0.7, 0.02, ""))
    assert _seen(black)["edges"] == "sharp_black"


def test_streaks_few_enough_for_segregation_are_no_banding():
    streaks = plate_line(kind="family", count=3, spacing=mm(0.05, 0.002))
    zebra = plate_line(kind="family", count=40, spacing=mm(0.05, 0.002))
    assert observe(reading_with(streaks), streaks).gate == "plate"
    assert "many_lines" not in _seen(streaks)
    assert observe(reading_with(zebra), zebra).gate == "plate_many"
    assert _seen(zebra)["many_lines"] == "yes"


@pytest.mark.parametrize(
    ("where", "gate"),
    [("member_2", "plate"), ("haz_1", "haz"), ("fusion_line_2", "haz"), ("weld_metal", "weld"), ("", "anywhere")],
)
def test_the_place_chooses_the_gate(where, gate):
    line = plate_line(where=where)
    assert observe(reading_with(line), line).gate == gate


@pytest.mark.parametrize(
    ("changes", "state"),
    [
        ({"meets": Meeting(haz="passes", fusion="passes")}, "passes"),
        ({"where": "fusion_line_1", "meets": Meeting(along_fusion=0.9)}, "follows"),
        ({"where": "haz_1", "meets": Meeting(), "fusion_distance": mm(0.5), "straightness": mm(0.08)}, "beside"),
        ({"where": "haz_1", "meets": Meeting(), "fusion_distance": mm(0.5), "straightness": mm(0.005, 0.002)}, None),
    ],
)
def test_how_it_lies_to_the_fusion_line(changes, state):
    assert _seen(plate_line(**changes)).get("to_fusion_line") == state


def test_a_line_down_the_middle_of_a_bead_deeper_than_wide():
    down = np.array([[150.0, 10.0], [152.0, 60.0]])
    seen = _seen(plate_line(where="weld_metal", points=down), depth_to_width=mm(1.3, 0.05, ""))
    assert (seen["mid_bead"], seen["deep_bead"]) == ("yes", "yes")
    assert "parallel" not in seen and "depth" not in seen


def test_a_line_across_the_bead_is_not_mid_bead():
    across = np.array([[110.0, 30.0], [190.0, 31.0]])
    assert _seen(plate_line(where="weld_metal", points=across))["mid_bead"] == "no"


def test_a_concave_face_counts_like_a_deep_bead():
    seen = _seen(plate_line(where="weld_metal"), convexity=mm(-0.4, 0.05), depth_to_width=mm(0.5, 0.02, ""))
    assert seen["deep_bead"] == "yes"


def test_blobs_in_the_weld_metal_go_to_the_table_of_marks():
    blob = plate_line(where="weld_metal", kind="blob", roundness=mm(0.95, 0.03, ""))
    seen = observe(reading_with(blob), blob)
    assert (seen.table, seen.gate) == ("weld_marks", "weld")
    assert [(answer.observation, answer.state) for answer in seen.answers] == [("outline", "round")]
