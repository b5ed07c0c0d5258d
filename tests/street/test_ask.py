"""The second question from Python, as docs/library.md walks through it: its examples are run as they stand there."""

import json
import re
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "rooms" / "report"))
import example

import etchbook
from etchbook import ask
from etchbook.quantity import Measured
from etchbook.report import reading_document
from etchbook.section import Reading

PAGE = Path(__file__).resolve().parents[2] / "docs" / "library.md"
LOG = """
[[a]]
volts = 19
amps = 150
travel = "30 cm/min"
start_temperature = 20
thickness_1 = 8
thickness_2 = 6
plate_length = 150
material = "S275"
[[a]]
start_temperature = 22
[[b]]
amps = 130
[[b]]
amps = 131
"""


def read(convexity: float) -> Reading:
    base = example.reading()
    return replace(base, dimensions={**base.dimensions, "convexity": Measured(value=convexity, u=0.03, unit="mm")})


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, convexity in (("a1", 0.40), ("a2", 0.48), ("b1", 0.92), ("b2", 0.97)):
        (tmp_path / f"{name}.json").write_text(json.dumps(reading_document(read(convexity))), encoding="utf-8")
    (tmp_path / "log.toml").write_text(LOG, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def blocks() -> list[str]:
    part = PAGE.read_text(encoding="utf-8").partition("## Same settings, different bead")[2].partition("\n## ")[0]
    return re.findall(r"```python\n(.*?)```", part, re.S)


def test_the_examples_of_the_page_run(folder: Path) -> None:
    def weld_and_read(setting: dict[str, float]) -> float:
        return 1 + 0.2 * (setting["volts"] - 18.5) + 0.05 * (setting["travel"] - 5.5) ** 2

    known: dict[str, object] = {"etchbook": etchbook, "weld_and_read": weld_and_read}
    told = blocks()
    assert len(told) == 5
    for block in told:
        if "results" in block:
            block, _, last = block.partition("trial.save")
            exec(block, known)
            trial = known["trial"]
            assert isinstance(trial, ask.PlanView)
            codes = [run.code for run in trial.made.runs if run.code]
            known["results"] = {code: 1.0 + 0.01 * (at % 4) for at, code in enumerate(codes)}
            known["temperatures"] = {code: 20.0 + at % 3 for at, code in enumerate(codes)}
            block = f"trial.save{last}"
        exec(block, known)
    found = known["found"]
    assert isinstance(found, ask.ComparisonView)
    assert (folder / "compared.pdf").read_bytes().startswith(b"%PDF") and (folder / "trial" / "plan.json").exists()
    # (0.92 + 0.97 − 0.40 − 0.48) / 2
    assert found.rows["convexity"].difference.value == pytest.approx(0.505)  # type: ignore[union-attr]
    assert "not the same as no difference" in found.words and found.words in repr(found)


def test_readings_at_hand_bring_their_own_settings() -> None:
    log = {"volts": 19, "travel": "5 mm/s", "start_temperature": 20, "thickness_1": 8, "thickness_2": 6}
    log |= {"plate_length": 150, "material": "S275"}
    told = {"a": [log | {"amps": 150}], "b": [log | {"amps": 130}], "margin": {"convexity": 0.1}}
    found = ask.compare([read(0.4)], [[read(0.7), read(0.8)]], settings=told, welding="mechanised")
    row = found.rows["convexity"]
    assert row.difference.value == pytest.approx(0.35) and row.difference.margin == 0.1  # type: ignore[union-attr]
    assert [one.setting for one in found.made.expected] == ["amps"]  # type: ignore[union-attr]
    assert found.made.expected[0].depth < 0  # type: ignore[index]
    checks = ask.next_check({"start_differs": "no"}, comparison=found)
    assert checks.weighed.verdicts and "common practice" in str(checks)


def test_html_and_json_are_kept_by_their_ending(folder: Path) -> None:
    found = ask.compare(["a1.json"], ["b1.json"], scatter=0.16)
    held = json.loads(found.save("c.json").read_text(encoding="utf-8"))
    assert held["question"] == "convexity" and "significant" not in json.dumps(held)
    assert "<!DOCTYPE html>" in found.save("c.html").read_text(encoding="utf-8")
    with pytest.raises(etchbook.RefusedError, match="end its name"):
        found.save("c.docx")


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: ask.compare([], ["a1.json"]), "one bead at least"),
        (lambda: ask.compare(["a1.json", read(0.4)], ["b1.json"]), "not both"),
        (lambda: ask.compare(["a1.json"], ["b1.json"], names=("x", "x")), "two different names"),
        (lambda: ask.compare(["a1.json"], ["b1.json"], scatter_dof=4), "go with a scatter"),
        (lambda: ask.compare([read(0.4)], [read(0.5)], settings={"a": [{}, {}]}), "settings for 2"),
        (lambda: ask.next_check({"luck": "yes"}), "no observation"),
        (lambda: ask.plan("x", worth=0.3, arms=("a", "b"), covariate="mood"), "covariate is a setting"),
        (lambda: ask.plan("x", worth=0.3, arms=("a", "b"), mood=1), 'knows no "mood"'),
        (lambda: ask.design({"volts": (17, 20)}), "two to five"),
        (lambda: ask.fit([({"volts": 18.0}, 1.0)], {"volts": (17, 20), "travel": (4, 7)}), "tells no travel"),
        (lambda: ask.gas.split(co2=140, coldest=0), "0 to 100"),
    ],
)
def test_what_makes_no_sense_is_refused_in_a_sentence(folder: Path, call: object, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()  # type: ignore[operator]
