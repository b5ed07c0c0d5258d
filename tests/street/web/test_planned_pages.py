"""A trial planned at the bench: its papers, its sealed key, its decision; sizes, studies, settings dialled in."""

import html
import io
import json
import re

import pikepdf
import pytest

from .storybook import fill
from .test_arithmetic_pages import said, wrong
from .test_trials_pages import words

WISH = {"question": "does a longer stick-out raise the <bead>?", "arm_a": "15 mm", "arm_b": "22 mm", "kind": "two arms",
        "response": "convexity", "worth": "0.3", "welding": "mechanised", "sections": "2", "warm_up": "3",
        "power": "0.8", "held": "plate = 150 x 100 x 8 mm", "code": "N3"}  # fmt: skip


def codes(text: str) -> list[str]:
    return [one for one in re.findall(r'<th scope="row" class="codes">([^<]+)<', text) if one != "warm-up"]


def key_of(bench, code: str = "N3") -> dict[str, dict[str, object]]:
    return bench.send(f"/plan/{code}/sealed", paper="key.sealed.json").json()["codes"]  # type: ignore[no-any-return]


def results(key: dict[str, dict[str, object]], shift: float) -> dict[str, str]:
    return {f"value.{code}": f"{1 + 0.01 * (at % 5) + shift * (held['arm'] == '22 mm'):.3f}±0.03"
            for at, (code, held) in enumerate(key.items())}  # fmt: skip


def test_a_plan_begins_a_trial_and_tells_no_arm_of_any_code(bench) -> None:
    page = bench.send("/plan/new", **WISH)
    assert page.url.path == "/plan/N3" and "6 in each arm" in page.text
    assert len(codes(page.text)) == len(set(codes(page.text))) == 12
    assert "Looked at once" in page.text and "plate" in words(page.text) and "&lt;bead&gt;" in page.text
    assert page.text.count('<li><b class="codes">') == 12, "a label to each coupon"
    kept = bench.get("/api/things/N3").json()["record"]
    assert kept["question"] == WISH["question"] and "secret" not in kept["plan"] and "seed" not in kept["plan"]
    for run in json.loads(kept["plan"])["runs"]:
        assert set(run) == {"number", "code", "block", "phase"}
    assert "N3" in bench.get("/plan").text and "6 in each arm" in bench.get("/plan/n3").text


def test_the_papers_are_there_and_the_sealed_ones_are_written_down(bench) -> None:
    bench.send("/plan/new", **WISH)
    for name, count in (("run-sheet.pdf", 2), ("plan.json", 0)):
        content = bench.get(f"/plan/N3/paper/{name}").content
        assert len(pikepdf.open(io.BytesIO(content)).pages) == count if count else json.loads(content)["lock"]
    assert bench.get("/plan/N3/paper/key.sealed.json").status_code == 404
    assert "Nobody has taken them out yet" in bench.get("/plan/N3").text
    key = key_of(bench)
    assert sorted(str(one["arm"]) for one in key.values()) == ["15 mm"] * 6 + ["22 mm"] * 6
    assert bench.send("/plan/N3/sealed", paper="helper.sealed.pdf").content.startswith(b"%PDF")
    assert bench.get("/plan/N3").text.count("Taken out by tester") == 1
    assert "took the sealed key of trial N3 out" in bench.get("/").text
    assert bench.client.post("/plan/N3/sealed", data={"paper": "key.sealed.json"}).status_code == 403


def test_two_plans_of_one_wish_have_other_codes_and_another_order(bench) -> None:
    pages = [bench.send("/plan/new", **(WISH | {"code": code})).text for code in ("N3", "N4")]
    assert set(codes(pages[0])) != set(codes(pages[1]))
    orders = [[held["arm"] for held in key_of(bench, code).values()] for code in ("N3", "N4")]
    assert orders[0] != orders[1]


@pytest.mark.parametrize(("shift", "answer"), [(0.5, "Effect by the locked rule"), (0.0, "")])
def test_it_is_decided_once_by_its_own_rule(bench, shift: float, answer: str) -> None:
    bench.send("/plan/new", **WISH)
    values = results(key_of(bench), shift)
    told = bench.send("/plan/N3/decide", **values)
    assert told.status_code == 200 and ("Effect by the locked rule" in said(told.text)) == bool(answer)
    assert said(bench.get("/plan/N3").text) == said(told.text)
    again = bench.send("/plan/N3/decide", **values)
    assert again.status_code == 422 or said(again.text) == said(told.text)
    assert "decided trial N3 by its locked rule" in bench.get("/").text


def test_a_missing_bead_needs_a_reason_and_what_was_typed_stays(bench) -> None:
    bench.send("/plan/new", **WISH)
    values = results(key_of(bench), 0.5)
    code, value = next(iter(values.items()))
    part = {name: one for name, one in values.items() if name != code}
    answer = bench.send("/plan/N3/decide", **part)
    assert answer.status_code == 422 and 'role="alert"' in answer.text
    assert html.unescape(answer.text).count("±0.03") == 11 and not json.loads(
        bench.get("/api/things/N3").json()["record"]["plan"]).get("decision")  # fmt: skip
    bad = bench.send("/plan/N3/decide", **(values | {code: "tall"}))
    assert bad.status_code == 422 and "must be a number" in wrong_of(bad.text)[code] and 'value="tall"' in bad.text
    assert bench.send("/plan/N3/decide", **part, stopped="the gas ran out").status_code == 200
    assert value


def wrong_of(text: str) -> dict[str, str]:
    return {name: html.unescape(told) for name, told in re.findall(r'id="t-([\w.]+)">([^<]*)<', text)}


def test_a_bead_of_the_book_stands_for_its_code(bench) -> None:
    fill(bench.folder)
    bench.send("/plan/new", **(WISH | {"code": "N9"}))
    assert "typed beside" not in bench.get("/plan/N9/decide").text, "no bead was read on this trial yet"
    bench.client.post("/plan/N2/decide")
    assert bench.get("/plan/N2").status_code == 422, "a trial without a plan has none to show"


def test_a_key_of_another_plan_is_refused(bench) -> None:
    for code in ("N3", "N4"):
        bench.send("/plan/new", **(WISH | {"code": code}))
    values = results(key_of(bench), 0.5)
    other = bench.send("/plan/N4/sealed", paper="key.sealed.json").content
    answer = bench.send("/plan/N3/decide", files={"key": ("key.json", other, "application/json")}, **values)
    assert answer.status_code == 422 and 'role="alert"' in answer.text
    own = bench.send("/plan/N3/sealed", paper="key.sealed.json").content
    assert bench.send("/plan/N3/decide", files={"key": ("key.json", own, "application/json")}, **values).is_success


@pytest.mark.parametrize(
    ("changed", "field", "sentence"),
    [
        ({"question": ""}, "question", "is needed"),
        ({"worth": "much"}, "worth", "plain number"),
        ({"worth": "-1"}, "worth", "margin lies between"),
        ({"arm_b": "15 mm"}, "arm_a", "two different arms"),
        ({"kind": "roll it"}, "kind", "one of"),
        ({"response": "leg_1"}, "scatter", "nothing is known"),
        ({"warm_up": "90"}, "warm_up", "warm-up"),
        ({"power": "2"}, "power", "power lies between"),
        ({"held": "8 mm plate"}, "held", "is written like"),
        ({"covariate": "wire"}, "covariate", "one of"),
        ({"code": "N3-01"}, "code", "code of a bead"),
    ],
)
def test_what_cannot_be_planned_is_told_beside_its_field(bench, changed, field: str, sentence: str) -> None:
    answer = bench.send("/plan/new", **(WISH | changed))
    assert answer.status_code == 422
    assert sentence in wrong(answer.text).get(field, "").lower(), wrong(answer.text)
    assert "--" not in wrong(answer.text)[field]
    assert bench.get("/api/things").json()["items"] == [], "nothing is kept"
    assert f'value="{(WISH | changed)["arm_a"]}"' in answer.text


def test_a_trial_that_is_there_is_not_planned_over(bench) -> None:
    bench.send("/plan/new", **WISH)
    again = bench.send("/plan/new", **WISH)
    assert again.status_code == 422 and "there is a trial n3 already" in wrong(again.text)["code"].lower()


def test_how_many_beads_it_takes(bench) -> None:
    asked = {"response": "convexity", "worth": "0.3; 0.5", "power": "0.8", "scatter": "0.16", "welding": ""}
    page = bench.get("/plan/size", params=asked)
    rows = re.findall(r'<th scope="row">([\d.]+)</th><td[^>]*>(\d+)<', page.text)
    assert rows == [("0.3", "6"), ("0.5", "3")]  # exact two-sample t power 0.8 at 5 %: d = 1.875 and 3.125
    bad = bench.get("/plan/size", params=asked | {"scatter": "0"})
    assert bad.status_code == 422 and "above 0" in wrong(bad.text)["scatter"]


def test_a_study_of_reading_says_how_well_it_is_read(bench) -> None:
    cells = [(section, person, again) for section in range(4) for person in ("AB", "KM") for again in (0, 1)]
    lines = [f"{at},{who},{1 + at + 0.1 * again + 0.05 * (who == 'KM'):.2f}" for at, who, again in cells]
    rows = ["section,person,value", *lines]
    told = words(bench.send("/plan/study", table="\n".join(rows), worth="0.3", unit="mm").text)
    assert "One person, the same section again (repeatability): 0.0603" in told  # √(8 · 0.1²/2 / (8 + 3))
    by_file = bench.send("/plan/study", files={"file": ("s.csv", "\n".join(rows).encode(), "text/csv")}, table="",
                         worth="", unit="mm")  # fmt: skip
    assert "repeatability" in words(by_file.text)
    bad = bench.send("/plan/study", table="a,b\n1,2", worth="", unit="mm")
    assert bad.status_code == 422 and "no column" in wrong(bad.text)["table"] and "a,b" in bad.text


TURN = {"turn1": "volts", "low1": "17", "high1": "20 V", "turn2": "travel", "low2": "24 cm/min", "high2": "42 cm/min",
        "kind": "surface", "response": "convexity", "centres": "3", "seed": "4", "target": "0.5",
        "tolerance": "0.1"}  # fmt: skip


def beads_of(text: str) -> list[tuple[float, float]]:
    found = re.findall(r'<th scope="row" class="number">\d+</th><td class="number">([^<]+)</td>'
                       r'<td class="number">([^<]+)</td>', text)  # fmt: skip
    return [(float(a), float(b)) for a, b in found]


def test_settings_are_dialled_in_and_the_fit_finds_what_was_put_in(bench) -> None:
    page = bench.get("/plan/settings", params=TURN).text
    beads = beads_of(page)
    assert (
        len(beads) == 12
        and {bead[0] for bead in beads} == {17, 18.5, 20}
        and {bead[1] for bead in beads} == {4, 5.5, 7}
    )
    assert beads == beads_of(bench.get("/plan/settings", params=TURN).text), "the same number gives the same order"
    # A plane through known points: -0.1 per half range of volts, +0.2 per half range of speed.
    read = {
        f"r{at}": f"{0.5 - 0.1 * (v - 18.5) / 1.5 + 0.2 * (s - 5.5) / 1.5:.4f}" for at, (v, s) in enumerate(beads, 1)
    }
    answer = bench.get("/plan/settings", params=TURN | read)
    told = words(answer.text)
    assert answer.text.count("<svg") == 1 and "Next to try" in told
    effects = {name: float(value) for name, value in re.findall(r"(Volts|Travel): (-?[\d.]+) ± ", told)}
    assert effects == pytest.approx({"Volts": -0.1, "Travel": 0.2}, abs=2e-4)
    assert f'value="{read["r1"]}"' in answer.text
    lines = bench.get("/plan/settings.csv", params=TURN).text.splitlines()
    assert lines[0] == "bead,volts,travel,convexity" and len(lines) == 13


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"turn2": "volts"}, "is turned twice"),
        ({"low1": "25"}, "lowest value below its highest"),
        ({"low1": "low"}, "must be a number"),
        ({"turn2": ""}, "is needed"),
        ({"kind": "half"}, "three settings"),
        ({"centres": "99"}, "0 to 20"),
        ({"r1": "tall"}, "must be a number"),
        ({"r1": "0.5"}, "beads"),
    ],
)
def test_what_cannot_be_dialled_in_is_told_and_stays_typed(bench, changed, sentence: str) -> None:
    answer = bench.get("/plan/settings", params=TURN | changed)
    assert answer.status_code == 422 and sentence in words(answer.text) and "<svg" not in answer.text
    assert f'value="{(TURN | changed)["high1"]}"' in answer.text


def test_the_scatter_of_beads_welded_alike_says_where_it_comes_from(bench) -> None:
    by_hand, mechanised = (bench.get(f"/plan/scatter?welding={way}").text for way in ("hand", "mechanised"))
    assert "does not know its own scatter yet" in by_hand
    for text, source in ((by_hand, "hand welding"), (mechanised, "a mechanised process")):
        assert source in text.partition("<tbody>")[2].partition("</tbody>")[0]
    refused = bench.get("/plan/scatter?welding=somehow")
    assert refused.status_code == 422 and "is one of" in refused.text and "<tbody>" not in refused.text
