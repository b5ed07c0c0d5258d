"""Rubbish thrown at every command of trials, gas and heat: one sentence, exit code 2, nothing written."""

import json
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "rooms" / "report"))
import example

from etchbook.report import reading_document

from .conftest import Ask

PLAN = ("plan", "new", "--question", "x", "--worth", "0.3", "--arms", "a,b", "--welding", "mechanised")
HEAT = ("--volts", "19V", "--amps", "150A", "--travel", "5mm/s", "--thickness-1", "6mm", "--plate-length", "100mm",
        "--plate-width", "60mm", "--material", "S275", "--joint", "bead", "--start", "20°C",
        "--process", "135")  # fmt: skip
NUMBERS = ("nan", "inf", "-inf", "1e400", "-1", "twelve", "", "1,5", "0x10", "１２")
WHOLE: dict[str, tuple[tuple[str, ...], str]] = {
    "split coldest": (("gas", "split", "--co2", "25"), "--coldest"),
    "split co2": (("gas", "split", "--coldest", "0"), "--co2"),
    "split he": (("gas", "split", "--coldest", "0"), "--he"),
    "split filled": (("gas", "split", "--co2", "25", "--coldest", "0"), "--filled"),
    "split filled at": (("gas", "split", "--co2", "25", "--coldest", "0"), "--filled-at"),
    "mixing filled": (("gas", "mixing", "--co2", "25"), "--filled"),
    "mixing at": (("gas", "mixing", "--o2", "2"), "--at"),
    "mixing day": (("gas", "mixing", "--co2", "25"), "--day"),
    "contents litres": (("gas", "contents", "--co2", "25", "--gauge", "100", "--at", "10"), "--litres"),
    "contents gauge": (("gas", "contents", "--he", "25", "--litres", "50", "--at", "10"), "--gauge"),
    "contents gauge u": (
        ("gas", "contents", "--co2", "25", "--litres", "50", "--gauge", "100", "--at", "10"), "--gauge-u"),
    "flow read": (("gas", "flow", "--co2", "25"), "--read"),
    "flow nozzle": (("gas", "flow", "--o2", "2", "--read", "15"), "--nozzle"),
    "flow wind": (("gas", "flow", "--co2", "25", "--read", "15"), "--wind"),
    "regulator gauge": (("gas", "regulator", "--co2", "25", "--at", "10"), "--gauge"),
    "regulator flow": (("gas", "regulator", "--co2", "25", "--gauge", "100", "--at", "10"), "--flow"),
    "sound tube": (("gas", "sound", "--he", "25"), "--tube"),
    "sound tone": (("gas", "sound", "--co2", "25", "--known", "299"), "--suspect"),
    "sound u": (("gas", "sound", "--co2", "25", "--known", "299", "--suspect", "298"), "--u"),
    "plan worth": (("plan", "new", "--question", "x", "--arms", "a,b"), "--worth"),
    "plan scatter": (PLAN, "--scatter"),
    "plan margin": (PLAN, "--margin"),
    "plan power": (PLAN, "--power"),
    "plan beads": (PLAN, "--beads"),
    "plan sections": (PLAN, "--sections"),
    "size scatter": (("plan", "size"), "--scatter"),
    "size worth": (("plan", "size", "--scatter", "0.2"), "--worth"),
    "size power": (("plan", "size", "--scatter", "0.2"), "--power"),
    "settings centres": (("plan", "settings", "--turn", "volts=17..20", "--turn", "travel=4..7"), "--centres"),
    "heat volts": (("heat", *HEAT), "--volts"),
    "heat travel": (("heat", *HEAT), "--travel"),
    "heat every": (("heat", *HEAT, "--beads", "3"), "--every"),
    "heat beads": (("heat", *HEAT), "--beads"),
    "prior": (("next-check",), "--prior"),
}  # fmt: skip
FINE = {("mixing at", "-1"), ("split coldest", "-1"), ("split filled at", "-1"), ("heat beads", "0x10")}
EMPTY_MEANS_NOTHING = {"heat every", "heat volts", "heat travel"}


def one_sentence(ask: Ask, *words: object) -> str:
    answer = ask(*words)
    assert answer.code == 2, (words, answer)
    assert answer.out == "" and answer.err.count("\n") == 1, (words, answer)
    assert "Traceback" not in answer.err and "Error" not in answer.err and "fault of etchbook" not in answer.err
    return answer.err


@pytest.mark.parametrize("what", WHOLE)
@pytest.mark.parametrize("rubbish", NUMBERS)
def test_numbers_that_are_none(
    ask: Ask, what: str, rubbish: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    words, option = WHOLE[what]
    if (what, rubbish) in FINE or (rubbish == "" and what in EMPTY_MEANS_NOTHING):
        pytest.skip("means something here")
    one_sentence(ask, *words, f"{option}={rubbish}")
    assert not list(tmp_path.iterdir())


@pytest.fixture
def reading(tmp_path: Path) -> Path:
    path = tmp_path / "r.json"
    path.write_text(json.dumps(reading_document(example.reading())), encoding="utf-8")
    return path


FILES = {"empty": b"", "noise": bytes(range(256)), "list": b"[1, 2, 3]", "number": b"17", "deep": b"[" * 100_000,
         "null": b"null", "other": b'{"format": "something else"}', "text": "Schweißnaht".encode("utf-16")}  # fmt: skip


@pytest.mark.parametrize("kind", FILES)
def test_files_that_are_none(ask: Ask, reading: Path, tmp_path: Path, kind: str) -> None:
    bad = {end: tmp_path / f"bad.{end}" for end in ("json", "toml", "csv")}
    for path in bad.values():
        path.write_bytes(FILES[kind])
    (tmp_path / "plan").mkdir()
    (tmp_path / "plan" / "plan.json").write_bytes(FILES[kind])
    (tmp_path / "plan" / "key.sealed.json").write_bytes(FILES[kind])
    turn = ("--turn", "volts=17..20", "--turn", "travel=4..7")
    before = sorted(tmp_path.rglob("*"))
    for words in (
        ("compare", "--a", bad["json"], "--b", reading, "--pdf", tmp_path / "out.pdf", "--html", tmp_path / "out.html"),
        ("compare", "--a", reading, "--b", f"{reading}+{bad['json']}"),
        ("next-check", "--usual", reading, "--odd", bad["json"]),
        ("next-check", "--settings", bad["toml"]),
        ("next-check", "--table", bad["toml"]),
        ("plan", "new", bad["toml"]),
        ("plan", "decide", tmp_path / "plan", "ABC=1.2"),
        ("plan", "fit", bad["csv"], *turn, "--svg", tmp_path / "map.svg"),
        ("plan", "study", bad["csv"]),
    ):
        one_sentence(ask, *words)
    if kind != "empty":  # an empty file of settings says that nothing was logged
        one_sentence(ask, "compare", "--a", reading, "--b", reading, "--settings", bad["toml"])
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize(
    "words",
    [
        ("compare", "--a", "r.json"),
        ("compare", "--a", "r.json", "--b", "nowhere.json"),
        ("compare", "--a", "+", "--b", "r.json"),
        ("compare", "--a", "N1-01", "--b", "N1-02", "--book", "nowhere"),
        ("compare", "--a", "r.json", "--b", "r.json", "--margin", "0"),
        ("compare", "--a", "r.json", "--b", "r.json", "--margin", "nan"),
        ("compare", "--a", "r.json", "--b", "r.json", "--on", "mood"),
        ("compare", "--a", "r.json", "--b", "r.json", "--pdf", "nowhere/x/c.pdf"),
        ("compare", "--a", "r.json", "--b", "r.json", "--plots", "r.json"),
        ("next-check", "amps_differ"),
        ("next-check", "=yes"),
        ("next-check", "amps_differ="),
        ("next-check", "--prior", "stick_out=2"),
        ("next-check", "--usual", "r.json"),
        ("plan", "new", "nowhere.toml"),
        ("plan", "new", "--question", " ", "--worth", "0.3", "--arms", "a,b"),
        (*PLAN, "--kind", "magic"),
        (*PLAN, "--arms", "a,a"),
        (*PLAN, "--response", "mood"),
        (*PLAN, "--covariate", "gas"),
        (*PLAN, "--welding", "robot"),
        (*PLAN, "--out", "r.json"),
        ("plan", "decide", "nowhere", "ABC=1"),
        ("plan", "fit", "nowhere.csv", "--turn", "volts=17..20", "--turn", "travel=4..7"),
        ("plan", "settings", "--turn", "volts=17", "--turn", "travel=4..7"),
        ("plan", "settings", "--turn", "volts=nan..20", "--turn", "travel=4..7"),
        ("plan", "settings", "--turn", "volts=17..20", "--turn", "volts=17..20"),
        ("gas", "flow", "--co2", "25", "--read", "15", "--unit", "furlongs"),
        ("gas", "sound", "--co2", "25", "--known", "0", "--suspect", "0"),
        ("heat", "--volts", "19"),
        ("heat", "--volts", "19 bananas"),
        ("heat", *HEAT, "--point", "here"),
        ("heat", *HEAT, "--point", "nan,0"),
        ("heat", *HEAT, "--material", "cheese"),
        ("heat", *HEAT, "--plot", "r.json"),
    ],
    ids=" ".join,
)
def test_words_that_make_no_sense(
    ask: Ask, reading: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(reading.parent)
    before = sorted(reading.parent.rglob("*"))
    one_sentence(ask, *words)
    assert sorted(reading.parent.rglob("*")) == before
