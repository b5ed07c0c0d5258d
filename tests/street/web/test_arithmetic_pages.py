"""The pages of the welding arithmetic: gas, heat, what settings mean, any one formula."""

import html
import re

import pytest

STORY = {"process": "135", "material": "S275", "joint": "bead", "volts": "21.5 V", "amps": "188 A",
         "travel": "34 cm/min", "bead_length": "140 mm", "thickness_1": "8 mm", "plate_length": "150 mm",
         "plate_width": "100 mm", "start_temperature": "66.2 °F"}  # fmt: skip


def wrong(text: str) -> dict[str, str]:
    """What stands beside each field."""
    return {name: html.unescape(said) for name, said in re.findall(r'id="t-(\w+)">([^<]*)<', text)}


def said(text: str) -> str:
    found = re.search(r'class="said">([^<]*)<', text)
    return html.unescape(found[1]) if found else ""


def typed(text: str) -> dict[str, str]:
    return {name: html.unescape(value) for name, value in re.findall(r'name="(\w+)" value="([^"]*)"', text)}


ASKED = {
    "split": {"second": "co2", "share": "25", "coldest": "-45 °C", "filled": "150 bar", "filled_at": "15 °C"},
    "mixing": {"second": "co2", "share": "18 %", "filled": "200 bar", "at": "20 °C", "days": "7; 14"},
    "contents": {
        "second": "co2",
        "share": "18",
        "litres": "50 L",
        "gauge": "120 bar",
        "at": "8 °C",
        "flow": "15 L/min",
        "gauge_u": "",
    },
    "flow": {
        "second": "co2",
        "share": "18",
        "read": "30",
        "unit": "cfh",
        "tube": "same",
        "nozzle": "16 mm",
        "wind": "4 m/s",
    },
    "regulator": {"second": "co2", "share": "25", "gauge": "200 bar", "at": "32 °F", "flow": "15 L/min"},
    "sound": {
        "second": "co2",
        "share": "25",
        "at": "20 °C",
        "tube": "250 mm",
        "known": "299 Hz",
        "suspect": "299 Hz",
        "u": "0.3 Hz",
    },
}
TOLD = {"split": "Yes", "mixing": "weeks upright", "contents": "h left", "flow": "shelter the arc",
        "regulator": "CO2 frost", "sound": "holds 25"}  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_each_question_about_gas_is_answered_in_words_first(bench, name: str) -> None:
    fresh = bench.get(f"/gas/{name}")
    assert fresh.status_code == 200 and not wrong(fresh.text) and not said(fresh.text)
    answer = bench.get(f"/gas/{name}", params=ASKED[name])
    assert answer.status_code == 200 and TOLD[name] in said(answer.text)
    assert {field: typed(answer.text).get(field, value) for field, value in ASKED[name].items()} == ASKED[name]


@pytest.mark.parametrize("name", ASKED)
def test_oxygen_and_helium_are_answered_for_too(bench, name: str) -> None:
    for second, word in (("o2", "O2"), ("he", "helium")):
        answer = bench.get(
            f"/gas/{name}", params=ASKED[name] | {"second": second, "share": "2", "known": "", "suspect": ""}
        )
        assert answer.status_code == 200 and said(answer.text)
        assert word.lower() in answer.text.lower().replace("oxygen", "o2")


@pytest.mark.parametrize("name", ["split", "mixing", "contents", "regulator"])
def test_the_safety_line_stands_where_a_cylinder_is_touched(bench, name: str) -> None:
    for text in (bench.get(f"/gas/{name}").text, bench.get(f"/gas/{name}", params=ASKED[name]).text):
        assert text.count("Never roll a cylinder with a regulator on it") == 1
        assert "never warm one with a flame" in text


def test_units_may_be_those_of_the_other_system(bench) -> None:
    both = [ASKED["contents"], ASKED["contents"] | {"gauge": "1740.453 psi", "at": "46.4 °F", "flow": "31.783 cfh"}]
    hours = [re.search(r"([\d.]+) ± ", said(bench.get("/gas/contents", params=one).text)) for one in both]
    assert hours[0] and hours[1] and hours[0][1] == hours[1][1]


@pytest.mark.parametrize(
    ("name", "changed", "field", "sentence"),
    [
        ("contents", {"gauge": "120"}, "gauge", "needs its unit"),
        ("contents", {"gauge": ""}, "gauge", "is needed"),
        ("contents", {"gauge": "900 bar"}, "gauge", "between 0 and 320"),
        ("contents", {"at": "warm"}, "at", "must be a number"),
        ("contents", {"share": "125"}, "share", "0 to 100"),
        ("contents", {"share": "100"}, "share", "weigh it"),
        ("flow", {"read": "15 gallons"}, "read", "plain number"),
        ("flow", {"unit": "gallons"}, "unit", "one of"),
        ("flow", {"wind": "-3 m/s"}, "wind", "wind"),
        ("sound", {"known": ""}, "suspect", "both tones"),
        ("mixing", {"days": "soon"}, "days", "plain number"),
    ],
)
def test_what_cannot_be_taken_is_told_beside_its_field_and_stays_typed(
    bench, name: str, changed: dict[str, str], field: str, sentence: str
) -> None:
    answer = bench.get(f"/gas/{name}", params=ASKED[name] | changed)
    assert answer.status_code == 422 and not said(answer.text)
    assert list(wrong(answer.text)) == [field] and sentence in wrong(answer.text)[field]
    assert "--" not in wrong(answer.text)[field]
    for one, value in changed.items():
        assert typed(answer.text).get(one, value) == value


def test_what_is_typed_is_shown_and_never_run(bench) -> None:
    text = bench.get("/gas/contents", params=ASKED["contents"] | {"gauge": '"><script>alert(1)</script>'}).text
    assert "<script>alert" not in text and "&lt;script&gt;" in text


def test_the_heat_of_settings_is_drawn_and_follows_the_points(bench) -> None:
    answer = bench.get("/heat", params=STORY | {"points": "6,0; 10,0", "beads": "1", "every": ""})
    assert answer.status_code == 200 and answer.text.count("<svg") == 3
    names = re.findall(r'id="([\w-]+)"', answer.text)
    assert len(names) == len(set(names)), "two drawings of a page share a name"
    assert "6 mm beside, 0 mm deep" in answer.text and "Conduction only" in answer.text
    assert "started at 19 °C" in answer.text, "66.2 °F are 19 °C"


@pytest.mark.parametrize(
    ("changed", "field", "sentence"),
    [
        ({"travel": "fast"}, "travel", "must be a number"),
        ({"joint": "knee"}, "joint", "knee"),
        ({"points": "here"}, "points", "is no point"),
        ({"points": "400,0"}, "points", "does not lie in the plate"),
        ({"beads": "many"}, "beads", "whole number"),
        ({"plate_length": ""}, "plate_length", "length"),
    ],
)
def test_heat_says_beside_the_field_what_is_missing_or_wrong(
    bench, changed: dict[str, str], field: str, sentence: str
) -> None:
    answer = bench.get("/heat", params=STORY | {"points": "6,0", "beads": "1"} | changed)
    assert answer.status_code == 422 and "<svg" not in answer.text
    assert sentence in wrong(answer.text)[field].lower()


def test_a_beads_settings_lead_to_what_they_mean_and_to_its_heat(bench) -> None:
    bench.send("/trial/new", code="N1", joint="bead", thickness_1="8 mm", material="S275")
    bench.send("/trial/N1/bead", **{"set.volts": "21.5 V", "set.travel": "34 cm/min", "read.amps": "188±3 A"})
    page = bench.get("/weld", params={"bead": "N1-01"}).text
    filled = typed(page)
    assert filled["volts"] == "21.5 V" and filled["amps"] == "188±3 A" and filled["travel"] == "5.66667 mm/s"
    assert "Heat input" in page and "Not reckoned" in page
    heat = typed(bench.get("/heat", params={"bead": "N1-01"}).text)
    assert heat["amps"] == "188±3 A" and heat["thickness_1"] == "8 mm" and heat["points"]
    assert bench.get("/weld", params={"bead": "N1-77"}).status_code == 404


def test_heat_input_is_volts_times_amps_over_speed(bench) -> None:
    page = bench.get("/weld", params={"process": "135", "volts": "20 V", "amps": "200 A", "travel": "5 mm/s"}).text
    row = re.search(r"Heat input<small>.*?data-is=\"Value\">([\d.]+)<", page, re.S)
    assert row and float(row[1]) == pytest.approx(0.8 * 20 * 200 / 5 / 1000)  # EN 1011-1: k = 0.8 for 135


def test_every_formula_has_its_form_and_a_known_one_its_figure(bench) -> None:
    names = re.findall(r'href="/reckon/(\w+)"', bench.get("/reckon").text)
    assert len(names) > 20
    for name in names[::6]:
        assert bench.get(f"/reckon/{name}").status_code == 200
    assert bench.get("/reckon/nonsense").status_code == 404


@pytest.mark.parametrize(
    ("path", "field"),
    [("/weld", "volts"), ("/weld", "stick_out"), ("/gas/contents", "gauge"), ("/heat", "travel")],
)
@pytest.mark.parametrize("text", ["1e300 V", "1e-300 mm", "nan", "9" * 300, "\x00", "1/0 mm", "-1e308 bar"])
def test_rubbish_is_refused_in_a_sentence_and_is_no_fault_of_ours(bench, path: str, field: str, text: str) -> None:
    base = ASKED["contents"] if "gas" in path else STORY | {"wire_feed": "8.5 m/min", "wire_diameter": "1 mm"}
    answer = bench.get(path, params=base | {field: text})
    assert answer.status_code == 422 and wrong(answer.text)[field]
    assert "fault of etchbook" not in answer.text
