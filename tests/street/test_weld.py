"""The commands weld, heat and reckon as a person uses them."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from .conftest import Ask

SETTINGS = (
    "--volts", "18.5±0.3", "--feed", "5.6m/min", "--wire", "1.0mm", "--travel", "30cm/min", "--stick-out", "14mm",
    "--process", "135", "--co2", "18", "--material", "S275", "--joint", "tee", "--thickness-1", "8mm",
    "--thickness-2", "6mm", "--start", "20C",
)  # fmt: skip


def figures(out: str) -> dict[str, dict[str, object]]:
    return {one["id"]: one for one in json.loads(out)["figures"]}


def test_the_sheet_in_both_systems(ask: Ask) -> None:
    answer = ask("weld", "--volts", "18V", "--amps", "150", "--travel", "12in/min", "--process", "135", "--json")
    assert answer.code == 0
    found = figures(answer.out)
    assert found["arc_energy"]["inch"]["value"] == pytest.approx(13.5)  # type: ignore[index]
    assert found["heat_input"]["value"] == pytest.approx(0.8 * 13.5 / 25.4)
    assert found["fillet_leg"]["value"] is None and found["fillet_leg"]["absent"]
    assert all(one["source"] and one["status"] for one in found.values())


def test_the_table_tells_values_reasons_and_notes(ask: Ask) -> None:
    answer = ask("weld", *SETTINGS)
    assert answer.code == 0
    assert "heat input\t" in answer.out and "kJ/in" in answer.out
    assert "not reckoned:" in answer.out and "are not stated" in answer.out
    assert "note: amps reckoned from feed and stick-out, not read" in answer.out


def test_the_permitted_hardness(ask: Ask) -> None:
    answer = ask("weld", *SETTINGS, "--group", "1", "--heat-treated", "--json")
    assert json.loads(answer.out)["highest_hv10"] == 320
    assert ask("weld", *SETTINGS, "--group", "7").code == 2


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--feed", "5.6"), "unit"),
        (("--volts", "loud"), "number"),
        (("--travel", "0mm/s"), "travel"),
        (("--joint", "mortise"), "mortise"),
        (("--steel", "S275"), "composition"),
        (("--co2", "150"), "0 to 100"),
        (("--section", "nowhere.json"), "nowhere.json"),
        (("--bead", "N1-01", "--volts", "18"), "not both"),
    ],
)
def test_bad_input_is_one_sentence(ask: Ask, words: tuple[str, ...], told: str) -> None:
    answer = ask("weld", *words)
    assert answer.code == 2 and answer.out == ""
    assert told in answer.err and answer.err.count("\n") == 1 and "Traceback" not in answer.err


def test_a_section_beside_the_settings(ask: Ask, painted: Path, tmp_path: Path) -> None:
    kept = tmp_path / "r.json"
    photo = painted / "tee_00005.png"
    scale = json.loads((painted / "tee_00005.truth.json").read_text())["px_per_mm"]
    assert ask("read", photo, "--joint", "tee", "--scale", scale, "--json", kept).code == 0
    answer = ask("weld", *SETTINGS, "--section", kept, "--json")
    assert answer.code == 0
    (section,) = json.loads(answer.out)["sections"]
    rows = {row["id"]: row for row in section["rows"]}
    assert {"deposited_area", "leg", "convexity", "dilution"} <= set(rows)
    assert all(row["verdict"] in ("agree", "differs", "cannot say") for row in rows.values())
    assert section["summary"]
    assert "beside the section" in ask("weld", *SETTINGS, "--section", kept).out


HEAT = (
    *SETTINGS[:14], "--material", "S275", "--joint", "bead", "--thickness-1", "6mm", "--start", "20C",
    "--plate-length", "100mm", "--plate-width", "60mm", "--length", "80mm",
)  # fmt: skip


def test_heat_keeps_its_drawings_and_tells_changes(ask: Ask, tmp_path: Path) -> None:
    words = [word for word in HEAT if word not in ("--co2", "18")]
    answer = ask("heat", *words, "--point", "5,0", "--plot", tmp_path / "heat")
    assert answer.code == 0, answer.err
    assert "fused width" in answer.out and "stick-out +5 mm" in answer.out and "conduction only" in answer.out
    kept = sorted(path.name for path in (tmp_path / "heat").iterdir())
    assert kept == ["history.svg", "plan.svg", "section.svg"]
    for path in (tmp_path / "heat").iterdir():
        ElementTree.parse(path)


def test_heat_refuses_in_one_sentence(ask: Ask) -> None:
    words = [word for word in HEAT if word not in ("--co2", "18")]
    for more, told in (
        (("--point", "here"), "no point"),
        (("--point", "5,90"), "plate"),
        (("--length", "200mm"), "fit"),
    ):
        answer = ask("heat", *words, *more)
        assert answer.code == 2 and told in answer.err, answer.err
    assert "are not stated" in ask("heat", "--volts", "18").err


def test_one_formula(ask: Ask) -> None:
    answer = ask("reckon", "vickers", "force=98.0665N", "diagonal_1=0.2303mm", "diagonal_2=230.3um", "--json")
    assert json.loads(answer.out)["value"] == pytest.approx(349.7, abs=0.05)
    listed = {one["id"] for one in json.loads(ask("reckon", "--json").out)}
    assert {"vickers", "grain_diameter", "t85_thin", "preheat_b"} <= listed
    for words in (("viker",), ("vickers", "force=1N"), ("vickers", "force"), ("fillet_leg", "area=-4mm²")):
        assert ask("reckon", *words).code == 2


def test_the_book_shows_a_bead_s_figures(ask: Ask, tmp_path: Path) -> None:
    book = ("--book", tmp_path / "book", "--by", "P")
    assert ask("book", "new", tmp_path / "book", "--name", "Northmoor").code == 0
    assert ask("trial", "N1", "--joint", "tee", "--thickness-1", "8mm", "--thickness-2", "6mm", "--material", "S275",
               "--gas", "Ar + 18 % CO2", *book).code == 0  # fmt: skip
    logged = ask("bead", "N1", "volts=18V", "amps=150A", "feed=5.6m/min", "wire_diameter=1mm", "travel=5mm/s",
                 "process=135", "start=20C", *book)  # fmt: skip
    assert logged.code == 0, logged.err
    shown = ask("bead", "N1-01", *book)
    assert "it means: heat input 0.432 kJ/mm" in shown.out and "deposited area" in shown.out
    found = figures(ask("weld", "--bead", "N1-01", "--book", tmp_path / "book", "--json").out)
    assert found["heat_input"]["value"] == pytest.approx(0.432)
