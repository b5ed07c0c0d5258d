"""The pages of trials: compare, the next check, and a planned trial."""

import html
import re

import pytest

from .storybook import fill
from .test_arithmetic_pages import said, wrong

A, B = ["N2-01", "N2-02"], ["N2-03", "N2-04"]
ASKED = {"name_a": "bay A", "name_b": "bay B", "on": "", "under_test": "", "margin": "", "welding": "mechanised",
         "scatter": "", "scatter_dof": ""}  # fmt: skip


@pytest.fixture
def story(bench):
    fill(bench.folder)
    return bench


def words(text: str) -> str:
    """A page as it is read aloud."""
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)))


def test_beads_are_picked_and_not_typed(story) -> None:
    page = story.get("/compare").text
    assert re.findall(r'name="a" value="([\w-]+)"', page) == [*A, *B], "a bead without a reading is not offered"
    assert "bay B&#39;s beads" not in page, "a single trial needs no choice"
    kept = story.get("/compare", params={"a": "N2-01"}).text
    assert re.search(r'name="a" value="N2-01" checked', kept) and not re.search(r'name="b" value="N2-01" checked', kept)


def test_an_empty_book_says_what_to_do_first(bench) -> None:
    assert "Nothing was read on any bead" in bench.get("/compare").text


def test_two_groups_are_compared_words_first(story) -> None:
    answer = story.get("/compare/seen", params={"a": A, "b": B, **ASKED})
    text = words(answer.text)
    assert answer.status_code == 200 and said(answer.text).startswith("Convexity: A difference is shown: +0.88")
    assert text.index("A difference is shown") < text.index("Every dimension")
    for part in ("p = 0.333 over all 6 ways", "Welch", "Beads were dealt to the two groups at random", "Amount or form",
                 "Stick-out moved with it: 15 against 22", "Not logged for any bead", "Conduction only",
                 "Laid on each other at the joint root", "What was seen"):  # fmt: skip
        assert part in text, part
    assert answer.text.count("<svg") == 4
    names = re.findall(r'id="([\w-]+)"', answer.text)
    assert len(names) == len(set(names))


def test_the_amps_fell_by_what_the_page_says_and_penetration_with_them(story) -> None:
    text = words(story.get("/compare/seen", params={"a": A, "b": B, **ASKED}).text)
    found = re.search(r"Amps 188 to 160 A ([+-][\d.]+) .*? ([+-][\d.]+) conduction", text)
    assert found and float(found[1]) < 0 and float(found[2]) < 0


def test_one_bead_against_one_says_what_it_can(story) -> None:
    answer = story.get("/compare/seen", params={"a": "N2-01", "b": "N2-02", **ASKED})
    assert "not the same as no difference" in said(answer.text) and "significant" not in answer.text


def test_single_readings_stand_for_their_bead(story) -> None:
    picks = {"a": ["N2-01-B-1-P1-R1", "N2-02"], "b": ["n2.03"]}
    answer = story.get("/compare/seen", params={**picks, **ASKED})
    assert answer.status_code == 200 and "2 against 1" in words(answer.text)


@pytest.mark.parametrize(
    ("picks", "changed", "field", "sentence"),
    [
        ({"a": A}, {}, "", "at least one bead"),
        ({"a": A, "b": ["N2-01"]}, {}, "", "stands in both groups"),
        ({"a": A, "b": ["N2-05"]}, {}, "", "nothing was read on bead N2-05"),
        ({"a": A, "b": ["N9-05"]}, {}, "", "N9-05"),
        ({"a": A, "b": B}, {"name_b": "bay A"}, "name_a", "two different names"),
        ({"a": A, "b": B}, {"name_b": ""}, "name_b", "is needed"),
        ({"a": A, "b": B}, {"margin": "wide"}, "margin", "plain number"),
        ({"a": A, "b": B}, {"margin": "-1"}, "margin", "above 0"),
        ({"a": A, "b": B}, {"scatter": "0"}, "scatter", "above 0"),
        ({"a": A, "b": B}, {"on": "weld_width"}, "on", "was read on no bead"),
    ],
)
def test_what_cannot_be_compared_is_told_and_the_picks_stay(story, picks, changed, field: str, sentence: str) -> None:
    answer = story.get("/compare/seen", params={**picks, **ASKED, **changed})
    assert answer.status_code == 422
    told = wrong(answer.text).get(field, "") if field else words(answer.text)
    assert sentence.lower() in told.lower()
    assert re.search(r'name="a" value="N2-01" checked', answer.text)
    assert 'value="bay A"' in answer.text


def test_a_comparison_is_kept_as_a_page_as_paper_and_as_numbers(story) -> None:
    asked = {"a": A, "b": B, **ASKED}
    assert story.get("/compare/page.pdf", params=asked).content.startswith(b"%PDF")
    assert "Convexity" in story.get("/compare/page.html", params=asked).text
    rows = story.get("/compare/page.json", params=asked).json()["rows"]
    held = next(row for row in rows if row["dimension"] == "convexity")["difference"]
    assert held["value"] == pytest.approx((1.08 + 1.17) / 2 - (0.26 + 0.24) / 2)
    assert story.get("/compare/page.exe", params=asked).status_code == 404


BEADS = {"usual": A, "odd": B}


def answers_of(text: str) -> list[str]:
    return re.findall(r'<button name="said" value="([\w=]+)">', text)


def test_the_log_answers_by_itself_and_the_rest_is_asked_one_at_a_time(story) -> None:
    text = story.get("/next-check/ask", params=BEADS).text
    assert "stick-out" in said(text) and "188 against 160 A" in words(text)
    assert len(answers_of(text)) == 2 and "stick_out_differs=yes" not in answers_of(text)
    assert "If yes" in words(text) and "What to do next" in text and "Never change two things at once" in text


def test_each_answer_moves_the_chances_and_can_be_taken_back(bench) -> None:
    first = bench.get("/next-check/ask").text
    yes, no = answers_of(first)
    after, other = (bench.get("/next-check/ask", params={"said": answer}).text for answer in (yes, no))
    chances = [re.findall(r'<meter[^>]*value="([\d.]+)" aria-label="([^"]*)"', page) for page in (first, after, other)]
    assert chances[0] != chances[1] and chances[1] != chances[2]
    assert answers_of(after) and answers_of(after) != [yes, no], "what was answered is not asked again"
    back = html.unescape(re.search(r'href="(/next-check/ask\?[^"]*)">Take it back', after)[1])  # type: ignore[index]
    assert said(bench.get(back).text) == said(first)


def test_what_an_answer_would_mean_is_what_it_then_means(bench) -> None:
    first = bench.get("/next-check/ask").text
    told = re.search(r"<b>If yes</b>.*?: ([\w ,-]+) \(([\d.]+)\), then", first)
    after = bench.get("/next-check/ask", params={"said": answers_of(first)[0]}).text
    value, cause = re.search(r'<meter[^>]*value="([\d.]+)" aria-label="Chance of ([^"]*)"', after).groups()  # type: ignore[union-attr]
    assert told and told[1] == cause and float(told[2]) == pytest.approx(float(value), abs=0.006)


def test_a_question_nobody_can_answer_is_passed_by(bench) -> None:
    first = bench.get("/next-check/ask").text
    passed = re.search(r'name="passed" value="(\w+)"', first)[1]  # type: ignore[index]
    after = bench.get("/next-check/ask", params={"passed": passed}).text
    assert f'"{passed}=yes"' not in after and "nobody can say" in after and said(after) == said(first)


def test_it_says_when_to_stop(bench) -> None:
    answers = ["stick_out_differs=yes", "amps_differ=yes"]
    while "Stop looking" not in (text := bench.get("/next-check/ask", params={"said": answers}).text):
        assert answers_of(text), "it stops asking before it says so"
        answers.append(answers_of(text)[1])
    assert "Mend it and weld again" in text and "What to do next" not in text


def test_a_prior_of_ones_own_counts_and_a_wrong_one_is_told_beside_its_field(bench) -> None:
    usual = bench.get("/next-check/ask").text
    own = bench.get("/next-check/ask", params={"prior.wind": "0.9"}).text
    assert "wind" in said(own) and "wind" not in said(usual) and 'name="prior.wind" value="0.9"' in own
    bad = bench.get("/next-check/ask", params={"prior.wind": "often"})
    assert bad.status_code == 422 and 'id="t-prior.wind">' in bad.text and 'value="often"' in bad.text


@pytest.mark.parametrize("params", [{"usual": A}, {"usual": A, "odd": ["N2-05"]}, {"said": "nonsense=yes"},
                                    {"said": "amps_differ=perhaps"}])  # fmt: skip
def test_what_cannot_be_weighed_is_told_in_a_sentence(story, params) -> None:
    answer = story.get("/next-check/ask", params=params)
    assert answer.status_code == 422 and 'role="alert"' in answer.text
