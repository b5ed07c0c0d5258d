"""The questions of the second desk as JSON: compare, next check, plan, gas, heat, what settings mean."""

import math
from typing import Any

import pytest
from scipy import stats

from street.web import storybook

SETTINGS = {"process": "135", "material": "S275", "joint": "bead", "volts": "21.5 V", "amps": "188±3 A",
            "travel": "34 cm/min", "bead_length": 140.0, "thickness_1": 8.0, "plate_length": 150.0,
            "plate_width": 100.0, "start_temperature": "66.2 °F"}  # fmt: skip
LOW, TALL = ["N2-01", "N2-02"], ["N2-03", "N2-04"]


@pytest.fixture
def story(bench):
    """The book of four beads, two low ones and two tall ones."""
    storybook.fill(bench.folder)
    return bench


def ask(bench: Any, path: str, body: dict[str, Any], status: int = 200) -> Any:
    answer = bench.client.post(f"/api/{path}", json=body)
    assert answer.status_code == status, answer.text
    return answer.json()


def figures(told: dict[str, Any]) -> dict[str, Any]:
    return {one["id"]: one for one in told["figures"]}


def test_two_groups_are_compared_in_every_dimension(story) -> None:
    told = ask(story, "compare", {"a": LOW, "b": TALL, "names": ["15 mm", "22 mm"], "under_test": "stick_out",
                                  "margins": {"convexity": 0.3}})  # fmt: skip
    row = next(one for one in told["rows"] if one["dimension"] == "convexity")
    low, tall = (sum(storybook.CONVEXITY[code] for code in group) / 2 for group in (LOW, TALL))
    assert math.isclose(row["a"]["value"], low) and math.isclose(row["difference"]["value"], tall - low)
    assert row["difference"]["margin"] == 0.3 and told["question"] == "convexity"
    spread = math.sqrt((0.01**2 + 0.045**2) * 2 / 2 * (1 / 2 + 1 / 2))  # by hand, of the means' difference
    half = stats.t.ppf(0.975, 2) * spread
    view = next(one for one in row["difference"]["views"] if one["low"] is not None)
    assert math.isclose(view["high"] - view["low"], 2 * half, rel_tol=0.15)
    assert "stick_out" not in [one["setting"] for one in told["suspects"]]
    assert "amps" in [one["setting"] for one in told["suspects"] if one["kind"] == "moved with it"]


def test_a_bead_in_both_groups_and_a_bead_that_is_not_there_are_refused(story) -> None:
    assert "both groups" in ask(story, "compare", {"a": LOW, "b": [LOW[0]]}, 422)["error"]
    assert ask(story, "compare", {"a": ["N2-09"], "b": TALL}, 404)["error"]
    assert "two different names" in ask(story, "compare", {"a": LOW, "b": TALL, "names": ["x", "x"]}, 422)["error"]


def test_the_next_check_is_asked_for_and_answered_one_question_at_a_time(story) -> None:
    told = ask(story, "next-check", {"usual": LOW, "odd": TALL})
    assert told["known"]["stick_out_differs"] == "yes" and told["differ"]
    first = told["causes"][0]
    assert first["id"] == "stick_out" and first["chance"] > first["prior"]
    assert sum(one["chance"] for one in told["causes"]) <= 1 + 1e-9
    question = told["question"]
    assert sum(one["chance"] for one in question["meanings"]) == pytest.approx(1)
    passed = ask(story, "next-check", {"usual": LOW, "odd": TALL, "passed": [question["id"]]})["question"]
    assert passed is None or passed["id"] != question["id"]
    state = question["meanings"][0]["state"]
    after = ask(story, "next-check", {"usual": LOW, "odd": TALL, "answers": {question["id"]: state}})
    promised = question["meanings"][0]["words"]
    assert f"{after['causes'][0]['label']} ({after['causes'][0]['chance']:.2f})" in promised
    assert "no observation" in ask(story, "next-check", {"answers": {"moon": "full"}}, 422)["error"]
    assert "at least one" in ask(story, "next-check", {"usual": LOW}, 422)["error"]
    names = [one["id"] for one in story.get("/api/next-check/observations?limit=500").json()["items"]]
    assert question["id"] in names and len(set(names)) == len(names)


def test_a_trial_is_planned_and_decided_once_by_its_rule(story) -> None:
    wish = {
        "question": "does it raise the bead?",
        "arms": ["15 mm", "22 mm"],
        "worth": 0.5,
        "scatter": 0.2,
        "code": "N7",
    }
    plan = ask(story, "plans", wish, 201)
    assert plan["code"] == "N7" and not any("arm" in run for run in plan["runs"])
    assert [one["code"] for one in story.get("/api/plans").json()["items"]] == ["N7"]
    assert ask(story, "plans", wish, 422)["error"].startswith("there is a trial N7 already")
    key = ask(story, "plans/N7/key", {})["codes"]
    results = {code: {"value": (1.0 if held["arm"] == "22 mm" else 0.0) + 0.05 * (at % 3), "u": 0.02}
               for at, (code, held) in enumerate(key.items())}  # fmt: skip
    lacking = dict(list(results.items())[1:])
    assert "lack a bead" in ask(story, "plans/N7/decision", {"results": lacking}, 422)["error"]
    told = ask(story, "plans/N7/decision", {"results": results}, 201)
    assert told["answer"] == "effect" and 0.9 < told["difference"]["value"] < 1.1
    assert "looks once" in ask(story, "plans/N7/decision", {"results": results}, 422)["error"]
    kept = story.get("/api/plans/N7").json()
    assert kept["decision"] == told["words"] and kept["opened"]
    assert story.get("/api/plans/N7/run-sheet.pdf").content.startswith(b"%PDF")
    both = {code: {"value": 1.0, "bead": "N2-01"} for code in results}
    assert "either its value or the bead" in ask(story, "plans/N7/decision", {"results": both}, 422)["error"]


def test_the_size_of_a_trial_is_what_the_power_of_the_t_test_asks_for(bench) -> None:
    told = ask(bench, "plan/size", {"response": "convexity", "worth": [0.3, 0.5], "scatter": 0.28, "power": 0.8})
    for row in told["rows"]:
        power = [_power(count, row["worth"] / 0.28) for count in (row["beads_an_arm"] - 1, row["beads_an_arm"])]
        assert power[0] < 0.8 <= power[1]
    assert "give scatter" in ask(bench, "plan/size", {"response": "undercut_1", "worth": [0.3]}, 422)["error"]


def _power(count: int, effect: float) -> float:
    dof, apart = 2 * count - 2, effect * math.sqrt(count / 2)
    edge = stats.t.ppf(0.975, dof)
    return float(1 - stats.nct.cdf(edge, dof, apart) + stats.nct.cdf(-edge, dof, apart))


def test_settings_are_dialled_in_and_the_fit_finds_what_was_put_in(bench) -> None:
    turn = {"volts": {"low": "17 V", "high": 20.0}, "travel": {"low": "24 cm/min", "high": 6.0}}
    beads = ask(bench, "plan/design", {"turn": turn, "kind": "two levels", "centres": 3, "seed": 4})
    assert beads["units"] == {"volts": "V", "travel": "mm/s"} and len(beads["beads"]) == 2**2 + 3
    given = [{"settings": one, "result": 0.5 + 0.2 * (one["volts"] - 18.5) / 1.5} for one in beads["beads"]]
    told = ask(bench, "plan/fit", {"turn": turn, "beads": given, "target": 0.6})
    effects = {one["name"]: one["value"] for one in told["effects"]}
    assert effects["volts"] == pytest.approx(0.2) and effects["travel"] == pytest.approx(0, abs=1e-9)
    assert 0.5 + 0.2 * (told["next_bead"]["volts"] - 18.5) / 1.5 == pytest.approx(0.6, abs=0.1)
    assert (
        "no setting"
        in ask(bench, "plan/fit", {"turn": {"moon": turn["volts"], "x": turn["volts"]}, "beads": given}, 422)["error"]
    )


def test_settings_come_to_the_heat_input_of_the_formula_by_hand(story) -> None:
    held = figures(ask(story, "weld", {**SETTINGS, "group": "1"}))
    by_hand = 0.8 * 21.5 * 188 / (340 / 60) / 1000
    assert held["heat_input"]["value"] == pytest.approx(by_hand) and held["heat_input"]["unit"] == "kJ/mm"
    assert held["heat_input"]["u"] == pytest.approx(by_hand * 3 / 188)
    assert held["heat_input"]["inch"]["value"] == pytest.approx(by_hand * 25.4, rel=1e-3)
    assert held["power_energy"]["value"] is None and "not stated" in held["power_energy"]["absent"]
    of_bead = figures(ask(story, "weld", {"bead": "N2-01", "amps": 200.0}))
    assert of_bead["arc_energy"]["value"] == pytest.approx(21.5 * 200 / 5.667 / 1000, rel=1e-3)
    assert "no hardness limit" in ask(story, "weld", {"group": "77"}, 422)["error"]
    assert "amps" in ask(story, "weld", {"amps": "many"}, 422)["error"]


def test_heat_is_followed_to_the_points_that_were_named(bench) -> None:
    told = ask(bench, "heat", {**SETTINGS, "points": [[6.0, 0.0], [10.0, 2.0]], "ambient": "20 °C", "loss": 25.0,
                               "beads": 3, "every": 180.0})  # fmt: skip
    assert [(one["across"], one["depth"]) for one in told["histories"]] == [(6.0, 0.0), (10.0, 2.0)]
    assert told["histories"][0]["peak"] > told["histories"][1]["peak"] > told["coupon"]["start"] == pytest.approx(19)
    assert len(told["starts"]) == 3 and told["starts"][0] == pytest.approx(19) and told["starts"][2] > told["starts"][1]
    assert len(told["plan"]) > 2 and all(len(point) == 2 for line in told["plan"][0]["lines"] for point in line)
    assert "cannot be reckoned" in ask(bench, "heat", {"volts": "20 V"}, 422)["error"]
    assert "does not lie in the plate" in ask(bench, "heat", {**SETTINGS, "points": [[0.0, 90.0]]}, 422)["error"]


def test_any_one_formula_is_reckoned_with_its_uncertainty(bench) -> None:
    every = bench.get("/api/formulas?limit=500").json()["items"]
    assert bench.get("/api/formulas/arc_energy").json() in every
    told = ask(bench, "formulas/arc_energy", {"values": {"volts": "20 V", "amps": "100±2 A", "travel": 5}})
    assert told["value"] == pytest.approx(0.4) and told["u"] == pytest.approx(0.008)
    assert "also needs" in ask(bench, "formulas/arc_energy", {"values": {"volts": 20.0}}, 422)["error"]
    assert ask(bench, "formulas/phlogiston", {"values": {}}, 404)["error"]


GAS = {
    "split": ({"co2": 25.0, "coldest": -45.0, "filled": 150.0}, "Yes"),
    "mixing": ({"co2": 18.0, "days": [7.0]}, "weeks upright"),
    "contents": ({"he": 30.0, "litres": 50.0, "gauge": 120.0, "at": 8.0}, "h left"),
    "flow": ({"co2": 18.0, "read": 30.0, "unit": "cfh", "wind": 4.0}, "shelter the arc"),
    "regulator": ({"co2": 25.0, "gauge": 200.0, "at": 0.0}, "CO2 frost"),
    "sound": ({"co2": 25.0, "tones": [299.0, 299.0]}, "holds 25"),
}


@pytest.mark.parametrize("name", GAS)
def test_each_question_about_gas_is_answered_in_words_and_numbers(bench, name: str) -> None:
    body, words = GAS[name]
    told = ask(bench, f"gas/{name}", body)
    assert words in told["sentence"] and told["safety"]["words"] and len(told["lines"]) > 2
    assert any(one["value"] is not None and one["u"] is not None and one["unit"] for one in told["lines"])
    assert "one second gas" in ask(bench, f"gas/{name}", {**body, "co2": 10.0, "o2": 2.0}, 422)["error"]


def test_a_flow_in_cubic_feet_is_told_in_litres(bench) -> None:
    told = ask(bench, "gas/flow", GAS["flow"][0])
    flow = next(one for one in told["lines"] if one["label"] == "true flow")
    assert flow["value"] == pytest.approx(30 * 0.3048**3 * 1000 / 60, rel=1e-3) and flow["unit"] == "L/min"


STRICT: dict[str, tuple[dict[str, Any], str]] = {
    "compare": ({"a": LOW, "b": TALL}, "margin"),
    "next-check": ({}, "usual"),
    "plans": ({"question": "q", "arms": ["a", "b"], "worth": 0.5}, "sections"),
    "plan/size": ({"worth": [0.3]}, "power"),
    "weld": ({}, "volts"),
    "heat": (SETTINGS, "beads"),
    "formulas/arc_energy": ({"values": {}}, "values"),
    **{f"gas/{name}": (body, "co2") for name, (body, _) in GAS.items()},
}


@pytest.mark.parametrize("path", STRICT)
def test_an_unknown_field_and_one_of_another_type_are_refused_by_name(bench, path: str) -> None:
    body, field = STRICT[path]
    assert "colour" in ask(bench, path, {**body, "colour": "red"}, 422)["error"]
    assert ask(bench, path, {**body, field: True}, 422)["error"].startswith(field)
    assert bench.get("/api/things").json()["items"] == []
