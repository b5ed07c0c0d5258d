import pytest

from etchbook.usecases import RefusedError
from etchbook.usecases.answering import Said, said_in
from etchbook.usecases.evidence_tables import line_table, weld_mark_table
from etchbook.usecases.explained import explanation_document, explanation_lines
from etchbook.usecases.explaining import Explanation, explain
from rooms.usecases.marked import mm, plate_line, reading_with

BLACK = plate_line(edge_rise=mm(2.1, 0.1, "px"), contrast=mm(0.7, 0.02, ""))


def _one(line=None, answers: str = "") -> Explanation:
    said = said_in(answers) if answers else Said()
    return explain(reading_with(line or plate_line()), said)[0]


def test_priors_of_the_note_come_out_again_at_mid_thickness():
    """Research note 3.5: a single line at mid-thickness is 0.60 segregation, 0.06 lamination, 0.12 scratch."""
    from etchbook.evidence import Answer, Case, weigh

    case = Case(gate="plate", answers=(Answer(observation="depth", state="middle"),))
    found = {verdict.cause.id: verdict.chance for verdict in weigh(line_table(), case).verdicts}
    assert found["segregation"] == pytest.approx(0.60, abs=0.005)
    assert found["lamination"] == pytest.approx(0.06, abs=0.005)
    assert found["scratch"] == pytest.approx(0.12, abs=0.005)


@pytest.mark.parametrize(
    ("more", "cause", "chance"),
    [("steel_made", "lamination", 0.20), ("steel_made", "segregation", 0.45), ("faying_surface", "lap_gap", 0.90)],
)
def test_what_is_known_beforehand_gives_the_priors_of_the_note(more, cause, chance):
    """Research note 3.5: ingot plate A 0.20, B 0.45; a faying surface makes the gap 0.9."""
    from etchbook.evidence import Answer, Case, weigh

    state = "ingot" if more == "steel_made" else "yes"
    answers = (Answer(observation="depth", state="middle"), Answer(observation=more, state=state))
    found = {v.cause.id: v.chance for v in weigh(line_table(), Case(gate="plate", answers=answers)).verdicts}
    assert found[cause] == pytest.approx(chance, abs=0.01)


def test_the_picture_alone_never_says_more_than_possible_for_a_lamination():
    explained = _one(BLACK)
    assert explained.weighed.first.cause.id == "lamination"
    assert explained.weighed.first.word == "possible"
    assert explained.tests[0].test.id == "unetched_look"


def test_even_penetrant_and_ultrasound_do_not_lift_it_without_the_unetched_look():
    explained = _one(BLACK, '[a]\npenetrant = true\nultrasonic = "echo"\nsplits = true')
    assert explained.weighed.first.chance > 0.95
    assert explained.weighed.first.word == "possible"
    assert _one(BLACK, '[a]\nunetched_look = "opening"').weighed.first.word in ("likely", "very likely")


def test_segregation_is_likely_at_most_until_the_unetched_look():
    assert _one().weighed.sentence == "likely: centreline segregation"
    seen = _one(answers='[a]\nunetched_look = "nothing"\nafter_repolish = "came_back"')
    assert seen.weighed.sentence == "very likely: centreline segregation"


def test_causes_of_the_weld_metal_cannot_be_in_the_plate():
    assert {"solidification_crack", "grain_boundary"} <= {cause.id for cause in _one().weighed.ruled_out}


def test_answers_of_another_person_are_weighed_alike_and_shown_as_theirs():
    mine = _one(answers="[a]\nweeps = true")
    theirs = _one(answers='by = "MK7"\n[a]\nweeps = true')
    assert mine.weighed.first.chance == theirs.weighed.first.chance
    assert any("(MK7)" in line for line in explanation_lines(theirs))


def test_cannot_say_counts_for_nothing_and_is_not_asked_again():
    plain, unknown = _one(), _one(answers='[a]\nweeps = "unknown"')
    assert plain.weighed.first.chance == unknown.weighed.first.chance
    assert "weeps" not in [row.id for row, _ in unknown.questions]


def test_own_priors_are_weighed_and_named_as_own():
    explained = _one(answers="[priors.plate]\nlamination = 0.9")
    assert explained.weighed.first.cause.id == "lamination"
    assert any("yours are put in" in line for line in explanation_lines(explained))


@pytest.mark.parametrize(
    ("answers", "says"),
    [
        ("[z]\nweeps = true", 'speak of "z"'),
        ("[a]\nweps = true", '"weps" is no observation'),
        ('[a]\nweeps = "wet"', "use yes, no or unknown"),
        ("[a]\nweeps = 3", "a word in quotes"),
        ("[priors.moon]\nscratch = 0.1", '"moon" is no place'),
        ("[priors.plate]\nscratch = 2", "from 0 to 1"),
        ("priors = 3", "written by place"),
        ("weeps = true", "should be a table"),
        ("= =", "neither TOML nor a second look"),
    ],
)
def test_answers_that_would_count_for_nothing_are_refused_in_one_sentence(answers, says):
    with pytest.raises(RefusedError, match=says):
        _one(answers=answers)


def test_sources_that_disagree_are_both_shown_for_nickel():
    line = plate_line(where="weld_metal")
    lines = list(explanation_lines(_one(line, '[a]\nmaterial = "nickel_cobalt"\nunetched_look = "nothing"')))
    disagree = [text for text in lines if "sources disagree" in text]
    assert len(disagree) == 2 and "concave" in disagree[0] and "convex" in disagree[0]
    steel = list(explanation_lines(_one(line, '[a]\nmaterial = "carbon_steel"\nunetched_look = "nothing"')))
    assert not [text for text in steel if "sources disagree" in text]


def test_the_shape_of_the_bead_is_told_with_its_figure():
    line = plate_line(where="weld_metal")
    explained = explain(reading_with(line, depth_to_width=mm(0.8, 0.02, "")))[0]
    assert explained.bead is not None and explained.bead.text.startswith("width over depth 1.25 ± 0.06: the shape that")


def test_the_document_is_plain_data_and_sums_to_one():
    import json

    document = json.loads(json.dumps(explanation_document(_one())))
    assert sum(cause["chance"] for cause in document["causes"]) == pytest.approx(1)
    assert document["next_tests"][0]["results"]


def test_every_observation_that_a_test_answers_is_asked_in_words():
    for table in (line_table(), weld_mark_table()):
        for test in table.tests:
            assert all(table.observation(name).question for name in test.answers), test.id


def test_indications_without_a_name_get_letters():
    lines = [plate_line(name="") for _ in range(28)]
    names = [item.indication for item in explain(reading_with(*lines))]
    assert (names[0], names[25], names[26], names[27]) == ("a", "z", "aa", "ab")
