"""`etchbook gas` as a person uses it."""

import json

import pytest

from .conftest import Ask


def test_a_shop_cylinder_cannot_come_apart(ask: Ask) -> None:
    answer = ask("gas", "split", "--co2", "25", "--coldest", "-15")
    assert answer.code == 0 and "No." in answer.out.splitlines()[0]


def test_a_cold_cylinder_can_and_what_then_comes_out(ask: Ask) -> None:
    answer = ask("gas", "split", "--co2", "25", "--coldest", "-45", "--filled", "150", "--json")
    told = json.loads(answer.out)
    assert "Yes." in told["sentence"]
    assert sum("withdrawn" in line["label"] for line in told["lines"]) == 6


def test_advice_on_rolling_comes_with_its_safety_line(ask: Ask) -> None:
    answer = ask("gas", "mixing", "--co2", "18")
    assert answer.code == 0 and "regulator off" in answer.out and "cap on" in answer.out


def test_contents_flow_regulator_and_sound(ask: Ask) -> None:
    assert "h left" in ask("gas", "contents", "--co2", "18", "--litres", "50", "--gauge", "120", "--at", "8").out
    assert "shelter the arc" in ask("gas", "flow", "--co2", "25", "--read", "15", "--wind", "4").out
    assert "frost" in ask("gas", "regulator", "--co2", "25", "--gauge", "200", "--at", "0").out
    assert "holds 25" in ask("gas", "sound", "--co2", "25", "--known", "299", "--suspect", "299").out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("split", "--co2", "125", "--coldest", "0"), "0 to 100"),
        (("contents", "--co2", "100", "--litres", "50", "--gauge", "50", "--at", "10"), "weigh it"),
        (("contents", "--co2", "25", "--litres", "50", "--gauge", "nan", "--at", "10"), "gauge"),
        (("flow", "--co2", "25", "--read", "15", "--unit", "gallons"), "cfh"),
        (("flow", "--co2", "25", "--read", "15", "--tube", "steam"), "argon"),
        (("sound", "--co2", "25", "--known", "299"), "both tones"),
        (("mixing", "--co2", "0"), "two gases"),
    ],
)
def test_refusals_are_one_sentence(ask: Ask, words: tuple[str, ...], told: str) -> None:
    answer = ask("gas", *words)
    assert answer.code == 2 and told in answer.err and answer.err.count("\n") == 1 and "Traceback" not in answer.err


def test_oxygen_and_helium_are_answered_too(ask: Ask) -> None:
    assert "No. 102 K above" in ask("gas", "split", "--he", "30", "--coldest", "-20").out  # critical point −122.46 °C
    assert "cap on" in ask("gas", "mixing", "--o2", "2").out
    assert "11.7" in ask("gas", "contents", "--o2", "2", "--litres", "50", "--gauge", "200", "--at", "15").out
    assert "shelter the arc" in ask("gas", "flow", "--he", "50", "--read", "15", "--wind", "4").out
    assert "nothing in it can freeze" in ask("gas", "regulator", "--he", "25", "--gauge", "200", "--at", "5").out
    assert "holds 25" in ask("gas", "sound", "--he", "25", "--known", "300", "--suspect", "300").out
    assert "oxygen meter" in ask("gas", "sound", "--o2", "2").out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("split", "--coldest", "0"), "none was given"),
        (("split", "--co2", "18", "--o2", "2", "--coldest", "0"), "co2 and o2 were given"),
        (("split", "--o2", "40", "--coldest", "0"), "0 and 15 %"),
        (("mixing", "--he", "0"), "two gases"),
        (("sound", "--he", "25", "--known", "300", "--suspect", "3000"), "no argon with helium"),
        (("regulator", "--he", "25", "--gauge", "100", "--at", "5", "--flow", "nan"), "flow"),
    ],
)
def test_mixtures_that_are_not_reckoned_are_refused(ask: Ask, words: tuple[str, ...], told: str) -> None:
    answer = ask("gas", *words)
    assert answer.code == 2 and told in answer.err and answer.err.count("\n") == 1
