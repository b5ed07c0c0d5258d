"""`etchbook plan`, `compare` and `next-check` as a person uses them."""

import csv
import json
import re
from pathlib import Path

import pytest

from .conftest import Ask

WISH = """
question = "Does a longer stick-out raise the bead?"
worth = 0.3
arms = ["10 mm", "15 mm"]
welding = "mechanised"
[held]
plate = "100 x 60 x 8 mm"
"""
TURN = ("--turn", "volts=17..20", "--turn", "travel=4..7")


@pytest.fixture
def planned(ask: Ask, tmp_path: Path) -> Path:
    (tmp_path / "wish.toml").write_text(WISH, encoding="utf-8")
    answer = ask("plan", "new", tmp_path / "wish.toml", "--out", tmp_path / "plan", "--secret", "kept")
    assert answer.code == 0 and "6 beads in each arm" in answer.out
    return tmp_path / "plan"


def results(folder: Path, shift: float) -> Path:
    key = json.loads((folder / "key.sealed.json").read_text(encoding="utf-8"))
    lines = ["code,value,u"]
    for at, (code, held) in enumerate(key["codes"].items()):
        lines.append(f"{code},{1 + 0.01 * (at % 5) + shift * (held['arm'] == '15 mm'):.3f},0.03")
    (folder / "results.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return folder / "results.csv"


def test_a_plan_is_kept_whole_and_gives_no_arm_away(planned: Path) -> None:
    names = {path.name for path in planned.iterdir()}
    assert names == {"plan.json", "key.sealed.json", "run-sheet.pdf", "helper.sealed.pdf"}
    held = json.loads((planned / "plan.json").read_text(encoding="utf-8"))
    assert all(set(run) == {"number", "code", "block", "phase"} for run in held["runs"])
    assert "seed" not in held and "kept" not in json.dumps(held)
    assert all((planned / name).read_bytes().startswith(b"%PDF") for name in names if name.endswith("pdf"))


def test_the_sheets_say_what_they_should(planned: Path) -> None:
    import pikepdf

    def pages(name: str) -> int:
        with pikepdf.open(planned / name) as held:
            return len(held.pages)

    assert pages("run-sheet.pdf") == 2 and pages("helper.sealed.pdf") == 1


def test_a_plan_is_decided_by_its_rule(ask: Ask, planned: Path) -> None:
    answer = ask("plan", "decide", planned, results(planned, 0.4))
    assert answer.code == 0 and "Effect by the locked rule" in answer.out
    answer = ask("plan", "decide", planned, results(planned, 0.0))
    assert "Effect" not in answer.out


def test_a_plan_that_was_changed_is_refused(ask: Ask, planned: Path) -> None:
    path = planned / "plan.json"
    path.write_text(path.read_text(encoding="utf-8").replace('"shown_beyond": 0.2', '"shown_beyond": 0.01'))
    answer = ask("plan", "decide", planned, results(planned, 0.1))
    assert answer.code == 2 and "locked" in answer.err


def test_a_locked_plan_is_not_written_over(ask: Ask, planned: Path) -> None:
    answer = ask("plan", "new", planned.parent / "wish.toml", "--out", planned)
    assert answer.code == 2 and "already" in answer.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("plan", "new"), "needs question"),
        (("plan", "new", "--question", "x", "--worth", "0.3", "--arms", "one"), "two arms"),
        (("plan", "new", "--question", "x", "--worth", "0.3", "--arms", "a,b", "--response", "charm"), "no dimension"),
        (("plan", "new", "--question", "x", "--worth", "0.3", "--arms", "a,b", "--response", "leg_1"), "--scatter"),
        (("plan", "new", "--question", "x", "--worth", "-1", "--arms", "a,b"), "margin"),
        (("plan", "size", "--scatter", "0"), "above 0"),
        (("plan", "settings", "--turn", "volts=17..20"), "two to five"),
        (("plan", "settings", "--turn", "volts=20..17", "--turn", "travel=4..7"), "below its highest"),
        (("plan", "settings", *TURN, "--kind", "odd"), "no design"),
        (("plan", "settings", "--turn", "charm=1..2", *TURN), "no setting"),
        (("next-check", "nonsense=yes"), "no observation"),
        (("next-check", "amps_differ=maybe"), "yes or no"),
        (("next-check", "--prior", "luck=0.5"), "no cause"),
    ],
)
def test_refusals_are_one_sentence(ask: Ask, words: tuple[str, ...], told: str) -> None:
    answer = ask(*words)
    assert answer.code == 2 and re.search(told, answer.err), answer.err
    assert answer.err.count("\n") == 1 and "Traceback" not in answer.err


def test_settings_are_dialled_in_and_drawn(ask: Ask, tmp_path: Path) -> None:
    table = tmp_path / "beads.csv"
    assert ask("plan", "settings", *TURN, "--out", table).code == 0
    rows = list(csv.DictReader(table.read_text(encoding="utf-8").splitlines()))
    for at, row in enumerate(rows):
        volts, travel = float(row["volts"]) - 18.5, float(row["travel"]) - 5.5
        row["convexity"] = f"{1 + 0.2 * volts + 0.1 * travel**2 + 0.01 * (-1) ** at:.4f}"
    with table.open("w", encoding="utf-8", newline="") as out:
        sheet = csv.DictWriter(out, list(rows[0]))
        sheet.writeheader()
        sheet.writerows(rows)
    answer = ask("plan", "fit", table, *TURN, "--target", "0.9", "--svg", tmp_path / "map.svg")
    assert answer.code == 0 and "next to try" in answer.out and re.search(r"volts: 0\.(29|30)\d* ±", answer.out)
    drawn = (tmp_path / "map.svg").read_text(encoding="utf-8")
    assert drawn.startswith("<svg") and "next to try" in drawn and drawn.count("<circle") == len(rows) + 1


def test_a_table_without_results_is_refused(ask: Ask, tmp_path: Path) -> None:
    table = tmp_path / "beads.csv"
    ask("plan", "settings", *TURN, "--out", table)
    answer = ask("plan", "fit", table, *TURN)
    assert answer.code == 2 and "too few" in answer.err


def test_the_next_check_follows_the_evidence(ask: Ask) -> None:
    answer = ask("next-check", "amps_differ=yes", "--json")
    told = json.loads(answer.out)
    assert told["causes"][0]["id"] == "stick_out" and "roll the cylinder" in told["not_worth_it"]
    plain = ask("next-check").out
    assert "  1. thermometer" in plain and "common practice" in plain


def test_a_found_cause_stops_the_search(ask: Ask) -> None:
    answer = ask("next-check", "amps_differ=yes", "stick_out_differs=yes", "--prior", "stick_out=0.6")
    assert "stop looking: stick-out" in answer.out


def test_questions_are_asked_and_an_answer_counts(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    said = iter(["yes", "", "q"])
    monkeypatch.setattr("builtins.input", lambda _: next(said))
    answer = ask("next-check", "--ask")
    assert answer.code == 0 and "(you)" in answer.out


def test_observations_are_listed(ask: Ask) -> None:
    answer = ask("next-check", "--list")
    assert answer.code == 0 and "amps_differ" in answer.out and "rolled_better" in answer.out


def test_a_reading_study_of_two_people(ask: Ask, tmp_path: Path) -> None:
    # Vardeman and VanValkenburg 1999, paper weights (five people, two papers, three times).
    weights = (
        3.481, 3.448, 3.485, 3.475, 3.472, 3.258, 3.254, 3.256, 3.249, 3.241, 3.477, 3.472, 3.464, 3.472, 3.470,
        3.254, 3.247, 3.257, 3.238, 3.250, 3.470, 3.470, 3.477, 3.473, 3.474, 3.258, 3.239, 3.245, 3.240, 3.254,
    )  # fmt: skip
    lines = [f"{'ab'[at // 5 % 2]},{at % 5},{value}" for at, value in enumerate(weights)]
    table = tmp_path / "study.csv"
    table.write_text("\n".join(["section,person,value", *lines]), encoding="utf-8")
    answer = ask("plan", "study", table, "--unit", "g", "--worth", "0.02")
    assert answer.code == 0 and "0.00707 g" in answer.out and "0.00355 g" in answer.out and "too coarse" in answer.out
    table.write_text("\n".join(["section,person,value", *lines[:-1]]), encoding="utf-8")
    answer = ask("plan", "study", table)
    assert answer.code == 2 and "equally often" in answer.err


def test_the_table_of_evidence_can_be_changed(ask: Ask, tmp_path: Path) -> None:
    table = tmp_path / "mine.toml"
    assert ask("next-check", "--keep-table", table).code == 0
    text = table.read_text(encoding="utf-8")
    table.write_text(text.replace("wind = 0.02", "wind = 0.9", 1), encoding="utf-8")
    told = json.loads(ask("next-check", "--table", table, "--json").out)
    # 0.9 beside the others' 0.97 less wind's own 0.02: 0.9 / 1.857.
    assert told["causes"][0]["id"] == "wind" and told["causes"][0]["prior"] == pytest.approx(0.9 / 1.857, abs=0.01)
    for wrong, said in (
        (text.replace("minutes = 1\n", "minutes = 0\n"), "cannot be used"),
        (text.replace('cause = "warm_up"', 'cause = "mood"'), "no cause"),
        (text.replace("[[check]]", "[[cheque]]"), "lacks a part"),
        (text[:300] + "[[", "not TOML"),
    ):
        table.write_text(wrong, encoding="utf-8")
        answer = ask("next-check", "--table", table)
        assert answer.code == 2 and said in answer.err and answer.err.count("\n") == 1, answer.err


def test_what_is_known_of_the_day_multiplies_priors(ask: Ask) -> None:
    usual, outdoors = (json.loads(ask("next-check", *words, "--json").out) for words in ((), ("outdoors=yes",)))
    before, after = ({one["id"]: one["prior"] for one in told["causes"]} for told in (usual, outdoors))
    # Research note section 5: outdoors wind five times as likely, then all scaled to one.
    assert after["wind"] / after["travel"] == pytest.approx(5 * before["wind"] / before["travel"])


def test_a_plan_with_a_covariate_is_decided_with_it(ask: Ask, tmp_path: Path) -> None:
    words = ("--question", "x", "--worth", "0.3", "--arms", "a,b", "--welding", "mechanised", "--secret", "s")
    assert ask("plan", "new", *words, "--covariate", "start", "--out", tmp_path / "p").code == 0
    codes = json.loads((tmp_path / "p" / "key.sealed.json").read_text(encoding="utf-8"))["codes"]
    lines = ["code,value,u,start_temperature"]
    for at, (code, held) in enumerate(codes.items()):
        warm = 20 + 10 * (at % 5) + 50 * (held["arm"] == "b")
        lines.append(f"{code},{1 - 0.01 * warm + 0.01 * (7 * at % 3 - 1):.4f},0.02,{warm}")
    table = tmp_path / "r.csv"
    table.write_text("\n".join(lines), encoding="utf-8")
    answer = ask("plan", "decide", tmp_path / "p", table)
    assert answer.code == 0 and "at equal start temperature" in answer.out and "Effect" not in answer.out
    table.write_text("\n".join(line.rpartition(",")[0] for line in lines), encoding="utf-8")
    answer = ask("plan", "decide", tmp_path / "p", table)
    assert answer.code == 2 and "missing for bead" in answer.err


def test_sizes_rest_on_the_named_scatter(ask: Ask) -> None:
    answer = ask("plan", "size", "--scatter", "0.16", "--worth", "0.3")
    assert "0.3\t6\t" in answer.out  # research note 6c: SD 0.16, 0.3 mm: 6 beads in each arm
    assert "planning value for hand welding (judged)" in ask("plan", "size").out
    answer = ask("plan", "size", "--response", "leg_1")
    assert answer.code == 2 and "give --scatter" in answer.err
